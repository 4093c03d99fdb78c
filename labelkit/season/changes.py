"""Changes: which values of an event can be put right, and what it says of them now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.lots.bucket import Blend
from labelkit.lots.bucket_life import DRIED, SKIMMED, SOLD, STIRRED, WARMED, Measured, TakenOut, Treated
from labelkit.lots.received import CameIn
from labelkit.measures import Mass, Money
from labelkit.run import Run
from labelkit.sale.account_events import Delivery, Payment, Refund
from labelkit.sale.events import Discard, Give, Return, Sale
from labelkit.sale.settlement import WAYS
from labelkit.sale.stall_events import StallDay, StallLoad

SCALE = ("net", "gross", "tare")
COUNTED = (*WAYS, "back")  # what became of the jars of a market day
_HOLDS = {
    Measured: (*SCALE, "moisture", "day"),
    Run: ("jars", "left", "day"),
    Sale: ("jars", "prices", "customer", "day"),
    Give: ("jars", "customer", "day"),
    Return: ("jars", "prices", "customer", "day"),
    Discard: ("jars", "day"),
    Delivery: ("jars", "prices", "day"),
    Payment: ("amount", "customer", "day"),
    Refund: ("amount", "customer", "day"),
    Blend: ("parts", "day"),
    StallLoad: ("jars", "prices", "change"),
    StallDay: (*COUNTED, "cash", "cards", "off", "fee"),
}
_TREATED = {
    SKIMMED: ("removed", "left", "day"),
    DRIED: ("left", "moisture", "hottest_c", "hours", "day"),
    WARMED: ("hottest_c", "hours", "day"),
    STIRRED: ("seed", "seed_mass", "day"),
}
# How a person calls the values whose names here are others.
SAID = {"jars": "jar", "prices": "price", "rate": "price", "hottest_c": "highest", "seed_mass": "seed", "parts": "part"}


@dataclass(frozen=True, slots=True)
class Changes:
    """What was really so; what is left out stays as it was booked. Nought of a size or a part takes it away.

    ``rate`` is the price of one kg or lb of honey sold in bulk, ``hottest_c`` in °C, ``moisture`` in per cent. ``parts``
    are the buckets of a blend; None is all there was in one. Jars of a market day are by ``SIZE`` or ``SIZE@LOT``.
    """

    net: Mass | None = None
    gross: Mass | None = None
    tare: Mass | None = None
    moisture: Decimal | None = None
    jars: Mapping[str, int] | None = None
    left: Mass | None = None
    day: date | None = None
    removed: Mass | None = None
    hottest_c: Decimal | None = None
    hours: Decimal | None = None
    seed: str | None = None
    seed_mass: Mass | None = None
    prices: Mapping[str, Money] | None = None
    rate: Money | None = None
    customer: str | None = None
    parts: Mapping[str, Mass | None] | None = None
    sold: Mapping[str, int] | None = None
    given: Mapping[str, int] | None = None
    tasted: Mapping[str, int] | None = None
    broken: Mapping[str, int] | None = None
    back: Mapping[str, int] | None = None
    cash: Money | None = None
    cards: Money | None = None
    off: Money | None = None
    fee: Money | None = None
    amount: Money | None = None
    change: Money | None = None

    @property
    def said(self) -> tuple[str, ...]:
        """The names of what was said."""
        return tuple(each.name for each in fields(self) if getattr(self, each.name) not in (None, {}))


def held_values(event: Any) -> tuple[str, ...]:
    """The names of the values of an event that can be put right; none where it can only be struck."""
    if isinstance(event, CameIn):
        return (*SCALE, "moisture", "day")
    if isinstance(event, Treated):
        return ("day",) if event.opened else _TREATED[event.how]
    if isinstance(event, TakenOut):
        return (*SCALE, *(("rate", "customer") if event.how == SOLD else ()), "day")
    return _HOLDS.get(type(event), ())


def line_names(items: Iterable[tuple[str, str]]) -> dict[tuple[str, str], str]:
    """How a person names jars by lot and size: the size alone, with its lot where there are two of a size.

    >>> line_names([("L1", "half"), ("L1", "pound"), ("L2", "pound")])
    {('L1', 'half'): 'half', ('L1', 'pound'): 'pound@L1', ('L2', 'pound'): 'pound@L2'}
    """
    every = list(items)
    sizes = Counter(size for _, size in every)
    return {(lot, size): size if sizes[size] == 1 else f"{size}@{lot}" for lot, size in every}


def booked_values(event: Any) -> Changes:
    """What an event says of them now."""
    if isinstance(event, Run):
        named: dict[str, Any] = {line.size: line for line in event.jars}
    else:
        lines = {(line.lot, line.size): line for line in getattr(event, "lines", getattr(event, "jars", ()))}
        named = {name: lines[item] for item, name in line_names(lines).items()}
    weighing = getattr(event, "weighing", None)
    seed = getattr(event, "seed", None)
    known = {
        "net": getattr(event, "net", getattr(event, "mass", None)) if weighing is None else None,
        "gross": weighing and weighing.gross,
        "tare": weighing and weighing.tare,
        "moisture": getattr(event, "moisture", None),
        "jars": {name: line.count for name, line in named.items()},
        "left": _weighed_left(event),
        "day": event.day,
        "removed": getattr(event, "gone", None),
        "hottest_c": getattr(event, "hottest_c", None),
        "hours": getattr(event, "hours", None),
        "seed": seed and seed.bucket,
        "seed_mass": seed and seed.mass,
        "prices": {name: line.price for name, line in named.items() if getattr(line, "price", None)},
        "rate": getattr(event, "rate", None),
        "customer": getattr(event, "customer", None),
        "amount": getattr(event, "amount", None),
        "change": getattr(event, "change", None),
        "parts": {part.bucket: part.mass for part in getattr(event, "parts", ())},
    }
    if isinstance(event, StallDay):
        known |= _day_counted(event)
    return Changes(**{name: known[name] for name in held_values(event)})


def _weighed_left(event: Any) -> Mass | None:
    """What was left in the bucket, where somebody weighed it: a figure that was worked out is not what was said."""
    if isinstance(event, Treated):
        return event.after if event.after_was_weighed else None
    return event.left if isinstance(event, Run) and event.left_was_weighed else None


def _day_counted(day: StallDay) -> dict[str, Any]:
    """What was counted of every lot and size of a market day, and its money."""
    items = day.counted()
    names = line_names(items)
    ways = {way: {names[item]: counts[way] for item, counts in items.items()} for way in COUNTED}
    return {**ways, "cash": day.cash_counted, "cards": day.cards, "off": day.rebates, "fee": day.fee}
