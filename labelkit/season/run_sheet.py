"""Run sheet: what the scale must read for each jar on filling day, by the plan that is followed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from labelkit.errors.filling import MarginFarTooLarge
from labelkit.errors.sentence import Sentence
from labelkit.measures import NOTHING, Declared, Mass, Money, show_metric, total
from labelkit.measures.division import GRAM, Division
from labelkit.measures.rounding import DOWN
from labelkit.plan import JarSize
from labelkit.plan.wishes import must_know_size
from labelkit.run.check_weighing.law import MINIMUM
from labelkit.run.check_weighing.plausible import likely_tare
from labelkit.run.run_sheet import RunSheet, Setting
from labelkit.run.run_sheet import run_sheet as reckoned
from labelkit.season.bottle import next_code
from labelkit.season.hang_up import HangUp, hang_up_words, hang_ups
from labelkit.season.past_fills import tests_of

if TYPE_CHECKING:
    from datetime import date

    from labelkit.measures.wording import Wording
    from labelkit.record.reading import Reading
    from labelkit.rules.market import Market
    from labelkit.run.next_fill import NextFill
    from labelkit.season.kept_plan import Followed


ENOUGH_EMPTIES = 10  # common practice, no source
_SOME_LOT = 100  # which of a market's systems is asked does not hang on the lot


def _nothing() -> Mapping[str, Any]:
    return {}


@dataclass(frozen=True, slots=True)
class FillingDay:
    """How the jars of a day are filled: empty jars and margins by size, and the step of the scale.

    ``tares`` are single weights of empty jars with lid and label, ``margins`` how far above the fill target to aim, in place of what one's own
    check weights say where the plan goes by them.
    """

    tares: Mapping[str, tuple[Mass, ...]] = field(default_factory=_nothing)
    margins: Mapping[str, Mass] = field(default_factory=_nothing)
    division: Division = GRAM


@dataclass(frozen=True, slots=True)
class DaySheet:
    """The sheet of what is still to be filled of the plan that is followed.

    ``known`` is what past runs say of each size, ``taken`` what the sheet reckons with; ``unknown`` are sizes nothing
    was weighed of, where past runs were asked for. ``each_gram`` says for each size how many jars are filled and what
    one further gram in all of them costs.
    """

    sheet: RunSheet
    followed: Followed
    known: Mapping[str, NextFill]
    taken: Mapping[str, NextFill]
    unknown: Sequence[str]
    each_gram: Mapping[str, tuple[int, Money]]


@dataclass(frozen=True, slots=True)
class Ahead:
    """What the record says of the runs to come, by bucket: the lot code each will get, and what stays on its wall."""

    lots: Mapping[str, str] = field(default_factory=_nothing)
    hang_ups: Mapping[str, HangUp] = field(default_factory=_nothing)


def run_sheet(followed: Followed, asked: FillingDay, locale: str, ahead: Ahead = Ahead()) -> DaySheet:
    """The sheet of a plan; its cautions write figures as ``locale`` does.

    Raises :class:`~labelkit.errors.filling.TareImpossible` and :class:`~labelkit.errors.filling.MarginFarTooLarge`.
    """
    basis, wishes = followed.basis, followed.asked
    # What a jar owes stands on the scale; what the plan reckons with may be more, for caution or by past runs.
    sizes = basis.request.sizes
    tares = _tares(sizes, asked, basis.places, wishes.fill_goal.system, locale)
    settings = _settings(sizes, asked, tares, locale)
    known = basis.fills(basis.request, wishes.fill_goal)
    taken = {size: fill for size, fill in known.items() if wishes.from_past and not asked.margins.get(size)}
    system = wishes.fill_goal.system
    sheet = reckoned(
        followed.plan,
        sizes,
        basis.day,
        settings=settings | _from_past(taken, sizes, tares),
        division=asked.division,
        lots=ahead.lots,
        weigh=_weigh(basis.places, system),
        passes=_passes(known, basis.places, system) if wishes.from_past else None,
    )
    coarse = _too_coarse(sheet, basis.places, system, locale)
    clings = [] if wishes.hang_up else hang_up_words(followed.plan, ahead.hang_ups, locale)
    jars = [_tare_words(name, asked.tares[name], tare, asked.division, locale) for name, tare in tares.items()]
    return DaySheet(
        replace(sheet, cautions=(*coarse, *filter(None, jars), *clings, *sheet.cautions)),
        followed,
        known,
        taken,
        [size.id for size in sizes if size.id not in known] if wishes.from_past else [],
        _each_gram(sheet, followed.request.sizes),
    )


def runs_ahead(state: Reading, followed: Followed, day: date) -> Ahead:
    """The lot codes the runs of the plan will get when they are booked on this day, and what stays in their buckets."""
    taken, codes = set(state.lot_codes_taken()), {}
    for bucket in followed.plan.buckets:
        if any(bucket.jars.values()):
            codes[bucket.id] = next_code(state, bucket.id, day, taken)
            taken.add(codes[bucket.id])
    return Ahead(codes, hang_ups(state, set(codes)))


def run_sheet_pdf(day: DaySheet, paper: str, words: Wording, locale: str) -> bytes:
    """The sheet on paper (``letter`` or ``a4``), with a picture of the plan."""
    from labelkit.measures.locales import show_day
    from labelkit.paper.document import Document
    from labelkit.plan.picture import plan_marks
    from labelkit.run.run_sheet_paper import draw_run_sheet

    title = f"{words('Run sheet')}, {show_day(day.sheet.day, locale)}"
    document = Document(paper, title, lang=words.lang)
    picture = plan_marks(day.followed.plan, day.followed.request.sizes, round(document.width_mm * 1000), locale, words)
    draw_run_sheet(day.sheet, document, locale, words, picture)
    return document.bytes()


def _tares(
    sizes: Sequence[JarSize], asked: FillingDay, places: Sequence[Market], system: str | None, locale: str
) -> dict[str, Mass]:
    """The tare of each size: the heaviest empty jar where no jar may be below its label, else the mean of those weighed."""
    by_id, found = {size.id: size for size in sizes}, {}
    for name, weights in asked.tares.items():
        must_know_size(name, by_id)
        for weight in weights:
            likely_tare(weight, by_id[name].fill, locale)
        tests = tests_of(by_id[name].declares, places, _SOME_LOT, system)
        heaviest = any(test.system == MINIMUM for test in tests)
        found[name] = max(weights) if heaviest else Mass(-(-total(weights).mg // len(weights)))
    return found


def _tare_words(name: str, weights: Sequence[Mass], tare: Mass, division: Division, locale: str) -> str:
    """How the tare was taken from several empty jars, with their range; nothing of a single one."""
    if len(weights) < 2:
        return ""
    low, high = (division.show(end(weights), locale) for end in (min, max))
    if tare == max(weights) and low != high:
        return Sentence(
            "Empty {size} jars weigh {low} to {high}: the heaviest counts, since no jar may hold less than its label.",
            size=name,
            low=low,
            high=high,
        )
    facts = {"size": name, "low": low, "high": high, "mean": division.show(tare, locale)}
    if len(weights) >= ENOUGH_EMPTIES:
        return Sentence("Empty {size} jars weigh {low} to {high}; their mean is {mean}.", **facts)
    return Sentence(
        "Empty {size} jars weigh {low} to {high}; their mean is {mean}. Weigh {n}, so that one odd jar counts for less.",
        n=ENOUGH_EMPTIES,
        **facts,
    )


def _settings(
    sizes: Sequence[JarSize], asked: FillingDay, tares: Mapping[str, Mass], locale: str
) -> dict[str, Setting]:
    fill = {size.id: size.fill for size in sizes}
    for name in asked.margins:
        must_know_size(name, fill)
    for name, margin in asked.margins.items():
        if margin * 10 > fill[name]:
            raise MarginFarTooLarge(name, show_metric(margin, locale), show_metric(fill[name], locale))
    return {name: Setting(tares.get(name), asked.margins.get(name, NOTHING)) for name in {*tares, *asked.margins}}


def _from_past(
    taken: Mapping[str, NextFill], sizes: Sequence[JarSize], tares: Mapping[str, Mass]
) -> dict[str, Setting]:
    """The margins of one's own past runs, beside the tares that were given."""
    return {
        size.id: Setting(tares.get(size.id), max(taken[size.id].aim - size.fill, NOTHING), planned=True)
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
        Sentence(
            "A scale that counts in {step} is too coarse for the {size} jars: their test bears steps of {most} at most.",
            step=sheet.division.show(sheet.division.g, locale),
            size=size,
            most=sheet.division.show(step, locale, DOWN),
        )
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
