"""The season's result: what every jar brought and cost, summed by lot, by size and by market, to the last cent.

A jar's cost is what the price list said it cost to make on the day. Money taken at a market is shared out over the jars
sold there by their prices, so that rebates and rounded cash land where they belong and no sum loses a cent. A
difference in the cash box is a line of its own.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from labelkit.lots.bucket_life import SOLD, TakenOut
from labelkit.measures import NOTHING, Mass, Money, total
from labelkit.run import Run
from labelkit.sale.account_events import Delivery
from labelkit.sale.apportion import apportion, nothing, together
from labelkit.sale.events import Discard, Give, PriceSet, Return, Sale, SaleLine
from labelkit.sale.settlement import balance_of
from labelkit.sale.stall_events import StallDay
from labelkit.sale.stock_take import StockTake

BRING = ("sold", "delivered", "returned")
GIVE_AWAY = ("given", "tasted")
IN_BULK = "in bulk"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the season: jars of one lot and size that went one way on one day, or money without jars."""

    day: date
    what: (
        str  # sold, delivered, returned, given, tasted, sample, broken, discarded, missing, stall fee, cash difference
    )
    market: str
    lot: str
    size: str
    count: int
    mass: Mass
    money: Money  # in; below nothing where it went out
    cost: Money  # what these jars cost to make
    customer: str = ""
    channel: str = ""  # stall, shop, door …: with the product and the day it says which tax is in the money
    product: str = ""
    taxed_on: date | None = None  # the day whose tax is in the money, where that is not the entry's own

    @property
    def tax_day(self) -> date:
        """The day whose rate counts: that of the sale, also for jars that came back later."""
        return self.taxed_on or self.day


class Costs:
    """What a jar of a size cost to make, as the price list said on a day; nothing before it said so."""

    def __init__(self, prices: Iterable[PriceSet], currency: str) -> None:
        self.currency = currency
        self._dated: dict[str, list[PriceSet]] = defaultdict(list)
        for one in prices:
            self._dated[one.size].append(one)
        for dated in self._dated.values():
            dated.sort(key=lambda one: one.day)

    def on(self, size: str, day: date) -> Money:
        """The cost of one jar. Jars sold before the first price take the first price's cost."""
        dated = self._dated.get(size)
        if not dated:
            return nothing(self.currency)
        return dated[max(bisect_right(dated, day, key=lambda one: one.day) - 1, 0)].cost


def _no_product(lot: str, size: str) -> str:
    return ""


def entries(
    events: Iterable[Any], currency: str, product_of: Callable[[str, str], str] = _no_product
) -> tuple[Entry, ...]:
    """Every line of the season, in the order of the events; struck events are not to be handed in.

    ``product_of`` names the product of a lot and size, where tax is told by product.
    """
    every = tuple(events)
    costs = Costs((e for e in every if isinstance(e, PriceSet)), currency)
    made = _Maker(costs, currency, product_of)
    return tuple(entry for event in every for entry in made.of(event))


