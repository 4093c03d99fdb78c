"""Refusals of the rules room: a market we do not hold, a broken pack, a day or a fact without law, a figure not lawful.

A broken pack is a fault in our data and not in the producer's season, so those messages name the file and the block
for whoever mends it. All others are written for the producer.
"""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class MarketUnknown(Refused):
    """A market labelkit has no pack for."""

    def __init__(self, name: str, near: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence(
                "labelkit has no rules for a market “{name}”. Did you mean {near}?", name=name, near=" or ".join(near)
            )
            if near
            else Sentence("labelkit has no rules for a market “{name}”.", name=name),
            why="Every legal figure depends on the place.",
            do="Use a code such as us, us-va, eu, eu-de, uk, ca, au, nz or codex. To list them all: labelkit rules",
        )


class MarketUnclear(Refused):
    """A name that fits more than one market."""

    def __init__(self, name: str, fits: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence("“{name}” can be any of these markets: {fits}.", name=name, fits=", ".join(fits)),
            why="Their rules differ. A guess would be wrong for one of them.",
            do=Sentence("Write the code, for example {first}.", first=fits[0]),
        )


class NoRuleInForce(Refused):
    """A value asked for on a day for which no pack holds one."""

    def __init__(self, name: str, market: str, day: str, first: str | None, office: str) -> None:
        super().__init__(
            what=Sentence(
                "labelkit has no “{name}” for {market} on {day}. Its first one took effect on {first}.",
                name=name,
                market=market,
                day=day,
                first=first,
            )
            if first
            else Sentence(
                "labelkit has no “{name}” for {market} on {day}, nor on any other day.",
                name=name,
                market=market,
                day=day,
            ),
            why="labelkit does not invent figures for rules it has not read.",
            do=Sentence("If you meant another day, give it with --day. Otherwise ask {office}.", office=office)
            if first
            else Sentence("Ask {office}.", office=office),
        )


class FactMissing(Refused):
    """A rule that depends on something nobody told us."""

    def __init__(self, name: str, market: str, questions: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence(
                "To find the {name} for {market}, labelkit needs an answer: {questions}",
                name=name,
                market=market,
                questions=" ".join(questions),
            ),
            why="labelkit will not assume it: the result prints on every jar of the lot.",
            do="Give the missing answer and try again.",
        )


class RulesOverlap(Refused):
    """Two values that claim to hold at the same time."""

    def __init__(self, name: str, market: str, day: str, files: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence(
                "Two values of “{name}” apply to {market} on {day}: see {files}.",
                name=name,
                market=market,
                day=day,
                files=", ".join(files),
            ),
            why="labelkit cannot choose between two answers to one legal question.",
            do="Report this. The pack needs an end date or a condition on one of them.",
        )


class PackBroken(Refused):
    """A pack file that does not keep to the format; the base of the refusals that say which way."""

    def __init__(self, file: str, what: str, do: str) -> None:
        super().__init__(
            what=Sentence("labelkit refuses the rules file {file}: {what}", file=file, what=what),
            why="A misread rule is worse than a missing one. labelkit never uses part of a broken pack.",
            do=do,
        )


class PackUnreadable(PackBroken):
    """Not TOML: a syntax fault or a key given twice."""

    def __init__(self, file: str, fault: str) -> None:
        super().__init__(
            file, Sentence("it is not valid TOML ({fault}).", fault=fault), "Correct the line named above."
        )


class PackKeyUnknown(PackBroken):
    """A key or kind of block that the format does not know."""

    def __init__(self, file: str, block: str, key: str, near: tuple[str, ...]) -> None:
        super().__init__(
            file,
            Sentence("{block} has an unknown key “{key}”.", block=block, key=key),
            Sentence("Did you mean {near}? Use only the keys of the pack format.", near=" or ".join(near))
            if near
            else "Use only the keys of the pack format.",
        )


class PackKeyMissing(PackBroken):
    """A key that must be there."""

    def __init__(self, file: str, block: str, key: str) -> None:
        super().__init__(
            file,
            Sentence("{block} has no “{key}”.", block=block, key=key),
            Sentence("Add “{key}” to the block.", key=key),
        )


class PackValueWrong(PackBroken):
    """A key whose value is of the wrong kind."""

    def __init__(self, file: str, block: str, key: str, value: object, wanted: str) -> None:
        shown = str(value).replace("{", "(").replace("}", ")")
        super().__init__(
            file,
            Sentence("{block}: “{key} = {shown}” is not {wanted}.", block=block, key=key, shown=shown, wanted=wanted),
            Sentence("Give {wanted}.", wanted=wanted),
        )


