"""A stock-take of filled jars: what was counted against the record. What is missing is not found; it was not destroyed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.sale.events import SaleLine


@dataclass(frozen=True, slots=True)
class StockTake(Event):
    """Jars that were not there when somebody counted, and jars that were there though the record had fewer."""

    kind: ClassVar[str] = "count"
    title: ClassVar[str] = "stock-take"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    day: date
    missing: tuple[SaleLine, ...]
    surplus: tuple[SaleLine, ...]
    because: str
    held: tuple[SaleLine, ...] = ()  # of the jars set apart, those that were not there

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, or off the held shelf, into the unexplained, or back from it."""
        return (
            *(m for line in self.missing for m in line.moved(Account.JARS, Account.UNEXPLAINED)),
            *(m for line in self.held for m in line.moved(Account.HELD, Account.UNEXPLAINED)),
            *(m for line in self.surplus for m in line.moved(Account.UNEXPLAINED, Account.JARS)),
        )
