"""Refusals of the measures room: a quantity that cannot be understood, or must not be."""

from __future__ import annotations

from labelkit.errors import Refused


class UnitMissing(Refused):
    """A bare number where a quantity is needed."""

    def __init__(self, text: str, wanted: str, example: str) -> None:
        super().__init__(
            what=f"“{text}” has a number without a unit, so it is not yet a {wanted}.",
            why="The same number is a different jar in grams, ounces or pounds; guessing one would be wrong sooner or later.",
            do=f"Write the unit after the number, for example “{example}”.",
        )


class UnitUnknown(Refused):
    """A unit that labelkit does not know."""

    def __init__(self, text: str, unit: str, wanted: str, known: str) -> None:
        super().__init__(
            what=f"“{unit}” in “{text}” is not a unit of {wanted} that labelkit knows.",
            why="A misread unit would put a wrong figure on every jar of the lot.",
            do=f"Use one of: {known}.",
        )


class WrongKindOfUnit(Refused):
    """A unit of another kind: fluid ounces for a weight, pounds for a length."""

    def __init__(self, text: str, unit: str, kind: str, wanted: str, hint: str) -> None:
        article = "an" if wanted[0] in "aeiou" else "a"
        super().__init__(
            what=f"“{text}” is in {unit}, a unit of {kind}; {article} {wanted} is needed here.",
            why=hint,
            do=f"Give the {wanted} instead of the {kind}.",
        )


class UnitsMixed(Refused):
    """Metric and customary weights in one quantity: a label's two figures, or a sum nobody weighs."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=f"“{text}” gives a metric weight and a customary one.",
            why="Added together they would make twice the jar; as two ways of saying one weight only one of them is asked for.",
            do="Give the one you mean, such as “1 lb” or “454 g”; labelkit reckons the other.",
        )


class NumberUnclear(Refused):
    """Digits that cannot be read as one number in the user's way of writing numbers."""

    def __init__(self, text: str, number: str, locale: str, do: str) -> None:
        super().__init__(
            what=f"“{number}” in “{text}” cannot be read as a number (numbers are read the way {locale} writes them).",
            why="A misread decimal mark is a factor of ten or a thousand.",
            do=do,
        )


class NumberOutOfReach(Refused):
    """A number that is finite nowhere near a honey house: NaN, infinity, 1e400."""

    def __init__(self, text: str, number: str) -> None:
        super().__init__(
            what=f"“{number}” in “{text}” is not a number a scale, ruler or till can show.",
            why="labelkit reckons with whole milligrams and whole cents, so it takes plain digits only.",
            do="Write the number out in digits, for example “28.4”.",
        )


class NotPositive(Refused):
    """Zero or less where something must be there."""

    def __init__(self, text: str, wanted: str) -> None:
        super().__init__(
            what=f"“{text}” is not more than zero, so it cannot be a {wanted}.",
            why="An empty or negative quantity would make the balance of the season wrong from here on.",
            do=f"Look at the reading again and give a {wanted} above zero.",
        )


class MoneyUnclear(Refused):
    """An amount of money that cannot be read exactly in its currency."""

    def __init__(self, text: str, currency: str, reason: str, example: str) -> None:
        super().__init__(
            what=f"“{text}” cannot be read as an amount in {currency}: {reason}.",
            why="Money is kept in whole coins so that the season adds up to the cent.",
            do=f"Write it like “{example}”.",
        )


class CurrencyUnknown(Refused):
    """A currency code that does not exist."""

    def __init__(self, code: str, near: str) -> None:
        super().__init__(
            what=f"“{code}” is not a currency code.",
            why="The currency decides how many decimals an amount has and how it is printed.",
            do=f"Use the three-letter code of ISO 4217{near}.",
        )


class CurrenciesMixed(Refused):
    """Two currencies in one sum."""

    def __init__(self, one: str, other: str) -> None:
        super().__init__(
            what=f"An amount in {one} and an amount in {other} cannot be added.",
            why="labelkit does not know exchange rates and will not invent one.",
            do="Give all prices and costs of one season in one currency.",
        )


class DayUnclear(Refused):
    """A day that is not a calendar day."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=f"“{text}” is not a day of the calendar.",
            why="Which day it is decides which rule was in force and which lot a jar belongs to.",
            do="Write the day as year-month-day, for example 2026-07-14.",
        )


class YearOutOfReach(Refused):
    """A day of the calendar in a year nothing of this happens in."""

    def __init__(self, day: str, first: int, last: int) -> None:
        super().__init__(
            what=f"{day} lies outside the years {first} to {last}.",
            why="A slip in the year gives a lot code, a date mark or a rule of another age.",
            do="Write the year with its four digits, for example 2026-07-14.",
        )


class CountUnclear(Refused):
    """A count that is no whole number, or fewer than can be meant."""

    def __init__(self, text: str, least: int) -> None:
        super().__init__(
            what=f"“{text}” is not a count{' above zero' if least else ''}.",
            why="Things are counted whole; half a jar cannot be filled, sold or traced.",
            do=f"Give a whole number{' above zero' if least else ''}, for example 12.",
        )


class LocaleUnknown(Refused):
    """A locale babel has no data for."""

    def __init__(self, name: str) -> None:
        super().__init__(
            what=f"“{name}” is not a locale labelkit can write numbers for.",
            why="The locale decides whether 12,7 means twelve point seven or one hundred and twenty-seven.",
            do="Use a language and country such as en_US, en_GB, de_DE, fr_CA or pl_PL.",
        )
