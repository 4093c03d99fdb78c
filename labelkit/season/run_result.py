"""Run result: what the runs came to, what was given away, honey by yard and hive, and how to fill next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.record import LotUnknown
from labelkit.measures import NOTHING, Mass, Money, total
from labelkit.plan.wishes import USUAL_GOAL, FillGoal
from labelkit.run.hive_yields import YardYield, hive_yields
from labelkit.run.outcome import Outcome, outcome
from labelkit.run.weighed import together
from labelkit.season.past_fills import checks_of, fills_from_past, past_runs, runs_of
from labelkit.season.plan import sizes_of
from labelkit.season.settings import SeasonSettings, fill_of, settings_of

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.run.next_fill import NextFill


@dataclass(frozen=True, slots=True)
class RunResult:
    """The runs with their balances; ``fills`` is how to fill each size next, ``each_gram`` what one gram more costs."""

    outcomes: tuple[Outcome, ...]
    yards: tuple[YardYield, ...]
    fills: dict[str, NextFill]
    each_gram: dict[str, Money]
    currency: str

    @property
    def given_away(self) -> Mass:
        """Honey given away over all runs."""
        return total(found.given_away for found in self.outcomes)

    @property
    def worth(self) -> Money:
        """What that honey would have brought."""
        worth = Money(0, self.currency)
        for filling in (filling for found in self.outcomes for filling in found.fillings):
            # A price in another currency than the season's is shown with its run and added to nothing.
            if filling.worth is not None and filling.worth.currency == self.currency:
                worth = worth + filling.worth
        return worth


def run_result(
    state: Reading, day: date, lot: str | None = None, goal: FillGoal = USUAL_GOAL, period: Period | None = None
) -> RunResult:
    """The result of one lot's run, of all of them, or of those of a year and what came in in it.

    How to fill next is learnt from all past runs. Raises :class:`~labelkit.errors.record.LotUnknown`.
    """
    season = settings_of(state)
    outcomes = outcomes_of(state, season, day, lot, period)
    largest = max((bucket.came_in for bucket in state.buckets()), default=NOTHING)
    fills = fills_from_past(past_runs(state), sizes_of(season, day), season.places(day), day, largest, goal)
    if lot:
        sizes = {filling.size for found in outcomes for filling in found.fillings}
        fills = {size: fill for size, fill in fills.items() if size in sizes}
    each_gram = {
        size: fill.each_gram(max(fill.lots), brings)
        for size, fill in fills.items()
        if (brings := _brings(season, size))
    }
    return RunResult(tuple(outcomes), () if lot else yields_of(state, period), fills, each_gram, season.currency)


def yields_of(state: Reading, period: Period | None = None) -> tuple[YardYield, ...]:
    """What each yard and hive brought, ever or in a year."""
    intake = (each for each in state.events(("weigh", "drain")) if each.stands)
    return hive_yields([each.event for each in sorted(intake, key=lambda each: each.position)], period)


def outcomes_of(
    state: Reading, season: SeasonSettings, day: date, lot: str | None = None, period: Period | None = None
) -> list[Outcome]:
    """What became of the runs of a lot, of a year, or of all. Raises :class:`~labelkit.errors.record.LotUnknown`."""
    from labelkit.record.lookup import find_lot

    runs = [run for run in runs_of(state) if period is None or run.day in period]
    if lot:
        name = find_lot(state, lot).name
        names = {name, *state.ancestry(name), *state.descent(name)}
        runs = [run for run in runs if run.lot in names]
        if not runs:
            raise LotUnknown(f"bottling run of {name}", "")
    weighed = together(checks_of(state))
    labels = {f.size: fill_of(f.declares, season.markets, day) for run in runs for f in run.jars}
    brings = {size: money for size in labels if (money := _brings(season, size))}
    hives = {b.id: sum(len(source.hives) for source in b.sources) for b in state.buckets()}
    return [outcome(run, weighed, labels, brings, hives.get(run.bucket, 0)) for run in runs]


def _brings(season: SeasonSettings, size: str) -> Money | None:
    """What a jar of a size brings over its cost, where the season has a price for it."""
    price = season.prices.get(size)
    return price.price - price.cost if price and price.is_priced else None
