"""The year in figures: money in and out, what honey cost, where it went, what is still there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from labelkit.lots.movement import Account as Place
from labelkit.lots.received import Receive
from labelkit.measures import NOTHING, Mass, Money, total
from labelkit.measures.rounding import HALF_UP
from labelkit.run import Run
from labelkit.sale.account_events import Payment, Refund
from labelkit.sale.apportion import nothing, together
from labelkit.sale.balances import CustomerAccount
from labelkit.sale.cash_basis import TaxedPart
from labelkit.sale.result import BRING, Entry, Sum, sum_of, summed
from labelkit.sale.settlement import balance_of
from labelkit.sale.stall_events import StallDay
from labelkit.sale.tax import NOT_SAID, Tax, Taxes

MOST_ROWS = 8


@dataclass(frozen=True, slots=True)
class InStock:
    """Jars of one size still there, and what one counts for."""

    size: str
    count: int
    each: Money

    @property
    def worth(self) -> Money:
        """All of them."""
        return self.count * self.each


def rate_of(taxes: Taxes, entry: Entry) -> Tax | None:
    """The tax that is in an entry's money, by its product, its channel and the day it was sold."""
    return taxes.on(entry.tax_day, entry.product, entry.channel) if entry.what in BRING else None


def tax_of(taxes: Taxes, entry: Entry) -> Money | None:
    """What of an entry's money is tax; None where it bears none or nobody has said."""
    rate = rate_of(taxes, entry)
    return rate.split(entry.money)[1] if rate else None


@dataclass(frozen=True, slots=True)
class TaxSum:
    """What was sold under one tax: the money, and what of it is tax. Without a tax nobody has said how it stands."""

    rate: Tax | None
    money: Money
    tax: Money

    @property
    def net(self) -> Money:
        """The money without the tax."""
        return self.money - self.tax