class PackNameUnknown(PackBroken):
    """A value, fact, element or topic that the glossary does not list."""

    def __init__(self, file: str, kind: str, name: str, near: tuple[str, ...]) -> None:
        super().__init__(
            file,
            Sentence("the glossary has no {kind} “{name}”.", kind=kind, name=name),
            Sentence(
                "Did you mean {near}? Spell it as the glossary does, or add it there.",
                near=" or ".join(f"“{n}”" for n in near),
            )
            if near
            else "Spell it as the glossary does, or add it there.",
        )


class PackTopicWrong(PackBroken):
    """A value standing in another topic's file, where nobody would look for it."""

    def __init__(self, file: str, name: str, topic: str) -> None:
        super().__init__(
            file,
            Sentence("“{name}” belongs to the topic {topic}.", name=name, topic=topic),
            Sentence("Move the block to {topic}.toml.", topic=topic),
        )


class PackTwice(PackBroken):
    """The same value or rule twice for the same days."""

    def __init__(self, file: str, name: str, since: str) -> None:
        super().__init__(
            file,
            Sentence(
                "“{name}” is given twice for the same conditions and days (the second since {since}).",
                name=name,
                since=since,
            ),
            "End the earlier one with “until”, or remove one of them.",
        )


class PackDaysWrong(PackBroken):
    """An end before the beginning."""

    def __init__(self, file: str, block: str, since: str, until: str) -> None:
        super().__init__(
            file,
            Sentence("{block} ends on {until}, not after it begins on {since}.", block=block, until=until, since=since),
            "“since” is its first day. “until” is the first day on which it no longer applies.",
        )


class PackCitationWrong(PackBroken):
    """A citation that cannot be followed, or a certainty that does not fit it."""

    def __init__(self, file: str, block: str, fault: str) -> None:
        super().__init__(
            file,
            Sentence("{block} has an invalid citation: {fault}.", block=block, fault=fault),
            "Give where it is written, when that was read, and how certain it is.",
        )


class PackStanceMissing(PackBroken):
    """A child that repeats a parent's value without saying why."""

    def __init__(self, file: str, name: str, parent: str) -> None:
        super().__init__(
            file,
            Sentence(
                "“{name}” is also given by {parent}, and this pack does not say how the two relate.",
                name=name,
                parent=parent,
            ),
            'Add against_parent = "tightens" or "replaces", with because = "...".',
        )


class PackParentUnknown(PackBroken):
    """A parent pack that does not exist."""

    def __init__(self, file: str, parent: str) -> None:
        super().__init__(
            file, Sentence("its parent “{parent}” does not exist.", parent=parent), "Name an existing pack in parents."
        )


class PackSwitchesNothing(PackBroken):
    """A switch-off of something no parent has."""

    def __init__(self, file: str, what: str) -> None:
        super().__init__(
            file,
            Sentence("it switches off “{what}”, which no parent pack has.", what=what),
            "Name a rule or value of a parent exactly.",
        )


class TooLightToDeclare(Refused):
    """A weight below what the market's rules for prepacked weights reach."""

    def __init__(self, text: str, market: str, smallest: str, cite: str) -> None:
        super().__init__(
            what=Sentence(
                "{text} is less than {smallest}, the minimum {market} allows on a prepacked jar ({cite}).",
                text=text,
                smallest=smallest,
                market=market,
                cite=cite,
            ),
            why="The rules for declared weights and tolerances do not cover less, so no wording is legal.",
            do="Declare a heavier jar, or sell it unpacked. Check your local rules.",
        )


class WeightRoundsToZero(Refused):
    """A weight so small that the figures the law allows round it down to nothing."""

    def __init__(self, text: str, market: str) -> None:
        super().__init__(
            what=Sentence(
                "{text} rounds down to zero in the figures a label in {market} may show.", text=text, market=market
            ),
            why="A declared weight may never be rounded up, and zero declares nothing.",
            do="Check the unit. A jar of honey holds at least some grams.",
        )


class OutsideTolerances(Refused):
    """A declared weight that a market's table of tolerances does not reach."""

    def __init__(self, text: str, market: str, reach: str, cite: str) -> None:
        super().__init__(
            what=Sentence(
                "{text} is outside the declared weights with a tolerance in {market}: {reach} ({cite}).",
                text=text,
                market=market,
                reach=reach,
                cite=cite,
            ),
            why="There is no tolerance outside the table, and labelkit invents none.",
            do="Declare a weight inside the table, or ask the weights and measures office.",
        )


