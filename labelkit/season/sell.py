"""Sell: jars that were sold, given away, brought back or discarded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

from labelkit.errors.sale import CustomerMissing, LotNotNamed, PriceMissing, ReasonMissing
from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine, Sold
from labelkit.season.deliver import CustomerFacts, note_customer
from labelkit.season.once import booked_once
from labelkit.season.product_sizes import meant
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.shelf import agreed_prices, customer_facts, lot_named, paid_prices
from labelkit.season.unmet import against_jars, refuse
from labelkit.season.whose_jars import who_has
from labelkit.trace.recall import lines_of

if TYPE_CHECKING:
    from labelkit.record.work import Work

#: What may become of jars, and the kind of event that books it.
WAYS = {"sold": "sell", "given": "give", "returned": "return", "discarded": "discard"}
#: Who buys jars to sell or use them on. A recall calls them, so they have a name.
BUSINESSES = ("shop", "wholesale", "restaurant")
#: Jars that never leave the house are nobody's risk but the producer's own.
OWN_USE = "own use"


@dataclass(frozen=True, slots=True)
class JarsGone:
    """What somebody says became of jars of one lot.

    ``prices`` are of one jar, where it was not the customer's or the list's; ``taken`` is what was really in a box
    nobody stood beside; ``state`` is how they came back; ``phone`` where a customer is reached; ``because`` why jars that are asked about may go.
    """

    lot: str
    jars: Mapping[str, int]
    way: str = "sold"
    to: str = "stall"
    customer: str | None = None
    place: str | None = None
    reason: str | None = None
    prices: Mapping[str, Money] = field(default_factory=dict)
    taken: Money | None = None
    phone: str = ""
    because: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class JarsBooked:
    """The event as it was booked, what all its jars came to, and whether the customer's phone number is still missing."""

    way: str
    event: Sale | Give | Return | Discard
    seq: int
    phone_missing: bool = False

    @property
    def amount(self) -> Money | None:
        """The prices of all jars that have one, together."""
        sums = [line.price * line.count for line in self.event.lines if line.price]
        return sum(sums[1:], sums[0]) if sums else None

    @property
    def lines(self) -> tuple[SaleLine, ...]:
        """Every line; gifts that came back too."""
        return (*self.event.lines, *getattr(self.event, "gifts", ()))

    @property
    def jars(self) -> int:
        """How many jars."""
        return sum(line.count for line in self.lines)


def sell(work: Work, asked: JarsGone, day: date) -> JarsBooked:
    """Book what became of jars; a step repeated under its key gives what the first one booked.

    Raises :class:`~labelkit.errors.sale.LotNotNamed`, :class:`~labelkit.errors.sale.ReasonMissing`,
    :class:`~labelkit.errors.sale.CustomerMissing`, :class:`~labelkit.errors.sale.NotTheirJars`,
    :class:`~labelkit.errors.run.JarSizeUnknown`, what stands against
    the jars (:mod:`labelkit.season.unmet`) and what the record refuses.
    """
    if asked.way in ("returned", "discarded") and not asked.reason:
        raise ReasonMissing(asked.way)
    if asked.way == "sold" and asked.to.casefold() in BUSINESSES and not (asked.customer or "").strip():
        raise CustomerMissing(asked.to)
    asked = _meant(work, asked)
    before = booked_once(
        work, WAYS[asked.way], lambda event: _counts(JarsBooked(asked.way, event, 0).lines) == dict(asked.jars)
    )
    if before:
        return JarsBooked(asked.way, before.event, before.seq)
    event = _event(work, asked, day)
    booked = work.add(event)
    if asked.customer and asked.phone:
        note_customer(work, CustomerFacts(asked.customer, asked.phone), day)
    out = asked.customer and asked.way in ("sold", "given")
    return JarsBooked(asked.way, event, booked.seq, bool(out) and not customer_facts(work, asked.customer).get("phone"))


def _meant(work: Work, asked: JarsGone) -> JarsGone:
    """A jar's name means the size of the lot that is filled into such jars."""
    if not asked.lot:
        return asked
    season, lot = settings_of(work), lot_named(work, asked.lot)
    return replace(asked, jars=meant(work, season, asked.jars, lot), prices=meant(work, season, asked.prices, lot))


def _counts(lines: Iterable[SaleLine]) -> dict[str, int]:
    counts = Counter[str]()
    for line in lines:
        counts[line.size] += line.count
    return dict(counts)


