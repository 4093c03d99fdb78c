"""What to take to the market: by what sold there before, by what is in stock, and by what fits into the crates."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.errors.sale import NothingToTake
from labelkit.measures import Mass, Money
from labelkit.sale.events import SaleLine
from labelkit.sale.stall_events import StallDay

LAST_DAYS = 3
SOLD_OUT_MORE = Decimal("1.25")  # a size that sold out would have sold more: a quarter more is our own guess, no source


@dataclass(frozen=True, slots=True)
class OnShelf:
    """Jars of one lot and size in stock; ``first`` sorts the lots, the oldest is taken first."""

    lot: str
    size: str
    count: int
    fill: Mass
    first: str


@dataclass(frozen=True, slots=True)
class Wish:
    """How many of a size to take, and why."""

    size: str
    count: int
    because: str


def sold_before(days: Iterable[StallDay], place: str, before: date) -> tuple[StallDay, ...]:
    """The last market days at a place, the newest first, at most three."""
    mine = [d for d in days if d.day < before and d.place.casefold() == place.casefold()]
    return tuple(sorted(mine, key=lambda d: d.day, reverse=True)[:LAST_DAYS])


def wishes(shelf: Sequence[OnShelf], last: Sequence[StallDay], a_first_day: int = 24) -> tuple[Wish, ...]:
    """How many of each size: the most any of the last days sold, a quarter more where it sold out; never over stock.

    A size nobody has taken there yet goes with ``a_first_day`` jars.
    """
    stock: Counter[str] = Counter()
    for jars in shelf:
        stock[jars.size] += jars.count
    return tuple(_wish(size, have, last, a_first_day) for size, have in sorted(stock.items()) if have)


def _wish(size: str, have: int, last: Sequence[StallDay], a_first_day: int) -> Wish:
    there = [day for day in last if _count(day.lines, size) or _count(day.back, size)]
    if not there:
        return Wish(size, min(have, a_first_day), "not taken there before")
    best = max(there, key=lambda day: _count(day.lines, size))
    sold = _count(best.lines, size)
    because = f"{sold} sold on {best.day.isoformat()}"
    wanted = sold
    if sold and not _count(best.back, size):
        wanted, because = int(-(-sold * SOLD_OUT_MORE // 1)), f"{because}, none left over"
    return Wish(size, min(have, max(wanted, 1)), because + (f"; only {have} in stock" if have < wanted else ""))


def _count(lines: Iterable[SaleLine], size: str) -> int:
    return sum(line.count for line in lines if line.size == size)


def into_crates(
    wanted: Sequence[Wish], crate: Mapping[str, int], crates: int, prices: Mapping[str, Money]
) -> tuple[Wish, ...]:
    """The same within so many crates: a crate holds one size; the crates that would take the most money go first.

    >>> take = into_crates([Wish("pound", 30, ""), Wish("half", 20, "")], {"pound": 12, "half": 24}, 3,
    ...                    {"pound": Money.of("12.00", "USD"), "half": Money.of("6.25", "USD")})
    >>> [(w.size, w.count) for w in take]
    [('pound', 24), ('half', 20)]
    """
    loads = []
    for place, wish in enumerate(wanted):
        holds = crate.get(wish.size, 12)
        for number in range(-(-wish.count // holds)):
            jars = min(holds, wish.count - number * holds)
            loads.append((-jars * prices[wish.size].minor, number, place, jars))
    taken: Counter = Counter()
    for _, _, place, jars in sorted(loads)[:crates]:
        taken[place] += jars
    return tuple(
        Wish(
            w.size,
            taken[place],
            w.because + ("" if taken[place] == w.count else f"; {w.count} wished for, the crates are full"),
        )
        for place, w in enumerate(wanted)
        if taken[place]
    )


def load_lines(shelf: Sequence[OnShelf], take: Iterable[Wish], prices: Mapping[str, Money]) -> tuple[SaleLine, ...]:
    """The jars themselves, the oldest lots first. Raises :class:`~labelkit.errors.sale.NothingToTake`."""
    lines = []
    for wish in take:
        left = wish.count
        for jars in sorted((j for j in shelf if j.size == wish.size), key=lambda j: (j.first, j.lot)):
            some = min(left, jars.count)
            if some:
                lines.append(SaleLine(jars.lot, jars.size, some, jars.fill, prices[wish.size]))
            left -= some
    if not lines:
        raise NothingToTake()
    return tuple(lines)


def cash_float(prices: Iterable[Money], buyers: int = 10) -> Money:
    """Change to begin with: enough for so many buyers who each take one jar and pay with the next larger note.

    Notes and coins of nearly every currency go 1, 2, 5, 10, 20, 50; ten buyers is common practice, no source.

    >>> cash_float([Money.of("12.00", "USD"), Money.of("6.25", "USD")]).amount
    Decimal('80.00')
    """
    every = list(prices)
    worst = max(next_note(price).minor - price.minor for price in every)
    return Money(worst * buyers, every[0].currency)


def next_note(price: Money) -> Money:
    """The smallest of 1, 2, 5, 10, 20, 50 ... units of the currency that pays a price.

    >>> next_note(Money.of("12.00", "USD")).amount, next_note(Money.of("980", "JPY")).amount
    (Decimal('20.00'), Decimal('1000'))
    """
    unit = Money.of(1, price.currency).minor
    note, step = unit, 0
    while note < price.minor:
        step += 1
        note = unit * 10 ** (step // 3) * (1, 2, 5)[step % 3]
    return Money(note, price.currency)