class WordUnknown(Refused):
    """A word given for a fact that has a fixed list of words."""

    def __init__(self, word: str, question: str, words: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence("“{word}” is not an answer labelkit knows to: {question}", word=word, question=question),
            why="With a word they do not know, the rules would miss the one that applies.",
            do=Sentence("Use one of: {words}.", words=", ".join(words)),
        )


class DateNotShortEnough(Refused):
    """A best-before date shortened more than the market allows for how long the honey keeps."""

    def __init__(self, text: str, market: str, months: str, enough: str, cite: str) -> None:
        super().__init__(
            what=Sentence(
                "“{text}” is too short a date in {market} for honey that keeps {months} months: {enough} ({cite}).",
                text=text,
                market=market,
                months=months,
                enough=enough,
                cite=cite,
            ),
            why="The shorter honey keeps, the more of the date you must show.",
            do="Give the month or the whole day, and try again.",
        )


class DateBeforeBottling(Refused):
    """A best-before date that is over before the jar is filled."""

    def __init__(self, best_before: str, bottled: str) -> None:
        super().__init__(
            what=Sentence(
                "Best before {best_before} is not after the bottling on {bottled}.",
                best_before=best_before,
                bottled=bottled,
            ),
            why="You cannot sell a jar that is past its date when it is filled.",
            do="Check both dates. Write them as year-month-day.",
        )


class SharesNotWhole(Refused):
    """Shares of a blend that do not make up the whole of it."""

    def __init__(self, shares: str, total: str) -> None:
        super().__init__(
            what=Sentence("The shares {shares} add up to {total}%, not to 100%.", shares=shares, total=total),
            why="The label must account for all honey in the jar.",
            do="Correct the shares, or add the missing country.",
        )


class ShareUnclear(Refused):
    """A share that cannot be read as a country and a percentage."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not the share of a country: {reason}.", text=text, reason=reason),
            why="The statement of origin names each country with its share.",
            do="Write the two-letter code and the percent, for example ES=60.",
        )


class CountryUnknown(Refused):
    """A code that is no country of ISO 3166-1."""

    field = "origin"

    def __init__(self, code: str, near: str) -> None:
        self.near = near
        super().__init__(
            what=Sentence("“{code}” is not the two-letter code of a country.{near}", code=code, near=near),
            why="The buyer must be able to find the country of origin.",
            do="Use the two-letter code of ISO 3166-1, for example ES for Spain or AR for Argentina.",
        )


class ReadingImpossible(Refused):
    """A reading no instrument gives: a moisture above 100 per cent, a negative colour."""

    def __init__(self, text: str, reading: str, low: str, high: str) -> None:
        super().__init__(
            what=Sentence(
                "“{text}” cannot be a {reading}. The range is {low} to {high}.",
                text=text,
                reading=reading,
                low=low,
                high=high,
            ),
            why="A wrong reading would make legal honey look illegal, or hide honey that is.",
            do="Read the instrument again and type the number it shows.",
        )


class ReviewUnreadable(Refused):
    """A table that is no law review of ours."""

    def __init__(self, missing: list[str]) -> None:
        super().__init__(
            what=Sentence("This is not a law review: the columns {missing} are missing.", missing=", ".join(missing)),
            why="labelkit needs each row to name its rule.",
            do="Write a new review and keep its columns: labelkit rules MARKET --review review.csv",
        )


class ReviewDoesNotFit(Refused):
    """A reviewed row that is not what the pack says now."""

    def __init__(self, market: str, rule: str, file: str) -> None:
        super().__init__(
            what=Sentence(
                "The row for “{rule}” ({file}) differs from the rules of {market}.",
                rule=rule,
                file=file,
                market=market,
            ),
            why="The cells were edited or the rules changed. A signature is valid only for the text that was signed.",
            do=Sentence(
                "Write a new review and have this rule read again: labelkit rules {market} --review review.csv",
                market=market,
            ),
        )


class ReviewUnsigned(Refused):
    """A ticked row without a name or a day."""

    def __init__(self, rule: str) -> None:
        super().__init__(
            what=Sentence("The row for “{rule}” is ticked, but has no reviewer or no day.", rule=rule),
            why="A review needs the person who signs it.",
            do="Fill in the columns reviewer and reviewed_on (such as 2026-11-28) of every ticked row.",
        )
