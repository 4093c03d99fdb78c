"""Run sheet: what the scale must read for each jar on filling day, by the plan of the day."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from labelkit.errors.filling import MarginFarTooLarge, NoPastRuns
from labelkit.measures import NOTHING, Declared, Mass, Money, show_metric
from labelkit.plan import JarPlan, JarSize, jar_plan
from labelkit.plan.wishes import USUAL_GOAL, FillGoal, Planning, must_know_size, what_if, wished
from labelkit.run.check_weighing.plausible import likely_tare
from labelkit.run.run_sheet import USUAL_DIVISION, RunSheet, Setting
from labelkit.run.run_sheet import run_sheet as reckoned
from labelkit.season.past_fills import tests_of, with_fills

if TYPE_CHECKING:
    from labelkit.rules.market import Market
    from labelkit.run.next_fill import NextFill
    from labelkit.season.plan import PlanBasis


def _nothing() -> Mapping[str, Any]:
    return {}


@dataclass(frozen=True, slots=True)
class FillingDay:
    """How the jars of a day are filled: empty jars and margins by size, limits, and the step of the scale.

    ``tares`` are jars with lid and label, ``margins`` how far above the fill target to aim; ``from_past`` takes the
    margins from one's own check weights.
    """

    tares: Mapping[str, Mass] = field(default_factory=_nothing)
    margins: Mapping[str, Mass] = field(default_factory=_nothing)
    at_most: Mapping[str, int] = field(default_factory=_nothing)
    division: Mass = USUAL_DIVISION
    from_past: bool = False
    fill_goal: FillGoal = USUAL_GOAL


@dataclass(frozen=True, slots=True)
class DaySheet:
    """The sheet with its plan; ``known`` is what past runs say of each size, ``taken`` what the sheet reckons with.

    ``unknown`` are sizes nothing was weighed of, where past runs were asked for. ``each_gram`` says for each size how
    many jars are filled and what one further gram in all of them costs.
    """

    sheet: RunSheet
    plan: JarPlan
    sizes: tuple[JarSize, ...]
    known: Mapping[str, NextFill]
    taken: Mapping[str, NextFill]
    unknown: Sequence[str]
    each_gram: Mapping[str, tuple[int, Money]]


def run_sheet(basis: PlanBasis, asked: FillingDay, locale: str) -> DaySheet:
    """The sheet of the plan that brings most; its cautions write figures as ``locale`` does.

    Raises what the plan refuses, :class:`~labelkit.errors.filling.TareImpossible`,
    :class:`~labelkit.errors.filling.MarginFarTooLarge`, :class:`~labelkit.errors.filling.NoPastRuns`.
    """
    request = what_if(wished(basis.request, Planning(), basis.safety), Planning(at_most=asked.at_most))
    settings = _settings(request.sizes, asked, locale)
    known = basis.fills(request, asked.fill_goal)
    if asked.from_past and not known:
        raise NoPastRuns(0)
    taken = {size: fill for size, fill in known.items() if asked.from_past and not asked.margins.get(size)}
    planned = with_fills(request, taken)
    plan = jar_plan(planned)
    system = asked.fill_goal.system
    sheet = reckoned(
        plan,
        request.sizes,
        basis.day,
        settings=settings | _from_past(taken, request.sizes, asked),
        division=asked.division,
        weigh=_weigh(basis.places, system),
        passes=_passes(known, basis.places, system) if asked.from_past else None,
    )
    coarse = _too_coarse(sheet, basis.places, system, locale)
    return DaySheet(
        replace(sheet, cautions=(*coarse, *sheet.cautions)),
        plan,
        planned.sizes,
        known,
        taken,
        [size.id for size in request.sizes if size.id not in known] if asked.from_past else [],
        _each_gram(sheet, request.sizes),
    )


def run_sheet_pdf(day: DaySheet, paper: str, locale: str) -> bytes:
    """The sheet on paper (``letter`` or ``a4``), with a picture of the plan."""
    from labelkit.measures.locales import show_day
    from labelkit.paper.document import Document
    from labelkit.plan.picture import plan_marks
    from labelkit.run.run_sheet_paper import draw_run_sheet

    document = Document(paper, f"Run sheet, {show_day(day.sheet.day, locale)}", lang=locale[:2])
    picture = plan_marks(day.plan, day.sizes, round(document.width_mm * 1000), locale)
    draw_run_sheet(day.sheet, document, locale, picture)
    return document.bytes()


def _settings(sizes: Sequence[JarSize], asked: FillingDay, locale: str) -> dict[str, Setting]:
    fill = {size.id: size.fill for size in sizes}
    for name in (*asked.tares, *asked.margins):
        must_know_size(name, fill)
    for name, tare in asked.tares.items():
        likely_tare(tare, fill[name], locale)
    for name, margin in asked.margins.items():
        if margin * 10 > fill[name]:
            raise MarginFarTooLarge(name, show_metric(margin, locale), show_metric(fill[name], locale))
    return {
        name: Setting(asked.tares.get(name), asked.margins.get(name, NOTHING))
        for name in {*asked.tares, *asked.margins}
    }


def _from_past(taken: Mapping[str, NextFill], sizes: Sequence[JarSize], asked: FillingDay) -> dict[str, Setting]:
    """The margins of one's own past runs, beside the tares that were given."""
    return {
        size.id: Setting(asked.tares.get(size.id), max(taken[size.id].aim - size.fill, NOTHING), planned=True)
        for size in sizes
        if size.id in taken
    }


def _passes(
    known: Mapping[str, NextFill], places: Sequence[Market], system: str | None
) -> Callable[[str, int], float | None]:
    """The chance that a lot of so many jars passes, by one's own past runs."""

    def passes(size: str, count: int) -> float | None:
        fill = known.get(size)
        return fill.passes(tests_of(fill.declares, places, count, system)) if fill else None

    return passes


def _weigh(places: Sequence[Market], system: str | None) -> Callable[[Declared, int], int] | None:
    """How many jars of a lot the most demanding of the markets asks to weigh."""
    if not places:
        return None
    return lambda declares, count: max(test.sample for test in tests_of(declares, places, count, system))


def _too_coarse(sheet: RunSheet, places: Sequence[Market], system: str | None, locale: str) -> tuple[str, ...]:
    """What to say of a scale that counts in larger steps than a size's test bears."""
    lines = {line.size: line for bucket in sheet.buckets for line in bucket.lines}
    steps = {
        size: min(
            (s for test in tests_of(line.declares, places, line.count, system) if (s := test.coarsest_step())),
            default=None,
        )
        for size, line in lines.items()
    }
    return tuple(
        f"A scale that counts in {show_metric(sheet.division, locale)} is too coarse for the {size} jars: their test "
        f"bears steps of {show_metric(Mass.of_grams(step), locale)} at most."
        for size, step in steps.items()
        if step is not None and sheet.division.g > step
    )


def _each_gram(sheet: RunSheet, sizes: Sequence[JarSize]) -> dict[str, tuple[int, Money]]:
    from labelkit.run.outcome import worth_of

    counts: dict[str, int] = {}
    for line in (line for bucket in sheet.buckets for line in bucket.lines):
        counts[line.size] = counts.get(line.size, 0) + line.count
    return {
        size.id: (counts[size.id], worth_of(Mass.of_grams(counts[size.id]), size.fill, size.price - size.cost))
        for size in sizes
        if size.id in counts
    }
