"""Refusals of filling day: weights, lots and scales that cannot be as they were typed."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class NoWeights(Refused):
    """A lot test without a single weight."""

    def __init__(self, needed: int) -> None:
        super().__init__(
            what="You gave no weights.",
            why=Sentence("labelkit judges a lot by the jars you weighed. This lot needs {needed}.", needed=needed),
            do=Sentence(
                "Weigh {needed} jars taken from all over the lot. Give --weights FILE, or --weight for each jar.",
                needed=needed,
            ),
        )


class WeightUnclear(Refused):
    """A weight of the list that cannot be read."""

    def __init__(self, where: str, text: str, reason: str, do: str) -> None:
        super().__init__(
            what=Sentence("{where}: “{text}” is not a weight: {reason}", where=where, text=text, reason=reason),
            why="One misread jar can pass or fail the whole lot. Nothing of the list was used.",
            do=do,
        )


class WeightsInMixedUnits(Refused):
    """Weights of one list in different units."""

    def __init__(self, first: str, first_unit: str, other: str, other_unit: str) -> None:
        super().__init__(
            what=Sentence(
                "The weights are in mixed units: “{first}” is in {first_unit}, “{other}” in {other_unit}.",
                first=first,
                first_unit=first_unit,
                other=other,
                other_unit=other_unit,
            ),
            why="A scale shows one unit. Two units mean that some weights come from another reading.",
            do="Weigh all jars of the test on one scale in one unit, and type what it shows.",
        )


class WeightFarFromLabel(Refused):
    """A weight that no jar of this label can have."""

    def __init__(self, where: str, weight: str, label: str, guess: str) -> None:
        super().__init__(
            what=Sentence(
                "{where}: {weight} is too far from the declared weight of {label}.{guess}",
                where=where,
                weight=weight,
                label=label,
                guess=guess,
            ),
            why="This weight would fail the lot because of a typing error, or hide an empty jar.",
            do="Weigh that jar again. Correct the weight, or take the jar out of the lot and out of the run.",
        )


class UnitUnclear(Refused):
    """Numbers without a unit that fit the label in none."""

    def __init__(self, number: str, label: str) -> None:
        super().__init__(
            what=Sentence(
                "The weights have no unit. “{number}” does not match {label} in g, kg, oz or lb.",
                number=number,
                label=label,
            ),
            why="labelkit fills in a missing unit only when exactly one unit fits.",
            do="Write the unit in the heading or after the numbers. For gross weights give --tare too.",
        )


class TareImpossible(Refused):
    """A tare that no jar can have."""

    def __init__(self, tare: str, reason: str) -> None:
        super().__init__(
            what=Sentence("The tare {tare} is not possible: {reason}.", tare=tare, reason=reason),
            why="labelkit subtracts the tare from every weight of the lot, so its error is in every jar.",
            do="Weigh at least two empty jars with lid, label and seal. Weigh five if they differ.",
        )


class MoreWeightsThanJars(Refused):
    """More weights than the lot has jars."""

    def __init__(self, weights: int, lot: int) -> None:
        super().__init__(
            what=Sentence("You gave {weights} weights for a lot of {lot} jars.", weights=weights, lot=lot),
            why="You weighed some jars twice, or they belong to another lot, or the lot is larger.",
            do="Give each jar once. If the lot is larger, give its size (--lot-size) or correct the run.",
        )


class LotSizeUnclear(Refused):
    """A lot of no jars."""

    def __init__(self, given: int) -> None:
        super().__init__(
            what=Sentence("labelkit cannot test a lot of {given} jars.", given=given),
            why="The lot size decides how many jars you weigh and how the average is judged.",
            do="Give the number of jars with one lot code, for example --lot-size 57.",
        )


class LotTestUnknown(Refused):
    """A way of testing that this market does not have."""

    def __init__(self, system: str, market: str, known: str) -> None:
        super().__init__(
            what=Sentence(
                "{market} has no lot test “{system}” in the rules labelkit covers.",
                market=market,
                system=system,
            ),
            why="Each market judges a lot in its own way. A pass under another test does not count.",
            do=Sentence("Use one of: {known}.", known=known),
        )


class SpreadUnclear(Refused):
    """A spread or a chance no run can have."""

    def __init__(self, what: str, given: str, example: str) -> None:
        super().__init__(
            what=Sentence("{given} cannot be {what}.", given=given, what=what),
            why="labelkit calculates the fill margin from the spread of your own jars.",
            do=Sentence("Give a value like {example}.", example=example),
        )


class NoPastRuns(Refused):
    """A fill margin without anything to learn from."""

    def __init__(self, jars: int) -> None:
        super().__init__(
            what=Sentence.plural(
                "Your past runs have {n} weighed jar of this size. You need at least two of one run.",
                "Your past runs have {n} weighed jars of this size. You need at least two of one run.",
                jars,
            ),
            why="labelkit calculates the margin from the spread of your own fills.",
            do="Weigh some jars of the first filling, or start with a margin you choose.",
        )


class MarginFarTooLarge(Refused):
    """A margin that would give a good part of the jar away."""

    def __init__(self, size: str, margin: str, label: str) -> None:
        super().__init__(
            what=Sentence(
                "A fill margin of {margin} is too large for a {size} jar ({label}).",
                margin=margin,
                label=label,
                size=size,
            ),
            why="A margin covers jars that differ by a gram or two. A tenth of the jar does not fit under the lid.",
            do="Give only the amount above the fill target, for example 1.5 g.",
        )


class WeightsKeptAlready(Refused):
    """A list of check weights that is in the record for the same jars."""

    def __init__(self, count: int, size: str, lot: str, day: str) -> None:
        super().__init__(
            what=Sentence(
                "The same {count} weights of {size}, lot {lot}, were saved on {day}.",
                count=count,
                size=size,
                lot=lot,
                day=day,
            ),
            why="Saved twice, they would count as twice as many jars and make the spread look too certain.",
            do="Give only the jars weighed since then. If other jars gave the same weights, add one more jar.",
        )


class LotHasNoSuchJars(Refused):
    """Check weights of jars the run never filled."""

    def __init__(self, lot: str, size: str, known: str) -> None:
        super().__init__(
            what=Sentence("Lot {lot} has no {size} jars.", lot=lot, size=size)
            if size
            else Sentence("Lot {lot} has jars of several sizes.", lot=lot),
            why="labelkit judges each size of a lot against its own label and number of jars.",
            do=Sentence("Name the size with --size. This lot has {known}.", known=known),
        )


class MarketMissing(Refused):
    """A lot to be judged, and nobody has said where it is sold."""

    def __init__(self) -> None:
        super().__init__(
            what="You have not set a market for these jars.",
            why="Each market judges a lot in its own way. Without a market there is no test.",
            do="Give --market, or set it once for the season: labelkit start --market us",
        )
