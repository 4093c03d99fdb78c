"""Goods that are not honey coming into stock: wax, candles and other things, made or bought, by the piece."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.measures import NOTHING


@dataclass(frozen=True, slots=True)
class Made(Event):
    """So many pieces of one size under a lot code of their own. No honey moves."""

    kind: ClassVar[str] = "made"
    title: ClassVar[str] = "goods made"
    voidable: ClassVar[bool] = True
    day: date
    lot: str
    size: str
    count: int

    def movements(self) -> tuple[Movement, ...]:
        """Into stock, from nowhere the record keeps."""
        return (Movement(Account.JARS, self.lot, NOTHING, self.size, self.count),)
