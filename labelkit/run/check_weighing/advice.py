"""What to do about a lot: which jars to top up or set aside, how much the lot lacks, and which label it would bear."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures import Mass, show_both
from labelkit.measures.division import GRAM, Division
from labelkit.measures.rounding import DOWN, UP, to_step
from labelkit.run.check_weighing.judge import PASS, Verdict, judge
from labelkit.run.check_weighing.lot_test import LotTest

_GRAM = Decimal(1)
_LOWEST_SHARE = Decimal("0.8")  # a label further down is another jar size, not a relabelling


@dataclass(frozen=True, slots=True)
class JarAdvice:
    """One short jar: its place, what it holds, how much it lacks of the label, and what to do with it."""

    place: int
    holds: Mass
    lacks: Mass
    kind: str  # "not for sale" or "short"
    do: str


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do with the jars, with the lot, and the largest whole-gram label the weighed jars would bear."""

    jars: tuple[JarAdvice, ...]
    lot: tuple[str, ...]
    relabel: Mass | None


def advise(
    verdict: Verdict,
    retest: Callable[[Mass], LotTest] | None = None,
    scale: Division = GRAM,
    *,
    locale: str,
) -> Advice:
    """Advice on a verdict, in the unit of the scale; ``retest`` gives the terms for another label, to relabel to.

    >>> from labelkit.run.check_weighing.law import minimum
    >>> from labelkit.run.check_weighing.sample import Sample
    >>> jars = Sample((Mass.of_grams("341"), Mass.of_grams("338.5")))
    >>> found = advise(judge(jars, minimum("uk", Mass.of_grams(340), 2)), locale="en_US")
    >>> found.jars[0].do
    'Top up by 1.5 g.'
    """
    jars = tuple(_jar(verdict, place, locale, scale) for place in verdict.short)
    relabel = _relabel(verdict, retest) if verdict.verdict != PASS and retest else None
    return Advice(jars, tuple(_lot(verdict, relabel, locale, scale)), relabel)


def _jar(verdict: Verdict, place: int, locale: str, scale: Division) -> JarAdvice:
    holds = verdict.sample.at(place)
    lacks = Mass.of_grams(verdict.test.label) - holds
    top_up = f"Top up by {scale.show(lacks, locale, UP)}"
    if place in verdict.deep:
        do = f"{top_up}, or set it aside: it may not be sold at this label."
        return JarAdvice(place, holds, lacks, "not for sale", do)
    return JarAdvice(place, holds, lacks, "short", f"{top_up}.")


def _lot(verdict: Verdict, relabel: Mass | None, locale: str, scale: Division) -> list[str]:
    test, said = verdict.test, []
    if verdict.more:
        said.append(
            f"Weigh {verdict.more} more jar{'' if verdict.more == 1 else 's'}, drawn from all over the lot, not only from one crate."
        )
    if verdict.mean_holds is False:
        lack = Mass.of_grams(to_step(test.label - verdict.sample.mean, Decimal("0.1"), UP))
        below = len(verdict.sample.below(test.label))
        said.append(
            f"Top up: {below} of the {len(verdict.sample)} jars weighed hold less than the label; on average "
            f"{scale.show(lack, locale, UP)} a jar is missing, about {scale.show(lack * test.lot, locale)} in the lot of {test.lot}."
        )
    if verdict.short and verdict.verdict != PASS and len(verdict.sample) < test.lot:
        said.append("Sort: weigh every jar of the lot and top up the short ones; then test again.")
    if relabel is not None:
        said.append(
            f"Or relabel: the jars weighed would bear {show_both(relabel, locale) if scale.customary else scale.show(relabel, locale)}."
        )
    if verdict.verdict == PASS and verdict.average_error < 0:
        said.append("The lot passes though its jars hold less than the label on average: aim higher next time.")
    return said


def _relabel(verdict: Verdict, retest: Callable[[Mass], LotTest]) -> Mass | None:
    """The largest whole-gram label at which the same weights pass and hold it on average."""
    grams = int(to_step(min(verdict.sample.mean, verdict.test.label), _GRAM, DOWN))
    lowest = int(verdict.test.label * _LOWEST_SHARE)
    for label in range(grams, lowest, -1):
        mass = Mass.of_grams(label)
        if mass.g < verdict.test.label and judge(verdict.sample, retest(mass)).verdict == PASS:
            return mass
    return None
