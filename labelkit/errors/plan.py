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
            what=Sentence("There is no {missing} to plan with{left_out}.", missing=missing, left_out=left_out),
            why="A plan decides which jars you fill from which bucket. It needs at least one of each.",
            do=Sentence(
                "Add a {missing}. You can also allow a wet bucket in the plan if you know how you will use it.",
                missing=missing,
            ),
        )


class NamedTwice(Refused):
    """The same bucket or jar size a second time in one request."""

    def __init__(self, kind: str, name: str) -> None:
        super().__init__(
            what=Sentence("The {kind} “{name}” is in the list twice.", kind=kind, name=name),
            why="Two items with the same name look the same on the filling sheet.",
            do=Sentence("Give each {kind} its own name, or remove one of the two.", kind=kind),
        )


class SizeNotHere(Refused):
    """A goal that speaks of a jar size nobody listed."""

    def __init__(self, asked: str, size: str, known: str) -> None:
        super().__init__(
            what=Sentence("{asked} names the jar size “{size}”, which is not in the list.", asked=asked, size=size),
            why="The plan knows the fill and the price only of the sizes in the list.",
            do=Sentence("Use one of: {known}.", known=known),
        )


class NumberImpossible(Refused):
    """A count or mass of the request that cannot be: a case of no jars, a negative floor, an empty fill."""

    def __init__(self, name: str, field: str, given: str, needed: str) -> None:
        super().__init__(
            what=Sentence(
                "“{name}”: {field} is {given}. It must be {needed}.", name=name, field=field, given=given, needed=needed
            ),
            why="The plan counts whole jars and whole milligrams.",
            do=Sentence("Correct {field} of “{name}”.", field=field, name=name),
        )


class AtLeastAboveAtMost(Refused):
    """A floor above its own ceiling."""

    def __init__(self, size: str, at_least: int, at_most: int) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: the minimum is {at_least} and the maximum {at_most}, {too_many} lower.",
                size=size,
                at_least=at_least,
                at_most=at_most,
                too_many=at_least - at_most,
            ),
            why=_NOTHING_PLANNED,
            do=Sentence(
                "Lower at_least to {at_most}, or raise at_most to {at_least}.", at_most=at_most, at_least=at_least
            ),
        )


class AtLeastAboveStock(Refused):
    """More jars promised than empty jars at hand."""

    def __init__(self, size: str, needed: int, in_stock: int) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: you want {needed} jars but have only {in_stock} empty ones, {short} short.",
                size=size,
                needed=needed,
                in_stock=in_stock,
                short=needed - in_stock,
            ),
            why=_NOTHING_PLANNED,
            do=Sentence(
                "Buy {short} more jars, allow the plan to buy them, or ask for at most {in_stock}.",
                short=needed - in_stock,
                in_stock=in_stock,
            ),
        )


class CaseDoesNotFit(Refused):
    """No whole number of cases between the floor and the ceiling."""

    def __init__(self, size: str, case: int, needed: int, allowed: int) -> None:
        up = -(-needed // case) * case
        super().__init__(
            what=Sentence(
                "“{size}”: no whole number of cases of {case} lies between {needed} and {allowed} jars. The next is {up}, {over} too many.",
                size=size,
                case=case,
                needed=needed,
                allowed=allowed,
                up=up,
                over=up - allowed,
            ),
            why=_NOTHING_PLANNED,
            do=Sentence(
                "Allow {up} jars, ask for at most {fits}, or fill single jars.", up=up, fits=allowed // case * case
            ),
        )


class JarFitsNoBucket(Refused):
    """A promised jar that is larger than what any bucket it may be filled from holds."""

    def __init__(self, size: str, needed: int, fill: str, largest: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: you want {needed}, but one jar needs {fill} and the fullest bucket allowed has {largest}, {short} short.",
                size=size,
                needed=needed,
                fill=fill,
                largest=largest,
                short=short,
            ),
            why="Each jar is filled from one bucket, so that its lot code leads back to one lot.",
            do="Ask for a smaller jar. Or blend buckets first (labelkit blend), so that the blend is the lot.",
        )


