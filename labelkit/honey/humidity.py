"""The moisture honey drifts to in the air of a room.

Source: equilibrium of clover honey with air, a food-industry site after J. W. White (its rows are printed with the
decimals reversed; its text line "17.4 % is in equilibrium with 58 %" settles the reading). Read: second-hand.
"""

from __future__ import annotations

from decimal import Decimal

from labelkit.honey.interpolation import Row, between_rows, turned

EQUILIBRIUM: tuple[Row, ...] = (
    (Decimal(52), Decimal("16.1")),
    (Decimal(58), Decimal("17.4")),
    (Decimal(66), Decimal("21.5")),
    (Decimal(76), Decimal("28.9")),
    (Decimal(81), Decimal("33.9")),
)


def moisture_in_air(humidity: Decimal) -> Decimal | None:
    """Moisture (percent) that open honey comes to at a relative humidity of 52 to 81 %; ``None`` outside the table.

    >>> moisture_in_air(Decimal(58)), round(moisture_in_air(Decimal(60)), 1)
    (Decimal('17.4'), Decimal('18.4'))
    """
    return between_rows(EQUILIBRIUM, humidity)


def humidity_for(moisture: Decimal) -> Decimal | None:
    """Relative humidity (percent) above which honey of this moisture takes up water; ``None`` outside the table.

    >>> round(humidity_for(Decimal("18.0")))
    59
    """
    return between_rows(turned(EQUILIBRIUM), moisture)
