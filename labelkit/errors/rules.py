"""Refusals of the rules room: a market we do not hold, a broken pack, a day or a fact without law, a figure not lawful.

A broken pack is a fault in our data and not in the producer's season, so those messages name the file and the block
for whoever mends it. All others are written for the producer.
"""

from __future__ import annotations

from labelkit.errors import Refused


class MarketUnknown(Refused):
    """A market labelkit has no pack for."""

    def __init__(self, name: str, near: tuple[str, ...]) -> None:
        hint = f" Near it: {', '.join(near)}." if near else ""
        super().__init__(
            what=f"There is no market “{name}” among the rules labelkit holds.{hint}",
            why="Every legal figure belongs to a place; without the place there is no figure.",
            do="Use a code such as us, us-va, eu, eu-de, uk, ca, au, nz or codex; “labelkit rules” lists them all.",
        )


class MarketUnclear(Refused):
    """A name that fits more than one market."""

    def __init__(self, name: str, fits: tuple[str, ...]) -> None:
        super().__init__(
            what=f"“{name}” can be any of these markets: {', '.join(fits)}.",
            why="Their rules differ, and guessing one would be wrong for the other.",
            do=f"Write the code, for example {fits[0]}.",
        )


class NoRuleInForce(Refused):
    """A value asked for on a day for which no pack holds one."""

    def __init__(self, name: str, market: str, day: str, first: str | None, office: str) -> None:
        held = f"the first one held took effect on {first}" if first else "none is held for any day"
        later = "Choose another day with --day if you meant one. " if first else ""
        super().__init__(
            what=f"labelkit holds no “{name}” for {market} on {day}; {held}.",
            why="Where the law was not read, a figure would be an invention.",
            do=f"{later}Ask {office}.",
        )


class FactMissing(Refused):
    """A rule that depends on something nobody told us."""

    def __init__(self, name: str, market: str, questions: tuple[str, ...]) -> None:
        super().__init__(
            what=f"The {name} in {market} depends on something that was not given: {' '.join(questions)}",
            why="An assumption here would be printed on every jar of the lot.",
            do="Give the missing answer and ask again.",
        )


class RulesOverlap(Refused):
    """Two values that claim to hold at the same time."""

    def __init__(self, name: str, market: str, day: str, files: tuple[str, ...]) -> None:
        super().__init__(
            what=f"Two values of “{name}” hold for {market} on {day}: see {', '.join(files)}.",
            why="Two answers to one legal question are no answer.",
            do="Report this; the pack needs an end date or a condition on one of them.",
        )


class PackBroken(Refused):
    """A pack file that does not keep to the format; the base of the refusals that say which way."""

    def __init__(self, file: str, what: str, do: str) -> None:
        super().__init__(
            what=f"The rules file {file} is refused: {what}",
            why="A rule that is misread is worse than a rule that is missing, so a broken pack is never half used.",
            do=do,
        )


class PackUnreadable(PackBroken):
    """Not TOML: a syntax fault or a key given twice."""

    def __init__(self, file: str, fault: str) -> None:
        super().__init__(file, f"it is not valid TOML ({fault}).", "Mend the line named above.")


class PackKeyUnknown(PackBroken):
    """A key or kind of block that the format does not know."""

    def __init__(self, file: str, block: str, key: str, near: tuple[str, ...]) -> None:
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        super().__init__(file, f"{block} has an unknown key “{key}”.{hint}", "Use only the keys of the pack format.")


class PackKeyMissing(PackBroken):
    """A key that must be there."""

    def __init__(self, file: str, block: str, key: str) -> None:
        super().__init__(file, f"{block} lacks “{key}”.", f"Add “{key}” to the block.")


class PackValueWrong(PackBroken):
    """A key whose value is of the wrong kind."""

    def __init__(self, file: str, block: str, key: str, value: object, wanted: str) -> None:
        shown = str(value).replace("{", "(").replace("}", ")")
        super().__init__(file, f"{block}: “{key} = {shown}” is not {wanted}.", f"Give {wanted}.")


