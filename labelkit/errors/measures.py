"""Refusals of the measures room: a quantity that cannot be understood, or must not be."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class UnitMissing(Refused):
    """A bare number where a quantity is needed."""

    def __init__(self, text: str, wanted: str, example: str) -> None:
        super().__init__(
            what=Sentence("“{text}” has no unit.", text=text, wanted=wanted),
            why="The same number is a different jar in grams, ounces or pounds.",
            do=Sentence("Write the unit after the number, for example “{example}”.", example=example),
        )


class UnitUnknown(Refused):
    """A unit that labelkit does not know."""

    def __init__(self, text: str, unit: str, wanted: str, known: str) -> None:
        super().__init__(
            what=Sentence(
                "“{unit}” in “{text}” is not a unit of {wanted} that labelkit knows.",
                unit=unit,
                text=text,
                wanted=wanted,
            ),
            why="A misread unit would put a wrong figure on every jar of the lot.",
            do=Sentence("Use one of: {known}.", known=known),
        )


class WrongKindOfUnit(Refused):
    """A unit of another kind: fluid ounces for a weight, pounds for a length."""

    def __init__(self, text: str, unit: str, kind: str, wanted: str, hint: str) -> None:
        article = "an" if wanted[0] in "aeiou" else "a"
        super().__init__(
            what=Sentence(
                "“{text}” is in {unit}, a unit of {kind}. You need {article} {wanted}.",
                text=text,
                unit=unit,
                kind=kind,
                article=article,
                wanted=wanted,
            ),
            why=hint,
            do=Sentence("Give the {wanted} instead of the {kind}.", wanted=wanted, kind=kind),
        )


class UnitsMixed(Refused):
    """Metric and customary weights in one quantity: a label's two figures, or a sum nobody weighs."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=Sentence("“{text}” gives a metric and a customary weight.", text=text),
            why="Give one weight. labelkit converts it to the other system.",
            do="Give the one you mean, such as “1 lb” or “454 g”.",
        )


class NumberUnclear(Refused):
    """Digits that cannot be read as one number in the user's way of writing numbers."""

    def __init__(self, text: str, number: str, locale: str, do: str) -> None:
        super().__init__(
            what=Sentence(
                "“{number}” in “{text}” is not a number in {locale}.",
                number=number,
                text=text,
                locale=locale,
            ),
            why="A misread decimal mark makes the value ten or a thousand times too large or small.",
            do=do,
        )


def _begun(text: str, most: int = 40) -> str:
    """Typed text for a message: how it begins, where a thousand signs of it would hide the message."""
    return text if len(text) <= most else f"{text[:most]}…"


class NumberOutOfReach(Refused):
    """A number that is finite nowhere near a honey house: NaN, infinity, 1e400."""

    def __init__(self, text: str, number: str) -> None:
        super().__init__(
            what=Sentence(
                "“{number}” in “{text}” is not a number a scale, ruler or till can show.",
                number=_begun(number),
                text=_begun(text),
            ),
            why="labelkit uses whole milligrams and whole cents. It reads plain digits only.",
            do="Write the number in digits, for example “28.4”.",
        )


class NotPositive(Refused):
    """Zero or less where something must be there."""

    def __init__(self, text: str, wanted: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not more than zero, so it cannot be a {wanted}.", text=text, wanted=wanted),
            why="A zero or negative amount would make the season's balance wrong.",
            do=Sentence("Read it again and give a {wanted} above zero.", wanted=wanted),
        )


class MoneyUnclear(Refused):
    """An amount of money that cannot be read exactly in its currency."""

    def __init__(self, text: str, currency: str, reason: str, example: str) -> None:
        super().__init__(
            what=Sentence(
                "“{text}” is not an amount in {currency}: {reason}.",
                text=text,
                currency=currency,
                reason=reason,
            ),
            why="labelkit keeps money in whole cents so that the season adds up.",
            do=Sentence("Write it like “{example}”.", example=example),
        )


class CurrencyUnknown(Refused):
    """A currency code that does not exist."""

    def __init__(self, code: str, near: str) -> None:
        super().__init__(
            what=Sentence("“{code}” is not a currency code.", code=code),
            why="The currency sets how many decimals an amount has and how it prints.",
            do=Sentence("Use the three-letter code of ISO 4217{near}.", near=near),
        )


class CurrenciesMixed(Refused):
    """Two currencies in one sum."""

    def __init__(self, one: str, other: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot add an amount in {one} to an amount in {other}.", one=one, other=other),
            why="labelkit has no exchange rates.",
            do="Give all prices and costs of one season in one currency.",
        )


class DayUnclear(Refused):
    """A day that is not a calendar day."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not a day of the calendar.", text=text),
            why="The day decides which rule is in force and which lot a jar belongs to.",
            do="Write the day as year-month-day, for example 2026-07-14.",
        )


class YearOutOfReach(Refused):
    """A day of the calendar in a year nothing of this happens in."""

    def __init__(self, day: str, first: int, last: int) -> None:
        super().__init__(
            what=Sentence("{day} is outside the years {first} to {last}.", day=day, first=first, last=last),
            why="A wrong year gives a wrong lot code, a wrong date mark or a wrong rule.",
            do="Write the year with four digits, for example 2026-07-14.",
        )


class CountUnclear(Refused):
    """A count that is no whole number, or fewer than can be meant."""

    def __init__(self, text: str, least: int) -> None:
        super().__init__(
            what=Sentence("“{text}” is not a count above zero.", text=text)
            if least
            else Sentence("“{text}” is not a count.", text=text),
            why="You can fill, sell or trace only whole jars.",
            do="Give a whole number above zero, for example 12." if least else "Give a whole number, for example 12.",
        )


class LocaleUnknown(Refused):
    """A locale babel has no data for."""

    def __init__(self, name: str) -> None:
        super().__init__(
            what=Sentence("“{name}” is not a locale labelkit can write numbers for.", name=name),
            why="The locale decides whether 12,7 is twelve point seven or one hundred and twenty-seven.",
            do="Use a language and country such as en_US, en_GB, de_DE, fr_CA or pl_PL.",
        )