@dataclass(frozen=True, slots=True)
class Year:
    """Everything the year's result is reckoned from."""

    name: str
    currency: str
    entries: tuple[Entry, ...]
    came_in: Mass = NOTHING
    ends: Mapping[Place, Mass] | None = None  # where what came in and was carried in went
    stock: tuple[InStock, ...] = ()
    accounts: tuple[CustomerAccount, ...] = ()
    days: tuple[StallDay, ...] = ()
    bought: tuple[Receive, ...] = ()  # honey bought in
    taxes: Taxes = NOT_SAID  # none: nobody has said how tax stands to the prices
    payments: tuple[Payment, ...] = ()  # of customers who pay later
    refunds: tuple[Refund, ...] = ()
    on_account: tuple[TaxedPart, ...] = ()  # what the payments and refunds were for, and the tax in it
    carried_in: Mass = NOTHING  # honey that was there when the time began
    asked_about: tuple[Run, ...] = ()  # runs whose balance was asked about and that were booked all the same

    @property
    def tax_in(self) -> Money:
        """What of the money is tax, entry by entry as the sheet for the taxes splits it."""
        return together((tax for e in self.entries if (tax := self.tax_of(e)) is not None), self.currency)

    def tax_of(self, entry: Entry) -> Money | None:
        """What of an entry's money is tax; None where it bears none or nobody has said."""
        return tax_of(self.taxes, entry)

    @property
    def by_tax(self) -> tuple[TaxSum, ...]:
        """What was sold under each tax, the most money first; jars that came back are taken off where they were sold."""
        groups: dict[Tax | None, list[Entry]] = {}
        for entry in self.entries:
            if entry.what in BRING:
                groups.setdefault(rate_of(self.taxes, entry), []).append(entry)
        sums = [
            TaxSum(
                tax,
                together((e.money for e in group), self.currency),
                together((part for e in group if (part := self.tax_of(e)) is not None), self.currency),
            )
            for tax, group in groups.items()
        ]
        return tuple(sorted(sums, key=lambda one: -one.money.minor))

    @property
    def left(self) -> Money:
        """What is left once tax, fees and the cost of the jars are set aside."""
        return self.whole.left - self.tax_in

    @property
    def whole(self) -> Sum:
        """All entries together."""
        return sum_of(self.name, self.entries, self.currency)

    @property
    def money_in(self) -> Money:
        """What buyers paid or owe."""
        return together(
            (e.money for e in self.entries if e.what not in ("stall fee", "cash difference")), self.currency
        )

    @property
    def received(self) -> Money:
        """What buyers paid: at once, and what customers paid in this time for what they had in this or another.

        The other way to count a year's income (cash method beside accrual method: IRS Publication 538,
        introduction; read on 2026-11-29). The two differ by what customers came to owe.
        """
        later = together((e.money for e in self._on_account), self.currency)
        return self.money_in - later + self.paid - self.refunded

    @property
    def _on_account(self) -> list[Entry]:
        """The entries that change what a customer owes, and for which nothing was paid at once."""
        customers = {account.customer for account in self.accounts}
        return [e for e in self.entries if e.what == "delivered" or (e.what == "returned" and e.customer in customers)]

    @property
    def paid(self) -> Money:
        """What customers paid of what they owe."""
        return together((each.amount for each in self.payments), self.currency)

    @property
    def refunded(self) -> Money:
        """What customers got back in money. Jars brought back by anybody else were paid back at once."""
        return together((each.amount for each in self.refunds), self.currency)

    @property
    def returned(self) -> Money:
        """What the jars that came back had been sold for; below nothing, as it lowers the money in."""
        return together((e.money for e in self.entries if e.what == "returned"), self.currency)

    @property
    def tax_received(self) -> Money:
        """What of the money that was paid is tax (cash basis)."""
        on_account = set(map(id, self._on_account))
        at_once = (tax for e in self.entries if id(e) not in on_account and (tax := self.tax_of(e)) is not None)
        return together((*at_once, *(part.tax for part in self.on_account)), self.currency)

    @property
    def in_advance(self) -> Money:
        """What customers paid before there was anything to pay for, less what of it they got back."""
        return together((each.part.amount for each in self.on_account if each.part.of is None), self.currency)

    @property
    def fees(self) -> Money:
        """What stalls cost."""
        return -together((e.money for e in self.entries if e.what == "stall fee"), self.currency)

    @property
    def paid_for_honey(self) -> Money:
        """What bought-in honey cost, as far as that was said. The cost of the jars holds it; it is not taken off twice."""
        return together((each.paid for each in self.bought if each.paid is not None), self.currency)

    @property
    def differences(self) -> Money:
        """What was too much (above nothing) or too little in cash boxes."""
        return together((e.money for e in self.entries if e.what == "cash difference"), self.currency)

    @property
    def given_away_cost(self) -> Money:
        """What given, tasted, broken and missing jars cost to make."""
        free = ("given", "tasted", "sample", "broken", "discarded", "missing")
        return together((e.cost for e in self.entries if e.what in free), self.currency)

    @property
    def stock_worth(self) -> Money:
        """What is still in stock."""
        return together((one.worth for one in self.stock), self.currency)

    @property
    def cost_per_kg(self) -> Money | None:
        """What a kilogram in jars that left cost to make; goods without honey set aside. None before any did."""
        jars = [e for e in self.entries if e.count and e.mass]
        mass, cost = sum(e.mass.mg for e in jars), together((e.cost for e in jars), self.currency)
        return Money.rounded(cost.amount * 1_000_000 / mass, self.currency, HALF_UP) if mass > 0 else None

    def by(self, what: str) -> tuple[Sum, ...]:
        """Sums by "lot", "size", "market" or "month"."""
        names = {
            "lot": lambda e: e.lot or e.what,
            "size": lambda e: e.size or e.what,
            "market": lambda e: e.market,
            "month": lambda e: f"{e.day:%Y-%m}",
        }
        return summed(self.entries, names[what], self.currency)

    def foremost(self, what: str, others: str, most: int = MOST_ROWS) -> tuple[Sum, ...]:
        """The same, the smaller ones together under one name where there are too many for a page."""
        sums = self.by(what)
        if len(sums) <= most:
            return sums
        rest = sums[most - 1 :]
        joined = Sum(
            others,
            sum(s.sold for s in rest),
            sum(s.given for s in rest),
            sum(s.lost for s in rest),
            Mass(sum(s.sold_mass.mg for s in rest)),
            together((s.money for s in rest), self.currency),
            together((s.cost for s in rest), self.currency),
        )
        return (*sums[: most - 1], joined)


