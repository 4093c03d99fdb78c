"""The moisture honey drifts to in the air of a room.

Source: equilibrium of clover honey with air, a food-industry site after J. W. White (its rows are printed with the
decimals reversed; its text line "17.4 % is in equilibrium with 58 %" settles the reading). Read: second-hand.
"""

from __future__ import annotations

from decimal import Decimal

from labelkit.errors.honey import HumidityOutsideTable
from labelkit.honey.interpolation import Row, between_rows, turned
from labelkit.honey.moisture import checked
from labelkit.honey.source import SECOND_HAND, Source
from labelkit.measures.rounding import plain

SOURCE = Source("equilibrium of clover honey with air, a food-industry site after White", SECOND_HAND)
NOTES = (
    "Measured on clover honey; set honey binds its water less tightly and holds more of it in the liquid between the crystals.",
    "It says where open honey drifts to and not how fast: a closed bucket keeps what it has.",
)
EQUILIBRIUM: tuple[Row, ...] = (
    (Decimal(52), Decimal("16.1")),
    (Decimal(58), Decimal("17.4")),
    (Decimal(66), Decimal("21.5")),
    (Decimal(76), Decimal("28.9")),
    (Decimal(81), Decimal("33.9")),
)


def moisture_in_air(humidity: Decimal) -> Decimal:
    """Moisture (percent) that open honey comes to at a relative humidity of 52 to 81 %.

    Raises :class:`~labelkit.errors.honey.HumidityOutsideTable`.

    >>> moisture_in_air(Decimal(58)), round(moisture_in_air(Decimal(60)), 1)
    (Decimal('17.4'), Decimal('18.4'))
    """
    moisture = between_rows(EQUILIBRIUM, humidity)
    if moisture is None:
        raise HumidityOutsideTable(f"air of {plain(humidity)} %", "52", "81 % relative humidity")
    return moisture


def dries_in(humidity: Decimal) -> bool:
    """Whether air is drier than the table begins: open honey dries there below its first row, nobody says how far.

    >>> dries_in(Decimal(35)), dries_in(Decimal(52))
    (True, False)
    """
    return Decimal(0) <= humidity < EQUILIBRIUM[0][0]


def humidity_for(moisture: Decimal) -> Decimal:
    """Relative humidity (percent) above which honey of this moisture takes up water.

    Raises :class:`~labelkit.errors.honey.NotAMoisture` or :class:`~labelkit.errors.honey.HumidityOutsideTable`.

    >>> round(humidity_for(Decimal("18.0")))
    59
    """
    humidity = between_rows(turned(EQUILIBRIUM), moisture)
    if humidity is None:
        raise HumidityOutsideTable(f"honey of {plain(checked(moisture))} % water", "16.1", "33.9 % water")
    return humidity
