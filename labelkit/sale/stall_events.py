"""A market day in two events: what was loaded, and what became of it.

A day has a key, its date and its place, so that the same day read twice from a phone, a slip of paper or both is one
day and not two.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.measures import Money
from labelkit.sale.events import SaleLine


def day_key(day: date, place: str) -> str:
    """The name of a market day.

    >>> day_key(date(2026, 8, 1), "Mill  square market ")
    '2026-08-01 Mill square market'
    """
    return f"{day.isoformat()} {' '.join(place.split())}"


@dataclass(frozen=True, slots=True)
class StallLoad(Event):
    """Jars taken to a market, and the change in the cash box. A second load of the same day is added to the first."""

    kind: ClassVar[str] = "load"
    title: ClassVar[str] = "loaded"
    voidable: ClassVar[bool] = True
    day: date
    place: str
    jars: tuple[SaleLine, ...]  # each with the price on its card
    change: Money | None = None
    because: str = ""  # said by a person where the jars were asked about

    @property
    def key(self) -> str:
        """The day's key."""
        return day_key(self.day, self.place)

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, to the stall."""
        return tuple(m for line in self.jars for m in line.moved(Account.JARS, Account.STALL))


@dataclass(frozen=True, slots=True)
class StallDay(Event):
    """What became of everything that was loaded for one market day, and of the money.

    ``lines`` are the jars sold, at the price on the card; ``rebates`` is what was let off on the whole day, ``rounding``
    what cash rounding took (below nothing) or brought. ``missing`` jars are neither sold nor back, and nobody can say
    where they are.
    """

    kind: ClassVar[str] = "unload"
    title: ClassVar[str] = "unloaded"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    day: date
    place: str
    lines: tuple[SaleLine, ...]
    given: tuple[SaleLine, ...] = ()
    tasted: tuple[SaleLine, ...] = ()
    broken: tuple[SaleLine, ...] = ()
    back: tuple[SaleLine, ...] = ()
    missing: tuple[SaleLine, ...] = ()
    change: Money | None = None
    cash_counted: Money | None = None  # what was in the box at the end, change included
    cards: Money | None = None  # what was paid by card
    rebates: Money | None = None
    rounding: Money | None = None
    fee: Money | None = None  # what the stall cost
    to: str = "stall"

    @property
    def key(self) -> str:
        """The day's key."""
        return day_key(self.day, self.place)

    def counted(self) -> dict[tuple[str, str], dict[str, int]]:
        """How many jars of each lot and size were sold, given, tasted, broken, brought back, and are missing."""
        ends = {
            "sold": self.lines,
            **{way: getattr(self, way) for way in ("given", "tasted", "broken", "back", "missing")},
        }
        found: dict[tuple[str, str], dict[str, int]] = {}
        for way, lines in ends.items():
            for line in lines:
                counts = found.setdefault((line.lot, line.size), dict.fromkeys(ends, 0))
                counts[way] += line.count
        return found

    def describe(self, locale: str) -> str:
        """Return what became of the jars of each lot and size, and where."""
        jars = [
            f"{lot} {size}: {', '.join(f'{count} {way}' for way, count in ways.items() if count)}"
            for (lot, size), ways in self.counted().items()
        ]
        return f"{'; '.join(jars)} {self.preposition} {self.place}".strip()

    def movements(self) -> tuple[Movement, ...]:
        """From the stall to wherever each jar went; what came back is in stock again."""
        ends = (
            (Account.SOLD, self.lines),
            (Account.GIVEN, (*self.given, *self.tasted)),
            (Account.BROKEN, self.broken),
            (Account.JARS, self.back),
            (Account.UNEXPLAINED, self.missing),
        )
        return tuple(m for account, lines in ends for line in lines for m in line.moved(Account.STALL, account))
