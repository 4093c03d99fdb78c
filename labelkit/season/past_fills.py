"""What one's own check weights say of filling: the runs, the lots and their tests, and how to fill next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from labelkit.errors.filling import LotHasNoSuchJars, MarketMissing, NoPastRuns, SpreadUnclear
from labelkit.errors.record import LotUnknown
from labelkit.measures import Declared, Mass
from labelkit.run.weighed import Weighed, together
from labelkit.season.settings import SeasonSettings, fill_of

if TYPE_CHECKING:
    from labelkit.plan import JarSize, PlanRequest
    from labelkit.plan.wishes import FillGoal
    from labelkit.record.reading import Reading
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


@dataclass(frozen=True, slots=True)
class PastRuns:
    """What was weighed, by lot and size, and how many jars each lot and size had."""

    weighed: Mapping[tuple[str, str], Weighed] = field(default_factory=dict)
    counted: Mapping[tuple[str, str], int] = field(default_factory=dict)


NO_PAST = PastRuns()


def chance_of(percent: Decimal) -> Decimal:
    """95 per cent as the chance 0.95. Raises :class:`~labelkit.errors.filling.SpreadUnclear`.

    >>> chance_of(Decimal(95))
    Decimal('0.95')
    """
    if not Decimal(50) <= percent < 100:
        raise SpreadUnclear("the chance that a lot passes, in per cent", f"{percent:f}", "95 or 99")
    return percent / 100


def past_runs(state: Reading) -> PastRuns:
    """Every check weight of the record, and the runs they were taken of."""
    weighed = together(checks_of(state))
    if not weighed:
        return PastRuns()
    return PastRuns(weighed, Counter({(run.lot, jars.size): jars.count for run in runs_of(state) for jars in run.jars}))


def runs_of(state: Reading) -> list[Run]:
    """All runs that stand, in the order they were booked."""
    return [booked.event for booked in state.events(("run",)) if booked.stands]


def checks_of(state: Reading) -> list[CheckWeighed]:
    """All check weights that stand, in the order they were booked."""
    return [booked.event for booked in state.events(("check-weigh",)) if booked.stands]


def jars_of(state: Reading, code: str, size: str | None) -> FilledJars:
    """The jars of a lot, also by a code they were given later; the size may be left out where there is one.

    Raises :class:`~labelkit.errors.record.LotUnknown` and :class:`~labelkit.errors.filling.LotHasNoSuchJars`.
    """
    from labelkit.record.lookup import find_lot

    lot = find_lot(state, code).name
    names = {lot} | state.ancestry(lot)
    runs = (booked.event for booked in state.events_about(names, ("run",)) if booked.stands)
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
    found: dict[tuple[object, ...], LotTest] = {}
    for place in places:
        test = terms(declares, place, lot, system=system if place in having or not having else None)
        found.setdefault(
            (test.name, test.label, test.sample, test.factor, test.stages, test.tolerance, test.deep), test
        )
    return list(found.values())


def fills_from_past(
    past: PastRuns, sizes: Iterable[JarSize], places: Sequence[Market], day: date, largest: Mass, goal: FillGoal
) -> dict[str, NextFill]:
    """How to fill each size next, by the check weights; a size without enough of them is not there.

    ``largest`` is what the fullest bucket holds: a lot is at most what one bucket fills. The margin is safe for lots
    of that many jars and for lots as large as the last ones were.
    """
    from labelkit.run.next_fill import USUAL_CHANCE, next_fill

    if not past.weighed or not places:
        return {}
    found = {}
    for size in sizes:
        # Weights of a run that was struck since, or of another label, teach nothing.
        mine = [
            weighed
            for key, weighed in past.weighed.items()
            if key in past.counted and (weighed.size, weighed.declares) == (size.id, size.declares)
        ]
        lots = [largest // size.fill, *(past.counted[each.lot, each.size] for each in mine[-_LAST:])]
        try:
            found[size.id] = next_fill(
                size.id,
                size.declares,
                fill_of(size.declares, [place.code for place in places], day),
                [weighed.as_past_run for weighed in mine],
                partial(_tests, size.declares, places, goal.system),
                lots,
                goal.chance or USUAL_CHANCE,
            )
        except NoPastRuns:
            continue
    return found


def _tests(declares: Declared, places: Sequence[Market], system: str | None, lot: int) -> list[LotTest]:
    return tests_of(declares, places, lot, system)


def with_fills(request: PlanRequest, fills: Mapping[str, NextFill]) -> PlanRequest:
    """The request with what a jar will really take, by one's own past runs, in place of the bare label weight."""
    sizes = tuple(
        replace(size, fill=max(size.fill, fills[size.id].takes)) if size.id in fills else size for size in request.sizes
    )
    return replace(request, sizes=sizes)