def stock_of(rows: Iterable[tuple[str, int]], worth: Mapping[str, Money], currency: str) -> tuple[InStock, ...]:
    """Jars at hand by size, each at what an unsold jar of it counts for."""
    counts: dict[str, int] = {}
    for size, count in rows:
        counts[size] = counts.get(size, 0) + count
    return tuple(
        InStock(size, count, worth.get(size, nothing(currency))) for size, count in sorted(counts.items()) if count
    )


@dataclass(frozen=True, slots=True)
class SellThrough:
    """How much of what was taken to market was sold there."""

    name: str
    taken: int
    sold: int

    @property
    def percent(self) -> int:
        """Whole per cent, half up."""
        return (200 * self.sold + self.taken) // (2 * self.taken) if self.taken else 0


def sell_through(days: Sequence[StallDay]) -> tuple[SellThrough, ...]:
    """By size, the best seller first."""
    taken: dict[str, int] = {}
    sold: dict[str, int] = {}
    for day in days:
        for line in day.lines:
            sold[line.size] = sold.get(line.size, 0) + line.count
        for lines in (day.lines, day.given, day.tasted, day.broken, day.back, day.missing):
            for line in lines:
                taken[line.size] = taken.get(line.size, 0) + line.count
    rows = [SellThrough(size, count, sold.get(size, 0)) for size, count in taken.items()]
    return tuple(sorted(rows, key=lambda r: (-r.sold, r.name)))


def document(year: Year) -> dict[str, Any]:
    """For programs."""

    def sums(what: str) -> list[dict[str, Any]]:
        return [
            {
                what: s.name,
                "sold": s.sold,
                "given": s.given,
                "lost": s.lost,
                "sold_g": s.sold_mass.g,
                "money": s.money.amount,
                "cost": s.cost.amount,
                "left": s.left.amount,
                "per_kg": s.per_kg and s.per_kg.amount,
            }
            for s in year.by(what)
        ]

    whole = year.whole
    return {
        "year": year.name,
        "currency": year.currency,
        "carried_in_g": year.carried_in.g,
        "came_in_g": year.came_in.g,
        "bought_in_g": total(each.net for each in year.bought).g,
        "paid_for_honey": year.paid_for_honey.amount,
        "bought_without_price": [each.bucket for each in year.bought if each.paid is None],
        "sold": whole.sold,
        "given": whole.given,
        "lost": whole.lost,
        "samples": sum(e.count for e in year.entries if e.what == "sample"),
        "money_in": year.money_in.amount,
        "received": year.received.amount,
        "returns": -year.returned.amount,
        "refunds": year.refunded.amount,
        "stall_fees": year.fees.amount,
        "cash_differences": year.differences.amount,
        "cost_of_jars": whole.cost.amount,
        "left": year.left.amount,
        "tax_stated": bool(year.taxes.rates),
        "tax_in_money": year.tax_in.amount,
        "tax_received": year.tax_received.amount,
        "paid_in_advance": year.in_advance.amount,
        "by_tax": [
            {
                "tax": str(one.rate) if one.rate else None,
                "money": one.money.amount,
                "without_tax": one.net.amount,
                "of_it_tax": one.tax.amount,
                "ask": one.rate.asks if one.rate else "",
            }
            for one in year.by_tax
        ],
        "cost_per_kg": year.cost_per_kg and year.cost_per_kg.amount,
        "given_away_cost": year.given_away_cost.amount,
        "stock": [{"size": s.size, "count": s.count, "worth": s.worth.amount} for s in year.stock],
        "stock_worth": year.stock_worth.amount,
        "where_g": {str(place): mass.g for place, mass in (year.ends or {}).items() if mass},
        "by_lot": sums("lot"),
        "by_size": sums("size"),
        "by_market": sums("market"),
        "by_month": sums("month"),
        "owed": [
            {
                "customer": a.customer,
                "delivered": a.delivered.amount,
                "returned": a.returned.amount,
                "paid": a.paid.amount,
                "open": a.open.amount,
            }
            for a in year.accounts
        ],
        "days": [_day(day) for day in year.days],
        "asked_about": [
            {"lot": run.lot, "unexplained_g": run.unexplained.g, "because": run.because} for run in year.asked_about
        ],
    }


def _day(day: StallDay) -> dict[str, Any]:
    money = balance_of(day)
    return {
        "day": day.day,
        "place": day.place,
        "sold": sum(line.count for line in day.lines),
        "back": sum(line.count for line in day.back),
        "expected": money.expected.amount,
        "difference": money.difference and money.difference.amount,
    }
