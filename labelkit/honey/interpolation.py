"""Straight lines between the rows of a published table, in exact decimals.

General libraries interpolate in floating point; a moisture that decides over a grade is kept in ``Decimal`` instead.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from decimal import Decimal

Row = tuple[Decimal, Decimal]


def between_rows(rows: Sequence[Row], x: Decimal) -> Decimal | None:
    """``y`` at ``x`` on the straight line between neighbouring rows; ``None`` outside the table.

    ``rows`` are pairs (x, y) with rising x.

    >>> between_rows([(Decimal(0), Decimal(0)), (Decimal(2), Decimal(10))], Decimal("0.5"))
    Decimal('2.5')
    """
    if not rows[0][0] <= x <= rows[-1][0]:
        return None
    upper = min(max(bisect_right(rows, x, key=lambda row: row[0]), 1), len(rows) - 1)
    (x0, y0), (x1, y1) = rows[upper - 1], rows[upper]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def turned(rows: Sequence[Row]) -> tuple[Row, ...]:
    """The same table read the other way round: (y, x) with rising y.

    >>> turned([(Decimal(1), Decimal(9)), (Decimal(2), Decimal(7))])[0]
    (Decimal('7'), Decimal('2'))
    """
    return tuple(sorted((y, x) for x, y in rows))
