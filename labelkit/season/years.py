"""Years: the years of the record side by side. One record holds them all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.sale import NoYears
from labelkit.measures import total
from labelkit.measures.period import Period
from labelkit.paper.workbook import FIGURE, Column, Sheet
from labelkit.sale.years import Comparison, YearAlone, comparison, interleaved, plain_value, unit_of
from labelkit.season.result import result
from labelkit.season.run_result import outcomes_of, yields_of
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

# What happens in a year; settings and prices are often said before it begins.
_WORK = ("weigh", "drain", "receive", "run", "sell", "deliver", "unload", "made")


def years_of(state: Reading, month: int = 1) -> tuple[Period, ...]:
    """Every year in which something came in, was filled or sold; ``month`` the one each begins with."""
    days = {each.day for each in state.events(_WORK) if each.stands}
    return tuple(Period.of_year(year, month) for year in sorted({_year_of(day, month) for day in days}))


def _year_of(day: date, month: int) -> int:
    return day.year if day.month >= month else day.year - 1


def compare(state: Reading, day: date, periods: Sequence[Period] = (), month: int = 1) -> Comparison:
    """The years that are named, or all of the record, side by side.

    Raises :class:`~labelkit.errors.sale.NoYears` where nothing was booked yet.
    """
    chosen = sorted(set(periods), key=lambda period: (period.first, period.last)) or years_of(state, month)
    if not chosen:
        raise NoYears()
    return comparison([_alone(state, day, period) for period in chosen])


def _alone(state: Reading, day: date, period: Period) -> YearAlone:
    then, last = state.as_of(period.last), min(period.last, day)
    season = settings_of(then, last)
    runs = outcomes_of(then, season, last, period=period)
    filled: Counter[str] = Counter()
    for found in runs:
        filled.update({jars.size: jars.count for jars in found.run.jars})
    prices = {size: said.price for size, said in season.offered(last).items() if said.day <= last}
    return YearAlone(
        result(state, day, period),
        yields_of(then, period),
        filled,
        prices,
        total(found.given_away for found in runs),
    )


def years_sheet(found: Comparison) -> Sheet:
    """Years side by side as a sheet; weights in grams, money and jars as they are, the unit named."""
    names = [year.name for year in found.years]
    columns = [Column("group"), Column("name"), Column("unit")]
    columns += [Column(name, FIGURE) for name in interleaved(names, [f"change to {name}" for name in names[1:]])]
    rows = [
        (each.group, each.name, unit_of(each), *map(plain_value, interleaved(each.values, each.changes)))
        for each in found.figures
    ]
    return Sheet("years", columns, rows)
