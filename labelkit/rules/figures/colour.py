"""The colour class of honey, from its reading in millimetres on the Pfund scale."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.rules import ReadingImpossible
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

_LONGEST = Decimal(140)  # the instrument's wedge of amber glass ends there


@dataclass(frozen=True, slots=True)
class Colour:
    """A class, its French name where the market has one, and where it is written."""

    name: str
    french: str
    laws: tuple[Value, ...]


def of(pfund: Decimal, market: Market, *, bulk: bool = False) -> Colour:
    """The class of a reading; each class reaches up to and including its upper limit.

    Raises :class:`~labelkit.errors.rules.NoRuleInForce` where a market knows no classes (the Union and Codex have none).

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> of(Decimal(32), market("us", date(2026, 11, 25))).name, of(Decimal(32), market("ca", date(2026, 11, 25))).name
    ('White', 'Golden')
    """
    if not 0 <= pfund <= _LONGEST:
        raise ReadingImpossible(plain(pfund), "reading in millimetres Pfund", "0", plain(_LONGEST))
    classes = market.value("colour classes", bulk=bulk)
    row = next(row for row in classes.value if "to" not in row or pfund <= row["to"])
    return Colour(row["class"], row.get("french", ""), (classes,))