def _event(work: Work, asked: JarsGone, day: date) -> Sale | Give | Return | Discard:
    if not asked.lot:
        raise LotNotNamed(", ".join(sorted({stock.lot for stock in work.stock()})) or "none yet")
    lot, season = lot_named(work, asked.lot), settings_of(work, day)
    if asked.way == "returned":
        return _returned(work, season, lot, asked, day)
    if asked.way != "discarded" and asked.to != OWN_USE:
        refuse(against_jars(work, {(lot, size): count for size, count in asked.jars.items()}, day), asked.because)
    held = asked.way == "discarded" and _all_on_hold(work, lot, asked.jars)
    lines = _lines(work, season, lot, asked, day, Account.HELD if held else Account.JARS)
    because = asked.because.strip()
    if asked.way == "sold":
        return Sale(day, lines, asked.to, asked.customer, asked.place, asked.taken, because)
    if asked.way == "given":
        return Give(day, lines, asked.to, asked.customer, because)
    return Discard(day, lines, asked.reason or "", held)


def _all_on_hold(work: Work, lot: str, jars: Mapping[str, int]) -> bool:
    """Whether the shelf of what is on hold has all these jars; then they are destroyed from there."""
    there = {s.size: s.count for s in work.stock(Account.HELD, lots=[lot])}
    return all(there.get(size, 0) >= count for size, count in jars.items())


def _lines(
    work: Work, season: SeasonSettings, lot: str, asked: JarsGone, day: date, shelf: Account
) -> tuple[SaleLine, ...]:
    stock = {s.size: s for s in work.stock(shelf, lots=[lot]) if s.count}
    own, listed = _prices(work, season, asked, day) if asked.way == "sold" else ({}, {})
    found = []
    for size, count in asked.jars.items():
        there = stock.get(size)
        fill = Mass(there.mass.mg // there.count) if there else season.holds(size, work.at.date())
        price = own.get(size) or listed.get(season.size(size).size)
        if price is None and asked.way == "sold":
            raise PriceMissing(size)
        found.append(SaleLine(lot, size, count, fill, price))
    return tuple(found)


def _prices(
    work: Work, season: SeasonSettings, asked: JarsGone, day: date
) -> tuple[dict[str, Money], dict[str, Money]]:
    """What this customer pays, by what was said or agreed; and the list."""
    agreed = agreed_prices(customer_facts(work, asked.customer), season.currency)
    return {**agreed, **asked.prices}, paid_prices(season, asked.to, day)


def _returned(work: Work, season: SeasonSettings, lot: str, asked: JarsGone, day: date) -> Return:
    """Jars that came back, set apart. A jar that was sold is paid back at its own price, a gift not at all."""
    out = who_has(work, lot, asked.jars, asked.customer or "")
    lines: list[SaleLine] = []
    gifts: list[SaleLine] = []
    for size, count in asked.jars.items():
        season.size(size)
        given = out.gifts(size)
        free = min(count, given) if asked.to == "gift" else min(given, max(0, count - len(out.sold(size))))
        gifts += _back(work, Account.GIVEN, lot, size, free)
        sold = [(asked.prices.get(size, price), sale) for price, sale in out.sold(size)]
        lines += _as_sold(_back(work, Account.SOLD, lot, size, count - free), sold)
    return Return(
        day,
        tuple(lines),
        asked.reason or "",
        asked.customer or out.customer or None,
        tuple(gifts),
        held=True,
        state=asked.state,
    )


def _back(work: Work, account: Account, lot: str, size: str, count: int) -> tuple[SaleLine, ...]:
    """So many of the jars that went there, by what they hold; the record refuses more than there are."""
    there = next((s for s in work.stock(account, lots=[lot]) if s.size == size and s.count >= count), None)
    if not count:
        return ()
    if there is None:
        return (SaleLine(lot, size, count, settings_of(work).holds(size, work.at.date())),)
    return lines_of(lot, size, count, there.count, there.mass)


def _as_sold(lines: Iterable[SaleLine], sold: list[tuple[Money | None, Sold]]) -> Iterator[SaleLine]:
    """The lines parted where the price of their jars, or the sale they came back from, changes."""
    left = list(sold)
    for line in lines:
        mine, left = left[: line.count], left[line.count :]
        for (price, sale), jars in groupby(mine):
            yield replace(line, count=len(list(jars)), price=price, sold=sale)