class AtLeastAboveHoney(Refused):
    """One size promised more often than the honey makes, even if nothing else were filled."""

    def __init__(self, size: str, needed: int, possible: int, short: str) -> None:
        super().__init__(
            what=Sentence(
                "“{size}”: you want {needed} jars, but all your honey makes at most {possible}. You are {n} short ({short} of honey).",
                size=size,
                needed=needed,
                possible=possible,
                n=needed - possible,
                short=short,
            ),
            why=_NOTHING_PLANNED,
            do=Sentence("Ask for at most {possible}, or bring in more honey.", possible=possible),
        )


class TogetherAboveHoney(Refused):
    """Each size could be met, but not all of them together."""

    def __init__(self, short: str, mass: str, proved: bool) -> None:
        least = "The smallest shortfall" if proved else "The smallest shortfall found"
        super().__init__(
            what=Sentence(
                "These buckets cannot fill all the jars you want. {least}: {short} ({mass} of honey).",
                least=least,
                short=short,
                mass=mass,
            ),
            why=_NOTHING_PLANNED,
            do="Lower at_least on the sizes named, allow the honey kept in buckets to be filled, or bring in more honey.",
        )


class KeepTooMuch(Refused):
    """Honey to be kept that no bucket can hold back on its own."""

    def __init__(self, name: str, mass: str, largest: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "You want to keep {mass} for “{name}”, but the fullest bucket has {largest}, {short} short.",
                mass=mass,
                name=name,
                largest=largest,
                short=short,
            ),
            why="What you keep back stays in one bucket, so that it remains one lot.",
            do="Name it in several smaller parts that each fit in a bucket.",
        )


class UseFirstImpossible(Refused):
    """Buckets to be used first that the floors and ceilings of the jars do not let be emptied."""

    def __init__(self, buckets: str) -> None:
        super().__init__(
            what=Sentence(
                "The plan cannot empty {buckets} first within every minimum, maximum and case.",
                buckets=buckets,
            ),
            why="labelkit opens other buckets only when the ones to use first are empty.",
            do="Raise at_most or the stock of a jar that may be filled from there, or plan without “use first”.",
        )


class PriceRises(Refused):
    """Demand steps whose price goes up."""

    def __init__(self, size: str, before: str, after: str) -> None:
        super().__init__(
            what=Sentence("“{size}”: the price rises from {before} to {after}.", size=size, before=before, after=after),
            why="Each step is the price of further jars. With rising prices the plan would sell the last jar first.",
            do="List the steps with falling prices and rising counts.",
        )


class MixUnclear(Refused):
    """A wished mix that is no mix."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("The mix cannot be used: {reason}.", reason=reason),
            why="A mix sets the proportion of the jar sizes. It needs at least one size with a share above 0.",
            do="Write each size with its share, for example “one pound” 3, “half pound” 2. Only the proportion counts.",
        )


class NoPlanInTime(Refused):
    """The work allowed was used up before any plan was found that keeps every wish."""

    def __init__(self, patience: int) -> None:
        super().__init__(
            what=Sentence(
                "No plan that meets every limit was found with --patience {patience}. One may still exist.",
                patience=patience,
            ),
            why="A plan that breaks a limit would be worse than none. Nothing was planned.",
            do=Sentence(
                "Try --patience {more}, or relax at_least, case or use_first for some sizes or buckets.",
                more=patience * 4,
            ),
        )


class RecountFailed(Refused):
    """A plan that does not recount. It is never released."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("The plan does not pass its check: {reason}.", reason=reason),
            why="labelkit checks every plan in whole milligrams and cents. This one failed and is not shown.",
            do="This is a fault in labelkit, not in your season. Please report the season that shows it.",
        )


class NothingToKeep(Refused):
    """A plan without a jar, to be kept."""

    def __init__(self) -> None:
        super().__init__(
            what="The plan fills no jar, so there is nothing to keep.",
            why="The run sheet, the order list and filling day follow a kept plan. Nothing was saved.",
            do="See why each size is not filled (labelkit plan --why), and change the limits.",
        )


class FilePlanNotKept(Refused):
    """The plan of a season file, to be kept in the record."""

    def __init__(self, file: str) -> None:
        super().__init__(
            what=Sentence("The plan of {file} cannot be kept, because its buckets are not in the record.", file=file),
            why="You follow a kept plan when you fill the buckets of the record. Nothing was saved.",
            do=Sentence(
                "Weigh the buckets in (labelkit weigh --from {file}), set the prices, and plan from the record.",
                file=file,
            ),
        )