class _Maker:
    def __init__(self, costs: Costs, currency: str, product_of: Callable[[str, str], str]) -> None:
        self.costs, self.currency, self.product_of = costs, currency, product_of

    def of(self, event: Any) -> Iterator[Entry]:
        if isinstance(event, StallDay):
            yield from self._stall(event)
        elif isinstance(event, Sale):
            yield from self._sale(event)
        elif isinstance(event, Delivery):
            yield from self._lines(event, "delivered", event.lines, event.customer, customer=event.customer)
        elif isinstance(event, Return):
            back = event.customer or "brought back"
            sold = self._lines(event, "returned", event.lines, back, customer=event.customer or "")
            yield from (_undone(entry) for entry in (*sold, *self._free(event, "given", event.gifts, "gift")))
        elif isinstance(event, Run):
            for what, filled in (("broken", event.broken), ("sample", event.samples)):
                lines = [SaleLine(event.lot, each.size, each.count, each.fill) for each in filled]
                yield from self._free(event, what, lines, "filling")
        elif isinstance(event, StockTake):
            yield from self._free(event, "missing", event.missing, "counted")
            yield from (_undone(entry) for entry in self._free(event, "missing", event.surplus, "counted"))
        elif isinstance(event, TakenOut):
            yield from self._bulk(event)
        elif isinstance(event, Give):
            yield from self._free(event, "given", event.lines, event.to)
        elif isinstance(event, Discard):
            yield from self._free(event, "discarded", event.lines, event.reason)

    def _bulk(self, out: TakenOut) -> Iterator[Entry]:
        """Honey sold out of its bucket: no jars, and nothing it cost to make them."""
        if out.how == SOLD:
            money, none = out.price or nothing(self.currency), nothing(self.currency)
            who = out.customer or ""
            yield Entry(out.day, "sold", who, out.bucket, IN_BULK, 0, out.mass, money, none, who, IN_BULK)

    def _stall(self, day: StallDay) -> Iterator[Entry]:
        money = balance_of(day)
        shares = apportion(money.expected, [line.amount.minor for line in day.lines])
        for line, share in zip(day.lines, shares, strict=True):
            yield self._entry(day, "sold", day.place, line, share)
        if not day.lines and money.expected.minor:
            # Money was let off or rounded on a day that sold nothing: it has no jars to go with.
            yield self._money(day.day, "cash difference", day.place, money.expected)
        for what in ("given", "tasted", "broken", "missing"):
            yield from self._free(day, what, getattr(day, what), day.place)
        if money.difference is not None and money.difference.minor:
            yield self._money(day.day, "cash difference", day.place, money.difference)
        if day.fee is not None and day.fee.minor:
            yield self._money(day.day, "stall fee", day.place, -day.fee)

    def _sale(self, sale: Sale) -> Iterator[Entry]:
        # At a stall the place is the market; elsewhere it is no more than the customer's address.
        market = (sale.place if sale.to == "stall" else sale.customer) or sale.place or sale.to
        yield from self._lines(sale, "sold", sale.lines, market, customer=sale.customer or "")
        if sale.taken is not None:
            listed = together((line.count * line.price for line in sale.lines if line.price), self.currency)
            if (sale.taken - listed).minor:
                yield self._money(sale.day, "cash difference", market, sale.taken - listed)

    def _lines(
        self, event: Any, what: str, lines: Sequence[SaleLine], market: str, customer: str = ""
    ) -> Iterator[Entry]:
        for line in lines:
            money = line.count * line.price if line.price else nothing(self.currency)
            yield self._entry(event, what, market, line, money, customer)

    def _free(self, event: Any, what: str, lines: Sequence[SaleLine], market: str) -> Iterator[Entry]:
        for line in lines:
            yield self._entry(event, what, market, line, nothing(self.currency))

    def _entry(self, event: Any, what: str, market: str, line: SaleLine, money: Money, customer: str = "") -> Entry:
        cost = line.count * self.costs.on(line.size, event.day)
        sold, product = line.sold, self.product_of(line.lot, line.size)
        return Entry(
            event.day,
            what,
            market,
            line.lot,
            line.size,
            line.count,
            line.count * line.fill,
            money,
            cost,
            customer,
            sold.to if sold else getattr(event, "to", ""),
            product,
            sold.day if sold else None,
        )

    def _money(self, day: date, what: str, market: str, money: Money) -> Entry:
        return Entry(day, what, market, "", "", 0, NOTHING, money, nothing(self.currency))


def _undone(entry: Entry) -> Entry:
    """The same jars and money the other way."""
    return replace(entry, count=-entry.count, mass=-entry.mass, money=-entry.money, cost=-entry.cost)


@dataclass(frozen=True, slots=True)
class Sum:
    """Entries of one name, together."""

    name: str
    sold: int
    given: int
    lost: int  # broken, discarded, missing
    sold_mass: Mass
    money: Money
    cost: Money

    @property
    def left(self) -> Money:
        """Money in, less what the jars cost."""
        return self.money - self.cost

    @property
    def per_kg(self) -> Money | None:
        """Money in for each kilogram sold; None where nothing was."""
        if self.sold_mass.mg <= 0:
            return None
        return Money.rounded(self.money.amount / self.sold_mass.kg, self.money.currency)


def summed(every: Iterable[Entry], by: Callable[[Entry], str], currency: str) -> tuple[Sum, ...]:
    """The entries added up under each name, the most money first; together they are the season."""
    groups: dict[str, list[Entry]] = defaultdict(list)
    for entry in every:
        groups[by(entry)].append(entry)
    sums = [sum_of(name, group, currency) for name, group in groups.items()]
    return tuple(sorted(sums, key=lambda s: (-s.money.minor, s.name)))


def sum_of(name: str, group: Sequence[Entry], currency: str) -> Sum:
    """Some entries together under a name."""

    def count(*what: str) -> int:
        return sum(e.count for e in group if e.what in what)

    return Sum(
        name,
        count(*BRING),
        count(*GIVE_AWAY),
        count("broken", "discarded", "missing"),
        total(e.mass for e in group if e.what in BRING),
        together((e.money for e in group), currency),
        together((e.cost for e in group), currency),
    )