class PackNameUnknown(PackBroken):
    """A value, fact, element or topic that the glossary does not list."""

    def __init__(self, file: str, kind: str, name: str, near: tuple[str, ...]) -> None:
        hint = f" Near it: {', '.join(f'“{n}”' for n in near)}." if near else ""
        super().__init__(
            file, f"the glossary lists no {kind} “{name}”.{hint}", "Spell it as the glossary does, or add it there."
        )


class PackTopicWrong(PackBroken):
    """A value standing in another topic's file, where nobody would look for it."""

    def __init__(self, file: str, name: str, topic: str) -> None:
        super().__init__(file, f"“{name}” belongs to the topic {topic}.", f"Move the block to {topic}.toml.")


class PackTwice(PackBroken):
    """The same value or rule twice for the same days."""

    def __init__(self, file: str, name: str, since: str) -> None:
        super().__init__(
            file,
            f"“{name}” is given twice for the same conditions and days (the second since {since}).",
            "End the earlier one with “until”, or remove one of them.",
        )


class PackDaysWrong(PackBroken):
    """An end before the beginning."""

    def __init__(self, file: str, block: str, since: str, until: str) -> None:
        super().__init__(
            file,
            f"{block} ends on {until}, not after it begins on {since}.",
            "“since” is its first day, “until” the first day on which it no longer holds.",
        )


class PackCitationWrong(PackBroken):
    """A citation that cannot be followed, or a certainty that does not fit it."""

    def __init__(self, file: str, block: str, fault: str) -> None:
        super().__init__(
            file,
            f"{block} has a citation that cannot stand: {fault}.",
            "Say where it is written, when that was read, and how sure we are.",
        )


class PackStanceMissing(PackBroken):
    """A child that repeats a parent's value without saying why."""

    def __init__(self, file: str, name: str, parent: str) -> None:
        super().__init__(
            file,
            f"“{name}” is also given by {parent}, and this pack does not say what it does to it.",
            'Add against_parent = "tightens" or "replaces", with because = "...".',
        )


class PackParentUnknown(PackBroken):
    """A parent pack that does not exist."""

    def __init__(self, file: str, parent: str) -> None:
        super().__init__(file, f"its parent “{parent}” does not exist.", "Name an existing pack in parents.")


class PackSwitchesNothing(PackBroken):
    """A switch-off of something no parent has."""

    def __init__(self, file: str, what: str) -> None:
        super().__init__(
            file, f"it switches off “{what}”, which no parent pack holds.", "Name a rule or value of a parent exactly."
        )


class TooLightToDeclare(Refused):
    """A weight below what the market's rules for prepacked weights reach."""

    def __init__(self, text: str, market: str, smallest: str, cite: str) -> None:
        super().__init__(
            what=f"{text} is less than {smallest}, the least that {market} has declared on a prepacked jar ({cite}).",
            why="Below that the rules for declared weights and their tolerances do not reach, so no form of words is lawful.",
            do="Declare a heavier jar, or sell it unpacked. Check your local rules.",
        )


class WeightRoundsToZero(Refused):
    """A weight so small that the figures the law allows round it down to nothing."""

    def __init__(self, text: str, market: str) -> None:
        super().__init__(
            what=f"{text} rounds down to nothing in the figures a label in {market} may show.",
            why="A declared weight may never be rounded up, and a declaration of zero says nothing.",
            do="Check the unit; a jar of honey holds at least some grams.",
        )


class OutsideTolerances(Refused):
    """A declared weight that a market's table of tolerances does not reach."""

    def __init__(self, text: str, market: str, reach: str, cite: str) -> None:
        super().__init__(
            what=f"{text} lies outside the declared weights {market} sets a tolerance for: {reach} ({cite}).",
            why="Outside its table there is no tolerance, and stretching the table would be inventing one.",
            do="Declare a weight inside it, or ask the weights and measures office how such a pack is checked.",
        )


