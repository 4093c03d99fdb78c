"""Sell: jars that were sold, given away, brought back or discarded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.sale import LotNotNamed, ReasonMissing
from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine
from labelkit.season.once import booked_once
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.shelf import agreed_prices, customer_facts, lot_named, paid_prices

if TYPE_CHECKING:
    from labelkit.record.work import Work

#: What may become of jars, and the kind of event that books it.
WAYS = {"sold": "sell", "given": "give", "returned": "return", "discarded": "discard"}


@dataclass(frozen=True, slots=True)
class JarsGone:
    """What somebody says became of jars of one lot.

    ``prices`` are of one jar, where it was not the customer's or the list's; ``taken`` is what was really in a box
    nobody stood beside.
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


@dataclass(frozen=True, slots=True)
class JarsBooked:
    """The event as it was booked, and what all its jars came to."""

    way: str
    event: Sale | Give | Return | Discard
    seq: int

    @property
    def amount(self) -> Money | None:
        """The prices of all jars that have one, together."""
        sums = [line.price * line.count for line in self.event.lines if line.price]
        return sum(sums[1:], sums[0]) if sums else None

    @property
    def jars(self) -> int:
        """How many jars."""
        return sum(line.count for line in self.event.lines)


def sell(work: Work, asked: JarsGone, day: date) -> JarsBooked:
    """Book what became of jars; a step repeated under its key gives what the first one booked.

    Raises :class:`~labelkit.errors.sale.LotNotNamed`, :class:`~labelkit.errors.sale.ReasonMissing`,
    :class:`~labelkit.errors.run.JarSizeUnknown` and what the record refuses.
    """
    if asked.way in ("returned", "discarded") and not asked.reason:
        raise ReasonMissing(asked.way)
    before = booked_once(work, WAYS[asked.way], lambda event: _counts(event.lines) == dict(asked.jars))
    if before:
        return JarsBooked(asked.way, before.event, before.seq)
    event = _event(work, asked, day)
    return JarsBooked(asked.way, event, work.add(event).seq)


def _counts(lines: tuple[SaleLine, ...]) -> dict[str, int]:
    return {line.size: line.count for line in lines}


def _event(work: Work, asked: JarsGone, day: date) -> Sale | Give | Return | Discard:
    if not asked.lot:
        raise LotNotNamed(", ".join(sorted({stock.lot for stock in work.stock()})) or "none yet")
    lot = lot_named(work, asked.lot)
    held = asked.way == "discarded" and _all_on_hold(work, lot, asked.jars)
    lines = _lines(work, settings_of(work), lot, asked, held)
    if asked.way == "sold":
        return Sale(day, lines, asked.to, asked.customer, asked.place, asked.taken)
    if asked.way == "given":
        return Give(day, lines, asked.to, asked.customer)
    if asked.way == "returned":
        return Return(day, lines, asked.reason or "", asked.customer)
    return Discard(day, lines, asked.reason or "", held)


def _all_on_hold(work: Work, lot: str, jars: Mapping[str, int]) -> bool:
    """Whether the shelf of what is on hold has all these jars; then they are destroyed from there."""
    there = {s.size: s.count for s in work.stock(Account.HELD, lots=[lot])}
    return all(there.get(size, 0) >= count for size, count in jars.items())


def _lines(work: Work, season: SeasonSettings, lot: str, asked: JarsGone, held: bool) -> tuple[SaleLine, ...]:
    shelf = Account.SOLD if asked.way == "returned" else Account.HELD if held else Account.JARS
    stock = {s.size: s for s in work.stock(shelf, lots=[lot]) if s.count}
    own = {**agreed_prices(customer_facts(work, asked.customer), season.currency), **asked.prices}
    listed = paid_prices(season, work.settings()) if asked.way in ("sold", "returned") else {}
    found = []
    for size, count in asked.jars.items():
        there = stock.get(size)
        fill = Mass(there.mass.mg // there.count) if there else season.fill(size, work.at.date())
        price = own.get(size) or (listed[season.size(size).size] if listed else None)
        found.append(SaleLine(lot, size, count, fill, price))
    return tuple(found)
