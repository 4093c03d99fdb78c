"""Result: what the season brought, what it cost, what is owed, and what is still in stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Any

from labelkit.lots.movement import SOURCES, Account
from labelkit.lots.received import Receive
from labelkit.measures import Mass
from labelkit.run import Run
from labelkit.sale.account_events import Payment, Refund
from labelkit.sale.balances import CustomerAccount, accounts
from labelkit.sale.cash_basis import TaxedPart, taxed_part
from labelkit.sale.pricing import unsold_worth
from labelkit.sale.result import Entry, entries
from labelkit.sale.stall_events import StallDay
from labelkit.sale.year_report import Year, stock_of, tax_of
from labelkit.season.lot_words import product_of
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.shelf import taxes_of

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.sale.tax import Taxes
    from labelkit.trace.booked import Booked

# Where honey is still the producer's: carried from one year into the next.
AT_HAND = (Account.BUCKET, Account.JARS, Account.STALL, Account.HELD)


def result(state: Reading, day: date, period: Period | None = None) -> Year:
    """The season's result, of a year or another stretch of days, or of all there is; ``day`` names it where nothing was booked.

    Of a period it is what came in, went out and was earned in it; stock and what is owed are those of its last evening,
    and honey that was there when it began is carried in. Prices, costs and tax are those of each entry's own day.
    """
    then = state.as_of(period.last if period else None)
    season = settings_of(then, period.last if period else day)
    booked = [one for one in then.events() if one.stands]
    standing = [one.event for one in booked]
    within = [one for one in standing if period is None or one.day in period]
    taxes = taxes_of(then)
    product = _products(then, season, taxes)
    made, owed = entries(standing, season.currency, product), accounts(standing, season.currency)
    of_it = tuple(entry for entry in made if period is None or entry.day in period)
    before = _honey(booked, lambda on: period is not None and on < period.first)
    moved = _honey(booked, lambda on: period is None or on in period)
    carried = Mass(sum(before[account] for account in AT_HAND))
    worth = {p.size: unsold_worth(p.cost, p.price) if p.is_priced else p.cost for p in season.prices.values()}
    return Year(
        str(period) if period else _name(sorted({entry.day.year for entry in of_it}), day),
        season.currency,
        of_it,
        Mass(-sum(moved[source] for source in SOURCES)),
        {
            account: Mass(moved[account] + (before[account] if account in AT_HAND else 0))
            for account in Account
            if account not in SOURCES
        },
        stock_of(((s.size, s.count) for s in then.stock()), worth, season.currency),
        owed,
        tuple(each for each in within if isinstance(each, StallDay)),
        tuple(each for each in within if isinstance(each, Receive)),
        taxes,
        tuple(each for each in within if isinstance(each, Payment)),
        tuple(each for each in within if isinstance(each, Refund)),
        _on_account(owed, taxes, lambda event: entries((event,), season.currency, product), period),
        carried,
        tuple(each for each in within if isinstance(each, Run) and each.because),
    )


def _on_account(
    owed: Iterable[CustomerAccount], taxes: Taxes, entries_of: Callable[[Any], Iterable[Entry]], period: Period | None
) -> tuple[TaxedPart, ...]:
    """The payments and refunds of the period, each with the tax of what it was for."""
    return tuple(
        taxed_part(
            part,
            [(entry.money, tax_of(taxes, entry)) for entry in entries_of(part.of)] if part.of else (),
            taxes.on(part.day, channel=account.deliveries[-1].delivery.to),
        )
        for account in owed
        for part in account.settled
        if period is None or part.day in period
    )


def _products(state: Reading, season: SeasonSettings, taxes: Taxes) -> Callable[[str, str], str]:
    """Which product the jars of a lot are, looked up only where a tax is of one product."""

    @cache
    def product(lot: str, size: str) -> str:
        if size not in season.prices or not any(rate.product for rate in taxes.rates):
            return ""
        return product_of(state, season, lot, size).name

    return product


def _honey(booked: Iterable[Booked], when: Callable[[date], bool]) -> Counter[Account]:
    """What events of some days moved into each account, in milligrams."""
    ends: Counter[Account] = Counter()
    for one in booked:
        if when(one.day):
            for movement in one.movements():
                ends[movement.account] += movement.mass.mg
    return ends


def _name(booked: list[int], day: date) -> str:
    if not booked:
        return str(day.year)
    return "–".join(dict.fromkeys(map(str, (booked[0], booked[-1]))))
