"""What the commands of filling day read from the record: runs, their check weights, and how to fill next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.errors.filling import LotHasNoSuchJars, MarketMissing, SpreadUnclear
from labelkit.errors.record import LotUnknown
from labelkit.measures import Declared, Mass, Money
from labelkit.season.settings import SeasonSettings, fill_of

if TYPE_CHECKING:
    from labelkit.plan import JarSize, PlanRequest
    from labelkit.rules.market import Market
    from labelkit.run import Filled, Run
    from labelkit.run.check_weighing.lot_test import LotTest
    from labelkit.run.next_fill import NextFill
    from labelkit.run.weighed import CheckWeighed

_LAST = 8  # past runs whose sizes tell how large a lot to be safe for


@dataclass(frozen=True, slots=True)
class FilledJars:
    """One size of one run: what was filled under one lot code, and is judged as one lot."""

    run: Run
    jars: Filled


def runs_of(book: Any) -> list[Run]:
    """All runs that stand, in the order they were booked."""
    return [booked.event for booked in book.events(("run",)) if booked.stands]


def checks_of(book: Any) -> list[CheckWeighed]:
    """All check weights that stand, in the order they were booked."""
    return [booked.event for booked in book.events(("check-weigh",)) if booked.stands]


def jars_of(book: Any, code: str, size: str | None) -> FilledJars:
    """The jars of a lot, also by a code they were given later; the size may be left out where there is one.

    Raises :class:`~labelkit.errors.record.LotUnknown` and :class:`~labelkit.errors.filling.LotHasNoSuchJars`.
    """
    from labelkit.record.lookup import find_lot

    lot = find_lot(book, code).name
    names = {lot} | book.ancestry(lot)
    runs = (booked.event for booked in book.events_about(names, ("run",)) if booked.stands)
    run = next((run for run in runs if run.lot in names), None)
    if run is None:
        raise LotUnknown(f"bottling run of {lot}", "; a bucket is weighed in, its jars are weighed by their lot code")
    known = {jars.size: jars for jars in run.jars}
    if size is None and len(known) == 1:
        size = next(iter(known))
    if size not in known:
        raise LotHasNoSuchJars(run.lot, size or "", ", ".join(f"{f.count} × {f.size}" for f in run.jars) or "no jars")
    return FilledJars(run, known[size])


def places_of(season: SeasonSettings, wanted: str | None, day: date) -> list[Market]:
    """The markets whose tests count: the one that was named, or the season's. Raises ``MarketMissing``."""
    from labelkit.rules import market

    names = (wanted,) if wanted else season.markets
    if not names:
        raise MarketMissing()
    return [market(name, day) for name in names]


def tests_of(declares: Declared, places: Sequence[Market], lot: int, system: str | None = None) -> list[LotTest]:
    """The tests a lot has to pass, one for each market; markets with one and the same test count once.

    ``system`` is a way to judge that some of the markets have; the others keep their usual one. Raises
    :class:`~labelkit.errors.filling.LotTestUnknown` where none of them has it.
    """
    from labelkit.run.check_weighing.law import systems
    from labelkit.run.fill_test import terms

    having = [place for place in places if system and system.casefold() in map(str.casefold, systems(place))]
    found = {}
    for place in places:
        test = terms(declares, place, lot, system=system if place in having or not having else None)
        found.setdefault(
            (test.name, test.label, test.sample, test.factor, test.stages, test.tolerance, test.deep), test
        )
    return list(found.values())


def brings_of(season: SeasonSettings, size: str) -> Money | None:
    """What a jar of a size brings over its cost, where the season has a price for it."""
    price = season.prices.get(size)
    return price.price - price.cost if price else None


def chance_of(text: str | None, locale: str) -> Decimal:
    """“95” per cent as the chance 0.95. Raises :class:`~labelkit.errors.filling.SpreadUnclear`."""
    from labelkit.measures.numerals import read_percent
    from labelkit.run.next_fill import USUAL_CHANCE

    if text is None:
        return USUAL_CHANCE
    percent = read_percent(text, locale)
    if not Decimal(50) <= percent < 100:
        raise SpreadUnclear("the chance that a lot passes, in per cent", text, "95 or 99")
    return percent / 100


