"""Refusals of the plan room: a jar plan that is asked for the impossible, or asked for unclearly."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence

_NOTHING_PLANNED = (
    "A plan that quietly leaves out what was promised would be found out on filling day; nothing was planned."
)


class NothingToPlan(Refused):
    """No bucket, or no jar, to plan with."""

    def __init__(self, missing: str, left_out: str = "") -> None:
        super().__init__(
            what=f"There is no {missing} to plan with{left_out}.",
            why="A jar plan says which jars are filled from which bucket, so it needs at least one of each.",
            do=f"Add a {missing}, or say that a wet bucket may be planned if you know what becomes of it.",
        )


class NamedTwice(Refused):
    """The same bucket or jar size a second time in one request."""

    def __init__(self, kind: str, name: str) -> None:
        super().__init__(
            what=f"The {kind} “{name}” is in the list twice.",
            why="Two of the same name cannot be told apart on the filling sheet.",
            do=f"Give each {kind} its own name, or take one of the two out.",
        )


class SizeNotHere(Refused):
    """A goal that speaks of a jar size nobody listed."""

    def __init__(self, asked: str, size: str, known: str) -> None:
        super().__init__(
            what=f"{asked} names the jar size “{size}”, which is not in the list.",
            why="The plan can only reckon with jars whose fill and price it knows.",
            do=f"Use one of: {known}.",
        )


class NumberImpossible(Refused):
    """A count or mass of the request that cannot be: a case of no jars, a negative floor, an empty fill."""

    def __init__(self, name: str, field: str, given: str, needed: str) -> None:
        super().__init__(
            what=Sentence(
                "“{name}”: {field} is {given}; {needed}.", name=name, field=field, given=given, needed=needed
            ),
            why="The plan counts whole jars and whole milligrams and takes no figure it cannot mean.",
            do=f"Correct {field} of “{name}”.",
        )


class AtLeastAboveAtMost(Refused):
    """A floor above its own ceiling."""

    def __init__(self, size: str, at_least: int, at_most: int) -> None:
        super().__init__(
            what=f"“{size}”: at least {at_least} and at most {at_most} are asked for, {at_least - at_most} more than allowed.",
            why=_NOTHING_PLANNED,
            do=f"Lower at_least to {at_most} or raise at_most to {at_least}.",
        )


class AtLeastAboveStock(Refused):
    """More jars promised than empty jars at hand."""

    def __init__(self, size: str, needed: int, in_stock: int) -> None:
        super().__init__(
            what=f"“{size}”: {needed} jars are asked for, but only {in_stock} empty ones are at hand: {needed - in_stock} short.",
            why=_NOTHING_PLANNED,
            do=f"Buy {needed - in_stock} more jars, allow the plan to buy them, or promise no more than {in_stock}.",
        )


class CaseDoesNotFit(Refused):
    """No whole number of cases between the floor and the ceiling."""

    def __init__(self, size: str, case: int, needed: int, allowed: int) -> None:
        up = -(-needed // case) * case
        super().__init__(
            what=f"“{size}”: no whole number of cases of {case} lies between {needed} and {allowed} jars; "
            f"the next is {up}, {up - allowed} too many.",
            why=_NOTHING_PLANNED,
            do=f"Allow {up} jars, ask for no more than {allowed // case * case}, or fill single jars.",
        )


class JarFitsNoBucket(Refused):
    """A promised jar that is larger than what any bucket it may be filled from holds."""

    def __init__(self, size: str, needed: int, fill: str, largest: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: {needed} asked for, but one jar takes {fill} and the fullest bucket it may be filled from "
                "holds {largest}: {short} short.",
                size=size,
                needed=needed,
                fill=fill,
                largest=largest,
                short=short,
            ),
            why="A jar is filled from one bucket, so that its lot code leads back to one lot.",
            do="Ask for a smaller jar, or blend buckets first (labelkit blend) so that the blend is the lot.",
        )


class AtLeastAboveHoney(Refused):
    """One size promised more often than the honey makes, even if nothing else were filled."""

    def __init__(self, size: str, needed: int, possible: int, short: str) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: {needed} jars are asked for, but the honey makes at most {possible}, even if nothing else is "
                "filled: {n} short ({short} of honey).",
                size=size,
                needed=needed,
                possible=possible,
                n=needed - possible,
                short=short,
            ),
            why=_NOTHING_PLANNED,
            do=f"Promise no more than {possible}, or bring in more honey.",
        )


class TogetherAboveHoney(Refused):
    """Each size could be met, but not all of them together."""

    def __init__(self, short: str, mass: str, proved: bool) -> None:
        least = "The smallest shortfall" if proved else "The smallest shortfall found"
        super().__init__(
            what=Sentence(
                "The jars asked for cannot all be filled from these buckets. {least}: {short} ({mass} of honey).",
                least=least,
                short=short,
                mass=mass,
            ),
            why=_NOTHING_PLANNED,
            do="Lower at_least on the sizes named, allow what stays in the buckets to be filled, or bring in more honey.",
        )


class KeepTooMuch(Refused):
    """Honey to be kept that no bucket can hold back on its own."""

    def __init__(self, name: str, mass: str, largest: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "{mass} are to be kept for “{name}”, but the fullest bucket holds {largest}: {short} short.",
                mass=mass,
                name=name,
                largest=largest,
                short=short,
            ),
            why="What is kept stays in one bucket, so that it remains one lot.",
            do="Name it in several smaller parts, each of which a bucket can hold.",
        )


class UseFirstImpossible(Refused):
    """Buckets to be used first that the floors and ceilings of the jars do not let be emptied."""

    def __init__(self, buckets: str) -> None:
        super().__init__(
            what=f"{buckets} must be used first, but cannot be emptied while every floor, ceiling and case is kept, "
            "and the floors cannot be met from there alone.",
            why="Other buckets are opened only when those to be used first are empty.",
            do="Raise at_most or the stock of a jar that may be filled from there, or plan without “use first”.",
        )


class PriceRises(Refused):
    """Demand steps whose price goes up."""

    def __init__(self, size: str, before: str, after: str) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: the price steps from {before} up to {after}.", size=size, before=before, after=after
            ),
            why="Steps say what one jar more still brings; if later jars brought more, the plan would sell the last one first.",
            do="List the steps with falling prices and rising counts.",
        )


class MixUnclear(Refused):
    """A wished mix that is no mix."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"The wished mix cannot be used: {reason}.",
            why="The mix says in what proportion the jars are wanted, so it needs at least one size with a share above 0.",
            do="Write each size with its share, for example “one pound” 3, “half pound” 2; only the proportion counts.",
        )


