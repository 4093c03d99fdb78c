"""Result: what the season brought, what it cost, what is owed, and what is still in stock."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from labelkit.lots.movement import SOURCES, Account
from labelkit.lots.received import Receive
from labelkit.measures import Mass
from labelkit.run import Run
from labelkit.sale.balances import accounts
from labelkit.sale.pricing import unsold_worth
from labelkit.sale.result import entries
from labelkit.sale.stall_events import StallDay
from labelkit.sale.year_report import Year, stock_of
from labelkit.season.settings import settings_of
from labelkit.season.shelf import tax_of

if TYPE_CHECKING:
    from datetime import date

    from labelkit.record.reading import Reading


def result(state: Reading, day: date, year: int | None = None) -> Year:
    """The season's result, of one calendar year or of all of them; ``day`` names it where nothing was booked.

    Tax is set aside only where the season says how it stands to the prices.
    """
    season = settings_of(state)
    booked = [one for one in state.events() if one.stands]
    standing = [one.event for one in booked]
    ends: Counter[Account] = Counter()
    for one in booked:
        for movement in one.movements():
            ends[movement.account] += movement.mass.mg
    worth = {p.size: unsold_worth(p.cost, p.price) for p in season.prices.values()}
    within = [entry for entry in entries(standing, season.currency) if year is None or entry.day.year == year]
    days = [e for e in standing if isinstance(e, StallDay) and (year is None or e.day.year == year)]
    return Year(
        _name(year, sorted({entry.day.year for entry in within}), day),
        season.currency,
        tuple(within),
        Mass(-sum(ends[source] for source in SOURCES)),
        {account: Mass(ends[account]) for account in Account if account not in SOURCES},
        stock_of(((s.size, s.count) for s in state.stock()), worth, season.currency),
        accounts(standing, season.currency),
        tuple(days),
        tuple(e for e in standing if isinstance(e, Receive) and (year is None or e.day.year == year)),
        tax_of(state.settings()),
        tuple(e for e in standing if isinstance(e, Run) and e.because and (year is None or e.day.year == year)),
    )


def _name(year: int | None, booked: list[int], day: date) -> str:
    if year or not booked:
        return str(year or day.year)
    return "–".join(dict.fromkeys(map(str, (booked[0], booked[-1]))))
