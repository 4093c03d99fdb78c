"""Settling a market day: every jar that was loaded is somewhere, and the money is what it should be, or it is said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from labelkit.errors.sale import BroughtBackTooMuch, LotNotNamed, NothingLoaded, NotLoaded, SoldMoreThanLoaded
from labelkit.measures import Money
from labelkit.sale.apportion import nothing, together
from labelkit.sale.events import SaleLine
from labelkit.sale.stall_events import StallDay, StallLoad

Item = tuple[str, str]  # lot and size
WAYS = ("sold", "given", "tasted", "broken")


@dataclass(frozen=True, slots=True)
class Count:
    """What was counted of one lot and size: sold, given, tasted, broken; ``back`` is None where nobody counted."""

    sold: int = 0
    given: int = 0
    tasted: int = 0
    broken: int = 0
    back: int | None = None

    @property
    def gone(self) -> int:
        """Jars that are not there any more."""
        return self.sold + self.given + self.tasted + self.broken


@dataclass(frozen=True, slots=True)
class Till:
    """The money of a day; what nobody counted is None."""

    cash_counted: Money | None = None
    cards: Money | None = None
    rebates: Money | None = None
    rounding: Money | None = None
    fee: Money | None = None


@dataclass(frozen=True, slots=True)
class Loaded:
    """Everything loaded for one market day."""

    day: date
    place: str
    lines: tuple[SaleLine, ...]
    change: Money | None
    held: Mapping[Item, int] = field(default_factory=dict)  # jars of it that were put on hold since

    def line(self, item: Item) -> SaleLine:
        """The loaded jars of one lot and size. Raises :class:`~labelkit.errors.sale.NotLoaded`."""
        for line in self.lines:
            if (line.lot, line.size) == item:
                return line
        raise NotLoaded(*item, ", ".join(f"{line.size} of {line.lot}" for line in self.lines))

    def item(self, name: str) -> Item:
        """What a person means by ``SIZE`` or ``SIZE@LOT``. Raises :class:`~labelkit.errors.sale.LotNotNamed`."""
        size, _, lot = name.partition("@")
        if lot:
            return lot.strip(), size.strip()
        lots = [line.lot for line in self.lines if line.size == name]
        if len(lots) > 1:
            raise LotNotNamed(", ".join(f"{name}@{one}" for one in lots))
        return (lots[0] if lots else "?", name)


@dataclass(frozen=True, slots=True)
class DayFile:
    """A market day as its page gave it back."""

    key: str
    mark: str
    currency: str
    counted: Mapping[Item, Count]
    till: Till
    cash_sales: Money


def loaded(events: Iterable[StallLoad], key: str, held: Mapping[Item, int] | None = None) -> Loaded:
    """All loads of one day as one. Raises :class:`~labelkit.errors.sale.NothingLoaded`.

    Of two loads of one lot and size, the later one's price stands.
    """
    mine = [event for event in events if event.key == key]
    if not mine:
        raise NothingLoaded(key)
    lines: dict[Item, SaleLine] = {}
    for event in mine:
        for line in event.jars:
            had = lines.get((line.lot, line.size))
            count = line.count + (had.count if had else 0)
            lines[line.lot, line.size] = SaleLine(line.lot, line.size, count, line.fill, line.price)
    changes = [event.change for event in mine if event.change is not None]
    change = together(changes, changes[0].currency) if changes else None
    return Loaded(mine[0].day, mine[0].place, tuple(lines.values()), change, dict(held or {}))


def settle(load: Loaded, counted: Mapping[Item, Count], till: Till | None = None) -> StallDay:
    """Close a market day. What was not counted back is taken to have come back; what was and is short is missing.

    Raises :class:`~labelkit.errors.sale.NotLoaded`, :class:`~labelkit.errors.sale.SoldMoreThanLoaded` and
    :class:`~labelkit.errors.sale.BroughtBackTooMuch`, and books nothing then.

    >>> from labelkit.measures import Mass
    >>> line = SaleLine("L26201AXN", "pound", 24, Mass(453592), Money.of("12.00", "USD"))
    >>> load = Loaded(date(2026, 8, 1), "Mill square", (line,), Money.of("50.00", "USD"))
    >>> day = settle(load, {("L26201AXN", "pound"): Count(sold=18, tasted=1, back=5)}, Till(Money.of("266.00", "USD")))
    >>> balance = balance_of(day)
    >>> day.missing, balance.expected.amount, balance.difference.amount
    ((), Decimal('216.00'), Decimal('0.00'))
    """
    till = till or Till()
    for item in counted:
        load.line(item)
    ends: dict[str, list[SaleLine]] = {name: [] for name in (*WAYS, "back", "missing")}
    for line in load.lines:
        item = (line.lot, line.size)
        for name, count in _ends(line, counted.get(item, Count()), load.held.get(item, 0)):
            if count:
                ends[name].append(SaleLine(line.lot, line.size, count, line.fill, line.price))
    return StallDay(
        load.day,
        load.place,
        tuple(ends["sold"]),
        tuple(ends["given"]),
        tuple(ends["tasted"]),
        tuple(ends["broken"]),
        tuple(ends["back"]),
        tuple(ends["missing"]),
        load.change,
        till.cash_counted,
        till.cards,
        till.rebates,
        till.rounding,
        till.fee,
    )


def _ends(line: SaleLine, count: Count, held: int):
    there = line.count - held
    if count.gone > there:
        raise SoldMoreThanLoaded(line.lot, line.size, count.gone, there, held)
    rest = there - count.gone
    if count.back is not None and count.back > rest:
        raise BroughtBackTooMuch(line.lot, line.size, count.back, rest)
    back = rest if count.back is None else count.back
    return (*((way, getattr(count, way)) for way in WAYS), ("back", back), ("missing", rest - back))


@dataclass(frozen=True, slots=True)
class TillBalance:
    """The money of a settled day: what should be there, what is, and the difference (below nothing: short)."""

    list_price: Money  # the jars sold at the price on the card
    rebates: Money
    rounding: Money
    expected: Money  # what buyers should have paid
    found: Money | None  # cash without the change, and cards; None where the cash was not counted
    difference: Money | None


def balance_of(day: StallDay) -> TillBalance:
    """Expected against found.

    The rounding of cash is part of what is expected; a rebate is not.
    """
    currency = currency_of(day)
    zero = nothing(currency)
    price = together((line.count * line.price for line in day.lines if line.price), currency)
    rebates, rounding = day.rebates or zero, day.rounding or zero
    expected = price - rebates + rounding
    if day.cash_counted is None:
        return TillBalance(price, rebates, rounding, expected, None, None)
    found = day.cash_counted - (day.change or zero) + (day.cards or zero)
    return TillBalance(price, rebates, rounding, expected, found, found - expected)


def currency_of(day: StallDay) -> str:
    """The currency a day was sold in: of its prices, its change or its cash box."""
    lines = (*day.lines, *day.back, *day.given, *day.tasted, *day.broken, *day.missing)
    amounts = [*(line.price for line in lines), day.change, day.cash_counted, day.cards]
    return next((amount.currency for amount in amounts if amount is not None), "USD")
