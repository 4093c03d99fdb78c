"""Jars given another lot code: the new lot remembers the old one, and a trace walks through."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.sale.events import SaleLine


@dataclass(frozen=True, slots=True)
class Relabel(Event):
    """Jars in stock of one lot that now bear the code of another, and, with ``size``, the label of another size.

    Jars that hold too little for their own label may hold enough for that of a smaller one.
    """

    kind: ClassVar[str] = "relabel"
    title: ClassVar[str] = "relabelled"
    day: date
    into: str
    lines: tuple[SaleLine, ...]  # as they were before, all of one lot
    reason: str
    size: str = ""

    def movements(self) -> tuple[Movement, ...]:
        """Out of the old lot, into the new one; both in stock.

        >>> from labelkit.measures import Mass
        >>> line = SaleLine("L26201AAC", "one pound", 2, Mass.of_grams(454))
        >>> [(m.lot, m.count) for m in Relabel(date(2026, 8, 1), "L26213AAC", (line,), "smudged").movements()]
        [('L26201AAC', -2), ('L26213AAC', 2)]
        """
        return tuple(
            m
            for line in self.lines
            for m in (
                Movement(Account.JARS, line.lot, -line.count * line.fill, line.size, -line.count),
                Movement(Account.JARS, self.into, line.count * line.fill, self.size or line.size, line.count),
            )
        )
