"""In which displays a nutrition panel may be set on a package, and how large its type must be in each.

The upright display may always be used. A tabular one needs a reason: too little upright room, or a small package that
does not take the upright one. The linear one is for small packages that do not take the tabular one either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.rules.blocks import Value
from labelkit.rules.figures.letter_height import largest_possible
from labelkit.rules.figures.nutrition import Row
from labelkit.rules.market import Market

VERTICAL, TABULAR, SMALL_TABULAR, LINEAR = "vertical", "tabular", "small tabular", "linear"
_SURFACE = "tabular panel up to"
_SMALLEST = "address instead of the panel below"
_UPRIGHT = "tabular panel where the upright room is below"


@dataclass(frozen=True, slots=True)
class TypeSizes:
    """Least type sizes and line weights of one display, millimetres."""

    calories: Decimal
    number: Decimal
    servings: Decimal
    serving: Decimal
    nutrients: Decimal
    notes: Decimal
    between_nutrients: Decimal
    between_others: Decimal
    lines: dict[str, Decimal]
    laws: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Display:
    """One display and whether this package may bear it: ``True``, ``False``, or ``None`` where a fact is wanting.

    ``after`` names the displays that must not have fitted before; ``because`` is the law in a few words.
    """

    name: str
    allowed: bool | None
    because: str
    after: tuple[str, ...] = ()
    needs_second_column: bool = False
    law: Value | None = None


def displays(market: Market, surface: Decimal | None, upright: Decimal, dual: bool = False) -> tuple[Display, ...]:
    """The displays in the order they are to be tried.

    ``surface`` is what of the whole package can bear a label, square millimetres, ``None`` where nobody said; ``upright``
    the height of the room for the panel, millimetres; ``dual`` whether a second column for the whole jar is due.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> us = market("us", date(2026, 11, 25))
    >>> [(one.name, one.allowed) for one in displays(us, None, Decimal(50))]
    [('vertical', True), ('tabular', True), ('small tabular', None), ('linear', None)]
    >>> [one.allowed for one in displays(us, Decimal(25_807), Decimal(90))]
    [True, False, False, False]
    """
    up_to, below, room = (market.value(name) for name in (_SURFACE, _SMALLEST, _UPRIGHT))
    small = None if surface is None else surface <= up_to.value
    tiny = surface is not None and surface < below.value
    return (
        Display(VERTICAL, True, "always lawful", needs_second_column=dual),
        Display(
            TABULAR,
            upright < room.value,
            f"lawful where the upright room is below {room.raw}",
            (VERTICAL,),
            dual,
            room,
        ),
        Display(
            SMALL_TABULAR,
            small,
            f"lawful on a package with at most {up_to.raw} that can bear a label",
            () if tiny else (VERTICAL,),
            False,
            up_to,
        ),
        Display(
            LINEAR,
            small,
            f"lawful on a package with at most {up_to.raw} that can bear a label, if it takes no tabular one",
            (SMALL_TABULAR,) if tiny else (VERTICAL, SMALL_TABULAR),
            False,
            up_to,
        ),
    )


def type_sizes(market: Market, display: str, surface: Decimal | None) -> TypeSizes:
    """The least sizes of type in a display on a package with this surface; where that is not known, the largest.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> sizes = type_sizes(market("us", date(2026, 11, 25)), "vertical", None)
    >>> round(sizes.number * 72 / Decimal("25.4")), round(sizes.nutrients * 72 / Decimal("25.4"))
    (22, 8)
    """
    head = market.value("smallest type in the head of the panel")
    if surface is None:
        largest = largest_possible(market, "smallest type of nutrients in the panel", {})
        nutrients = largest or market.value("smallest type of nutrients in the panel")
    else:
        nutrients = market.value("smallest type of nutrients in the panel", label_surface=surface)
    notes, between, lines = (
        market.value(name)
        for name in ("smallest type of notes in the panel", "space between lines of the panel", "lines of the panel")
    )
    row = next(row for row in head.value if row["display"] == display)
    space = {row["lines"]: row["space"] for row in between.value}
    return TypeSizes(
        row["calories"],
        row["number"],
        row["servings"],
        row["serving"],
        nutrients.value,
        notes.value,
        space["nutrients"],
        space["others"],
        {row["line"]: row["weight"] for row in lines.value},
        (head, nutrients, notes, between, lines),
    )


def may_be_simplified(market: Market, rows: Sequence[Row]) -> bool:
    """Whether so many nutrients count as none that the simplified panel may be used."""
    return bool(sum(row.insignificant for row in rows) >= market.value("simplified panel from").value)


def kept(market: Market, rows: Sequence[Row]) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
    """What a simplified panel shows, and what it names as not a significant source of."""
    always = market.value("nutrients a simplified panel keeps").value
    shown = tuple(row for row in rows if row.key in always or not row.insignificant)
    return shown, tuple(row for row in rows if row not in shown)
