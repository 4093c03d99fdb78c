"""Where jars go: sold, given away, brought back, discarded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.movement import Account, Movement, moved
from labelkit.measures import Mass, Money


@dataclass(frozen=True, slots=True)
class SaleLine:
    """So many jars of one size of one lot, what each holds, and what each was sold for."""

    lot: str
    size: str
    count: int
    fill: Mass
    price: Money | None = None

    def moved(self, source: Account, target: Account) -> tuple[Movement, ...]:
        """These jars, from one account to another."""
        return moved(source, target, self.lot, self.count * self.fill, self.size, self.count)


@dataclass(frozen=True, slots=True)
class PriceSet:
    """From this day on a jar of this size costs so much to make and is sold for so much."""

    kind: ClassVar[str] = "price"
    day: date
    size: str
    declares: str
    price: Money
    cost: Money

    def movements(self) -> tuple[Movement, ...]:
        """A price moves no honey."""
        return ()


@dataclass(frozen=True, slots=True)
class Sale:
    """Jars sold: to whom in general (stall, shop, door), and to which customer where a recall needs it."""

    kind: ClassVar[str] = "sell"
    day: date
    lines: tuple[SaleLine, ...]
    to: str = "stall"
    customer: str | None = None
    place: str | None = None
    taken: Money | None = None  # what was really in the box, where nobody stood beside it

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, sold."""
        return tuple(m for line in self.lines for m in line.moved(Account.JARS, Account.SOLD))


@dataclass(frozen=True, slots=True)
class Give:
    """Jars given away, tasted, used at home, or a helper's share."""

    kind: ClassVar[str] = "give"
    day: date
    lines: tuple[SaleLine, ...]
    to: str = "gift"
    customer: str | None = None

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, given."""
        return tuple(m for line in self.lines for m in line.moved(Account.JARS, Account.GIVEN))


@dataclass(frozen=True, slots=True)
class Return:
    """Sold jars brought back."""

    kind: ClassVar[str] = "return"
    day: date
    lines: tuple[SaleLine, ...]
    reason: str
    customer: str | None = None

    def movements(self) -> tuple[Movement, ...]:
        """No longer sold, back in stock."""
        return tuple(m for line in self.lines for m in line.moved(Account.SOLD, Account.JARS))


@dataclass(frozen=True, slots=True)
class Discard:
    """Jars destroyed on purpose: out of stock, or ``held`` ones from the shelf of what is on hold."""

    kind: ClassVar[str] = "discard"
    day: date
    lines: tuple[SaleLine, ...]
    reason: str
    held: bool = False

    def movements(self) -> tuple[Movement, ...]:
        """Off their shelf, gone."""
        shelf = Account.HELD if self.held else Account.JARS
        return tuple(m for line in self.lines for m in line.moved(shelf, Account.DISCARDED))