class NoPlanInTime(Refused):
    """The work allowed was used up before any plan was found that keeps every wish."""

    def __init__(self, patience: int) -> None:
        super().__init__(
            what=f"No plan that keeps every floor, ceiling and case was found with patience {patience}, "
            "and it is not proved that there is none.",
            why="A plan that breaks one of the wishes would be worse than none; nothing was planned.",
            do=f"Try patience {patience * 4}, or loosen at_least, case or use_first on some sizes or buckets.",
        )


class RecountFailed(Refused):
    """A plan that does not recount. It is never released."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"The plan that was found does not recount: {reason}.",
            why="Every plan is counted again in whole milligrams and coins before it is shown; this one failed and is withheld.",
            do="This is a fault in labelkit, not in your season; please report the season that shows it.",
        )


class NothingToKeep(Refused):
    """A plan without a jar, to be kept."""

    def __init__(self) -> None:
        super().__init__(
            what="The plan fills no jar, so there is nothing to keep.",
            why="A kept plan is what the run sheet, the order list and filling day follow. Nothing was saved.",
            do="Look at what the plan says of each size (labelkit plan --why), and change the limits.",
        )


class FilePlanNotKept(Refused):
    """The plan of a season file, to be kept in the record."""

    def __init__(self, file: str) -> None:
        super().__init__(
            what=f"The plan of {file} cannot be kept: its buckets are in the file and not in the record.",
            why="A kept plan is followed when the buckets of the record are filled. Nothing was saved.",
            do=f"Weigh the buckets in (labelkit weigh --from {file}), set the prices, and plan from the record.",
        )
