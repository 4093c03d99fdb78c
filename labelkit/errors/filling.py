"""Refusals of filling day: weights, lots and scales that cannot be as they were typed."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class NoWeights(Refused):
    """A lot test without a single weight."""

    def __init__(self, needed: int) -> None:
        super().__init__(
            what="No weights are given.",
            why=f"A lot is judged by the jars that were weighed; this one asks for {needed}.",
            do=f"Weigh {needed} jars drawn from all over the lot and give --weights FILE, or --weight for each.",
        )


class WeightUnclear(Refused):
    """A weight of the list that cannot be read."""

    def __init__(self, where: str, text: str, reason: str, do: str) -> None:
        super().__init__(
            what=f"{where}: “{text}” is not a weight: {reason}",
            why="One misread jar can pass or fail the whole lot; none of the list was used.",
            do=do,
        )


class WeightsInMixedUnits(Refused):
    """Weights of one list in different units."""

    def __init__(self, first: str, first_unit: str, other: str, other_unit: str) -> None:
        super().__init__(
            what=f"The weights are in mixed units: “{first}” is in {first_unit}, “{other}” in {other_unit}.",
            why="A scale shows one unit; two in one list mean that some jars were typed from another reading.",
            do="Weigh all jars of the test in one unit on one scale, and type what it shows. Which unit is it?",
        )


class WeightFarFromLabel(Refused):
    """A weight that no jar of this label can have."""

    def __init__(self, where: str, weight: str, label: str, guess: str) -> None:
        super().__init__(
            what=f"{where}: {weight} cannot be a jar of {label}.{guess}",
            why="Taken as it stands it would fail the lot for a slip of the keyboard; left out, it could hide an empty jar.",
            do="Look at that jar again: correct the figure, or take the jar out of the lot and say so in the run.",
        )


class UnitUnclear(Refused):
    """Numbers without a unit that fit the label in none."""

    def __init__(self, number: str, label: str) -> None:
        super().__init__(
            what=f"The weights have no unit, and “{number}” fits a jar declared at {label} in none (g, kg, oz, lb).",
            why="labelkit reads bare numbers of a scale only where one unit alone can be meant.",
            do="Write the unit in the heading or behind the numbers; with gross weights give --tare too.",
        )


class TareImpossible(Refused):
    """A tare that no jar can have."""

    def __init__(self, tare: str, reason: str) -> None:
        super().__init__(
            what=Sentence("The tare {tare} cannot be: {reason}.", tare=tare, reason=reason),
            why="The tare is taken off every weight of the lot, so its error is in every jar.",
            do="Weigh an empty jar with its lid, label and seal; at least two of them, five if they differ.",
        )


class MoreWeightsThanJars(Refused):
    """More weights than the lot has jars."""

    def __init__(self, weights: int, lot: int) -> None:
        super().__init__(
            what=f"{weights} weights are given for a lot of {lot} jars.",
            why="Some jars were weighed twice, or belong to another lot, or the lot is larger than said.",
            do="Give each jar once; where the lot is larger, give its real size (--lot-size) or correct the run.",
        )


class LotSizeUnclear(Refused):
    """A lot of no jars."""

    def __init__(self, given: int) -> None:
        super().__init__(
            what=f"A lot of {given} jars cannot be tested.",
            why="The size of the lot decides how many jars are weighed and how the average is judged.",
            do="Give the number of jars filled under one lot code, for example --lot-size 57.",
        )


class LotTestUnknown(Refused):
    """A way of testing that this market does not have."""

    def __init__(self, system: str, market: str, known: str) -> None:
        super().__init__(
            what=f"{market} has no lot test called “{system}” among the rules labelkit holds.",
            why="Each market judges a lot in its own way; a lot passed by another way is not passed.",
            do=f"Use one of: {known}.",
        )


class SpreadUnclear(Refused):
    """A spread or a chance no run can have."""

    def __init__(self, what: str, given: str, example: str) -> None:
        super().__init__(
            what=f"{given} cannot be {what}.",
            why="The fill margin is reckoned from how much your own jars differ; without that it would be a guess.",
            do=f"Give it like {example}.",
        )


class NoPastRuns(Refused):
    """A fill margin without anything to learn from."""

    def __init__(self, jars: int) -> None:
        super().__init__(
            what=f"Past runs hold {jars} weighed jar{'' if jars == 1 else 's'} of this size; at least two of one run are needed.",
            why="The margin follows from how much your own fills differ from jar to jar.",
            do="Weigh some jars of the first filling, or start with a margin of your own and learn from it.",
        )


class MarginFarTooLarge(Refused):
    """A margin that would give a good part of the jar away."""

    def __init__(self, size: str, margin: str, label: str) -> None:
        super().__init__(
            what=f"A margin of {margin} above the {label} of a {size} jar cannot be meant.",
            why="A margin makes up for jars that differ by a gram or two; a tenth of the jar would not fit under its lid.",
            do="Give how far above the fill target to aim, for example 1.5 g, and not the whole weight.",
        )


class WeightsKeptAlready(Refused):
    """A list of check weights that is in the record for the same jars."""

    def __init__(self, count: int, size: str, lot: str, day: str) -> None:
        super().__init__(
            what=f"The same {count} weights of {size}, lot {lot}, were kept on {day} already.",
            why="Kept twice they would count as twice as many jars, and the spread would look better known than it is.",
            do="Give only the jars weighed since; if other jars really read the same in the same order, add one more jar.",
        )


class LotHasNoSuchJars(Refused):
    """Check weights of jars the run never filled."""

    def __init__(self, lot: str, size: str, known: str) -> None:
        super().__init__(
            what=f"Lot {lot} has no {size} jars." if size else f"Lot {lot} has jars of several sizes.",
            why="Each size of a lot is judged by itself, against its own label and by its own number of jars.",
            do=f"Name the size with --size; this lot has {known}.",
        )


class MarketMissing(Refused):
    """A lot to be judged, and nobody has said where it is sold."""

    def __init__(self) -> None:
        super().__init__(
            what="Nobody has said where these jars are sold.",
            why="Each market judges a lot in its own way; without one there is no test to pass.",
            do="Say it with --market, or once for the season: labelkit start --market us.",
        )