class WordUnknown(Refused):
    """A word given for a fact that has a fixed list of words."""

    def __init__(self, word: str, question: str, words: tuple[str, ...]) -> None:
        super().__init__(
            what=f"“{word}” is not an answer labelkit knows to: {question}",
            why="A word the rules do not know would make them pass over the rule that was meant.",
            do=f"Use one of: {', '.join(words)}.",
        )


class DateNotShortEnough(Refused):
    """A best-before date shortened more than the market allows for how long the honey keeps."""

    def __init__(self, text: str, market: str, months: str, enough: str, cite: str) -> None:
        super().__init__(
            what=f"“{text}” is not enough of a date in {market} for honey that keeps {months} months; {enough} ({cite}).",
            why="The shorter the honey keeps, the more of the date the buyer must be told.",
            do="Give the month, or the whole day, and ask again.",
        )


class DateBeforeBottling(Refused):
    """A best-before date that is over before the jar is filled."""

    def __init__(self, best_before: str, bottled: str) -> None:
        super().__init__(
            what=f"Best before {best_before} is not after the bottling on {bottled}.",
            why="A jar that is past its date when it is filled cannot be sold.",
            do="Check both dates; write them as year-month-day.",
        )


class SharesNotWhole(Refused):
    """Shares of a blend that do not make up the whole of it."""

    def __init__(self, shares: str, total: str) -> None:
        super().__init__(
            what=f"The shares {shares} add up to {total} %, not to 100 %.",
            why="Every kilogram in the jar comes from somewhere; the label has to account for all of it.",
            do="Correct the shares, or add the country that is missing.",
        )


class ShareUnclear(Refused):
    """A share that cannot be read as a country and a percentage."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=f"“{text}” cannot be read as the share of a country: {reason}.",
            why="Which country holds which share is what the statement of origin says.",
            do="Write the two-letter code and the per cent, for example ES=60.",
        )


class CountryUnknown(Refused):
    """A code that is no country of ISO 3166-1."""

    field = "origin"

    def __init__(self, code: str, near: str) -> None:
        self.near = near
        super().__init__(
            what=f"“{code}” is not the two-letter code of a country.{near}",
            why="A country of origin has to be one the buyer can find.",
            do="Use the two-letter code of ISO 3166-1, for example ES for Spain or AR for Argentina.",
        )


class ReadingImpossible(Refused):
    """A reading no instrument gives: a moisture above 100 per cent, a negative colour."""

    def __init__(self, text: str, reading: str, low: str, high: str) -> None:
        super().__init__(
            what=f"“{text}” cannot be a {reading}; it lies between {low} and {high}.",
            why="A slip of the pen here would call honey lawful, or unlawful, that is not.",
            do="Look at the instrument again and type the number it shows.",
        )


class ReviewUnreadable(Refused):
    """A table that is no law review of ours."""

    def __init__(self, missing: list[str]) -> None:
        super().__init__(
            what=f"This is not a law review: the columns {', '.join(missing)} are missing.",
            why="A tick can be given to a rule only when its row says which rule it is.",
            do="Write a new one with “labelkit rules MARKET --review review.csv” and keep its columns.",
        )


class ReviewDoesNotFit(Refused):
    """A reviewed row that is not what the pack says now."""

    def __init__(self, market: str, rule: str, file: str) -> None:
        super().__init__(
            what=f"The row for “{rule}” ({file}) is not what the rules of {market} say now.",
            why="Either the cells were edited or the rules have changed since. A signature holds only for the text that was signed.",
            do=f"Write a new review with “labelkit rules {market} --review review.csv” and have this rule read again.",
        )


class ReviewUnsigned(Refused):
    """A ticked row without a name or a day."""

    def __init__(self, rule: str) -> None:
        super().__init__(
            what=f"The row for “{rule}” is ticked, but has no reviewer or no day.",
            why="A review is worth as much as the person who signs it.",
            do="Fill in the columns reviewer and reviewed_on (such as 2026-11-28) of every ticked row.",
        )
