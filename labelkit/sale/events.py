"""Where jars go: sold, given away, brought back, discarded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.errors.sale import NoDeclaredWeight
from labelkit.lots.event import PERSONAL, Event
from labelkit.lots.movement import Account, Movement, moved
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.rounding import HALF_UP


@dataclass(frozen=True, slots=True)
class Sold:
    """The sale jars came back from: its day and its channel, which say what tax was in their price."""

    day: date
    to: str


@dataclass(frozen=True, slots=True)
class SaleLine:
    """So many jars of one size of one lot, what each holds, and what each was sold for."""

    lot: str
    size: str
    count: int
    fill: Mass
    price: Money | None = None
    sold: Sold | None = None  # of jars that came back

    @property
    def amount(self) -> Money:
        """Return what these jars were sold for. Raises ValueError where the line has no price."""
        if self.price is None:
            raise ValueError(f"{self.lot} {self.size}: no price")
        return self.count * self.price

    def moved(self, source: Account, target: Account) -> tuple[Movement, ...]:
        """These jars, from one account to another."""
        return moved(source, target, self.lot, self.count * self.fill, self.size, self.count)


@dataclass(frozen=True, slots=True)
class PriceSet(Event):
    """From this day on a jar of this size costs so much to make and is sold for so much."""

    kind: ClassVar[str] = "price"
    title: ClassVar[str] = "price set"
    voidable: ClassVar[bool] = True
    day: date
    size: str
    declares: Declared | None  # nothing for goods that are sold by the piece
    price: Money
    cost: Money
    uses: Mass | None = None  # what a jar really takes to its fill line
    brimful_ml: Decimal | None = None  # the volume that was reckoned from
    headspace: Decimal | None = None  # and the per cent of it that stays free
    product: str = ""  # what is sold in it; the season's own honey unless named
    retired: bool = False  # from this day on it is no longer filled or offered
    by_weight: bool = False  # each piece has its own weight; the price is of what is declared here, such as 1 kg
    piece_of: str = ""  # one weight of a size that is sold by weight
    jar: str = ""  # the jar size it is filled into, where another product has a price of that name

    @property
    def weight(self) -> Declared:
        """What its label declares. Raises :class:`~labelkit.errors.sale.NoDeclaredWeight` for goods that declare none."""
        if self.declares is None:
            raise NoDeclaredWeight(self.size)
        return self.declares

    @property
    def is_priced(self) -> bool:
        """Whether somebody named the price; a jar size may be filled and labelled before it has one."""
        return self.price.minor > 0

    @property
    def called(self) -> str:
        """Its product and its size; a size that shares its jar names the product itself."""
        return f"{self.product}, {self.size}" if self.product and not self.jar else self.size

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        per = f" per {self.weight.show(locale)}" if self.by_weight else ""
        price = self.price.show(locale) + per if self.is_priced else "no price yet"
        return f"{self.called} {'retired' if self.retired else price}"

    def piece(self, declares: Declared, day: date) -> PriceSet:
        """One piece of a size that is sold by weight: its name, its price and its cost half up to the minor unit.

        The whole-gram or hundredth-ounce weight on its label is what the buyer pays for; price and cost are of what the
        size declares.
        """
        price, cost = (
            Money.rounded(whole.amount * declares.grams / self.weight.grams, whole.currency, HALF_UP)
            for whole in (self.price, self.cost)
        )
        name = f"{self.size} {declares.text}"
        return PriceSet(day, name, declares, price, cost, product=self.product, piece_of=self.size)


@dataclass(frozen=True, slots=True)
class Sale(Event):
    """Jars sold: to whom in general (stall, shop, door), and to which customer where a recall needs it."""

    kind: ClassVar[str] = "sell"
    title: ClassVar[str] = "sold"
    voidable: ClassVar[bool] = True
    preposition: ClassVar[str] = "to"
    day: date
    lines: tuple[SaleLine, ...]
    to: str = "stall"
    customer: str | None = None
    place: str | None = None
    taken: Money | None = None  # what was really in the box, where nobody stood beside it
    because: str = ""  # said by a person where the jars were asked about

    @property
    def personal(self) -> tuple[str, ...]:
        """The place too, where it is not a market's but somebody's own."""
        return (*PERSONAL, "place") if self.customer or self.to != "stall" else PERSONAL

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, sold."""
        return tuple(m for line in self.lines for m in line.moved(Account.JARS, Account.SOLD))


@dataclass(frozen=True, slots=True)
class Give(Event):
    """Jars given away, tasted, used at home, or a helper's share."""

    kind: ClassVar[str] = "give"
    title: ClassVar[str] = "given"
    voidable: ClassVar[bool] = True
    preposition: ClassVar[str] = "to"
    day: date
    lines: tuple[SaleLine, ...]
    to: str = "gift"
    customer: str | None = None
    because: str = ""  # said by a person where the jars were asked about

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, given."""
        return tuple(m for line in self.lines for m in line.moved(Account.JARS, Account.GIVEN))


OPENED = "opened"
#: In which state jars come back: none of them goes out again until released, and an opened one never.
STATES = ("whole", OPENED, "recall")


@dataclass(frozen=True, slots=True)
class Return(Event):
    """Jars brought back: ``lines`` that were sold, at the price paid back, and ``gifts``, for which nothing is paid.

    They stand apart until released (``held``); returns of an earlier labelkit went back into stock at once.
    """

    kind: ClassVar[str] = "return"
    title: ClassVar[str] = "came back"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    preposition: ClassVar[str] = "from"
    day: date
    lines: tuple[SaleLine, ...]
    reason: str
    customer: str | None = None
    gifts: tuple[SaleLine, ...] = ()
    held: bool = False
    state: str = ""  # one of STATES, where it was said

    def movements(self) -> tuple[Movement, ...]:
        """No longer sold or given: set apart."""
        shelf = Account.HELD if self.held else Account.JARS
        ends = ((Account.SOLD, self.lines), (Account.GIVEN, self.gifts))
        return tuple(m for source, lines in ends for line in lines for m in line.moved(source, shelf))


@dataclass(frozen=True, slots=True)
class Discard(Event):
    """Jars destroyed on purpose: out of stock, or ``held`` ones from the shelf of what is on hold."""

    kind: ClassVar[str] = "discard"
    title: ClassVar[str] = "discarded"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    day: date
    lines: tuple[SaleLine, ...]
    reason: str
    held: bool = False

    def movements(self) -> tuple[Movement, ...]:
        """Off their shelf, gone."""
        shelf = Account.HELD if self.held else Account.JARS
        return tuple(m for line in self.lines for m in line.moved(shelf, Account.DISCARDED))