def fills_from_past(
    book: Any,
    sizes: Iterable[JarSize],
    markets: Sequence[str],
    day: date,
    largest: Mass,
    wanted: Decimal | None = None,
    system: str | None = None,
) -> dict[str, NextFill]:
    """How to fill each size next, by the record's own check weights; a size without enough of them is not there.

    ``largest`` is what the fullest bucket holds: a lot is at most what one bucket fills. The margin is safe for lots
    of that many jars and for lots as large as the last ones were. Nothing is read or changed beyond the record.
    """
    from labelkit.errors.filling import NoPastRuns
    from labelkit.rules import market
    from labelkit.run.next_fill import USUAL_CHANCE, next_fill
    from labelkit.run.weighed import together

    places = [market(name, day) for name in markets]
    weighed = together(checks_of(book))
    if not weighed or not places:
        return {}
    counted = Counter({(run.lot, jars.size): jars.count for run in runs_of(book) for jars in run.jars})
    found = {}
    for size in sizes:
        # Weights of a run that was struck since, or of another label, teach nothing.
        past = [w for key, w in weighed.items() if key in counted and (w.size, w.declares) == (size.id, size.declares)]
        lots = [largest // size.fill, *(counted[w.lot, w.size] for w in past[-_LAST:])]
        try:
            found[size.id] = next_fill(
                size.id,
                size.declares,
                fill_of(size.declares, tuple(markets), day),
                [w.as_past_run for w in past],
                lambda lot, declares=size.declares: tests_of(declares, places, lot, system),
                lots,
                wanted or USUAL_CHANCE,
            )
        except NoPastRuns:
            continue
    return found


def with_fills(request: PlanRequest, fills: dict[str, NextFill]) -> PlanRequest:
    """The request with what a jar will really take, by one's own past runs, in place of the bare label weight."""
    sizes = tuple(
        replace(size, fill=max(size.fill, fills[size.id].takes)) if size.id in fills else size for size in request.sizes
    )
    return replace(request, sizes=sizes)


def told(fills: dict[str, NextFill], locale: str) -> list[str]:
    """A line for each size: what to fill to, what a jar will take, and how sure that is."""
    from labelkit.measures import show_metric
    from labelkit.run.next_fill import odds

    lines = []
    for fill in fills.values():
        margin = f"{show_metric(fill.margin, locale)} above" if fill.margin else "not above"
        runs = f"{fill.habit.runs} past run{'' if fill.habit.runs == 1 else 's'}"
        lines.append(
            f"{fill.size}: fill to {show_metric(fill.aim, locale)} net, {margin} what it owes; a jar then takes "
            f"{show_metric(fill.takes, locale)} on average and a lot passes {odds(fill.chance, locale)} of the time "
            f"({runs}, {fill.habit.jars} jars weighed)."
        )
    return lines


def fills_for(
    context: CommandContext,
    request: PlanRequest,
    markets: Sequence[str],
    day: date,
    sure: Decimal | None = None,
    system: str | None = None,
) -> dict[str, NextFill]:
    """How to fill the sizes of a plan's request next, by the record on the context; nothing where there is no record.

    The plan calls this to offer or to take the margin, and :func:`with_fills` to take it; nothing is changed here.
    """

    from labelkit.measures import NOTHING

    if not context.has_record():
        return {}
    largest = max((bucket.usable for bucket in request.buckets), default=NOTHING)
    with context.reading() as state:
        return fills_from_past(state, request.sizes, markets, day, largest, sure, system)


def must_have(fills: dict[str, NextFill], request: PlanRequest) -> list[str]:
    """The sizes nothing is known of. Raises :class:`~labelkit.errors.filling.NoPastRuns` where that is all of them."""
    from labelkit.errors.filling import NoPastRuns

    if not fills:
        raise NoPastRuns(0)
    return [size.id for size in request.sizes if size.id not in fills]
