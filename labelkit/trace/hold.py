"""Lots put on hold, and released again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.sale.events import SaleLine


@dataclass(frozen=True, slots=True)
class Hold(Event):
    """Lots (jars or buckets) that stay where they are until released, and the jars of them set apart."""

    kind: ClassVar[str] = "hold"
    title: ClassVar[str] = "put on hold"
    ignores_holds: ClassVar[bool] = True
    day: date
    lots: tuple[str, ...]
    because: str
    jars: tuple[SaleLine, ...] = ()
    at_stall: tuple[SaleLine, ...] = ()

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, and back from the stall, to the held shelf."""
        return (
            *(m for line in self.jars for m in line.moved(Account.JARS, Account.HELD)),
            *(m for line in self.at_stall for m in line.moved(Account.STALL, Account.HELD)),
        )


@dataclass(frozen=True, slots=True)
class Release(Event):
    """Lots that may move again, and the jars put back into stock."""

    kind: ClassVar[str] = "release"
    title: ClassVar[str] = "released"
    ignores_holds: ClassVar[bool] = True
    day: date
    lots: tuple[str, ...]
    because: str
    jars: tuple[SaleLine, ...] = ()

    def movements(self) -> tuple[Movement, ...]:
        """From the held shelf back into stock."""
        return tuple(m for line in self.jars for m in line.moved(Account.HELD, Account.JARS))


def holds_after(held: dict[str, tuple[str, str]], happened: Any) -> dict[str, tuple[str, str]]:
    """Lots on hold (since which day, and why) once an event has happened.

    >>> held = holds_after({}, Hold(date(2026, 7, 20), ("L1", "B2"), "a splinter was found"))
    >>> sorted(holds_after(held, Release(date(2026, 7, 21), ("B2",), "it was wax")))
    ['L1']
    """
    if isinstance(happened, Hold):
        return held | {lot: (happened.day.isoformat(), happened.because) for lot in happened.lots}
    if isinstance(happened, Release):
        return {lot: why for lot, why in held.items() if lot not in happened.lots}
    return held
