"""Whether a scale is fine enough and what it may be off: classes and tolerances by the market's handbook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.rules.market import Market

# More divisions than a class III scale may have make it class II (HB 133, 2.2: 5,000 g by 0.1 g are 50,000).
_MOST_OF_CLASS_THREE = 10_000


@dataclass(frozen=True, slots=True)
class ScaleError:
    """A scale's divisions and class, and what it may be off at a load, in its own unit."""

    divisions: Decimal
    accuracy_class: str
    tolerance: Decimal


def scale_error(market: Market, capacity: Decimal, division: Decimal, load: Decimal) -> ScaleError:
    """What a scale of this capacity and division may be off at a load; all three in one unit.

    Raises :class:`~labelkit.errors.rules.NoRuleInForce` where the market's tolerances were not read.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> found = scale_error(market("us", date(2026, 11, 25)), Decimal(5000), Decimal("0.1"), Decimal(1500))
    >>> found.accuracy_class, found.tolerance
    ('II', Decimal('0.1'))
    """
    divisions = capacity / division
    accuracy = "III" if divisions <= _MOST_OF_CLASS_THREE else "II"
    return ScaleError(divisions, accuracy, tolerance_at(market, accuracy, division, load))


def tolerance_at(market: Market, accuracy_class: str, division: Decimal, load: Decimal) -> Decimal:
    """What a scale of a class may be off at a load above nothing, in the unit of both.

    Raises :class:`~labelkit.errors.rules.NoRuleInForce` where the market's tolerances were not read.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> eu = market("eu", date(2026, 11, 25))
    >>> [tolerance_at(eu, "III", Decimal(1), Decimal(load)) for load in (500, 501, 2000, 2001)]
    [Decimal('0.5'), Decimal('1'), Decimal('1'), Decimal('1.5')]
    """
    rows: Sequence[Mapping[str, Any]] = market.value("tolerances of the scale").value
    at = load / division
    row = next(r for r in rows if r["class"] == accuracy_class and r["over"] < at and ("to" not in r or at <= r["to"]))
    return Decimal(row["divisions"] * division)
