"""What warming costs: a budget of HMF (hydroxymethylfurfural), with its wide spread.

Source of the times: "days to form 30 mg/kg HMF", *A Practical Manual of Beekeeping*, table 3, citing a USDA study of
1964 on three samples; a Danish adviser's table agrees from 30 °C up. Read: second-hand. The line through them is a
fit of our own to the middle of each range (activation energy 133 kJ/mol). Other studies found two to three times
more or less, and at 20 to 30 °C the sheets differ five-fold: this is a budget to plan by and never a laboratory result.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import FigureUnlikely, TemperatureOutOfReach
from labelkit.honey.source import RECKONED, Source
from labelkit.measures.rounding import plain

FIT_HOLDS_C = (Decimal(10), Decimal(80))
MOST_HMF = Decimal(80)  # no market allows more than 40, tropical honeys 80 (Directive 2001/110/EC, Codex CXS 12)
SPREAD = 3  # between the published tables, either way
SOURCE = Source(
    "days to 30 mg/kg HMF, USDA 1964 as printed in A Practical Manual of Beekeeping, table 3", "second-hand"
)
CAUTIONS = (
    "HMF by reckoning is right only within a factor of three either way; only a laboratory can tell.",
    "Do not overheat: enzymes go with the same heat, and no law asks for a hot bottling. Bottle at 35 to 45 °C.",
    "Hot honey burns and cracks cold glass: warm the jars, wear gloves, and lift with two people.",
)


@dataclass(frozen=True, slots=True)
class Warming:
    """So many hours at one temperature (°C)."""

    temperature: Decimal
    hours: Decimal


@dataclass(frozen=True, slots=True)
class HeatBudget:
    """HMF that a warming adds, in mg/kg: the middle, and the range to reckon with."""

    middle: Decimal
    low: Decimal
    high: Decimal
    sure: str = RECKONED
    notes: tuple[str, ...] = CAUTIONS


def days_to_30(temperature: Decimal) -> Decimal:
    """Days at one temperature that form about 30 mg/kg of HMF.

    >>> round(days_to_30(Decimal(40))), round(days_to_30(Decimal(60)), 1)
    (32, Decimal('1.5'))
    """
    low, high = FIT_HOLDS_C
    if not low <= temperature <= high:
        raise TemperatureOutOfReach(plain(temperature), plain(low), plain(high), "the warmth budget")
    return (Decimal("16039.7") / (temperature + Decimal("273.15")) - Decimal("47.758")).exp()


def hmf_added(warmings: Iterable[Warming]) -> HeatBudget:
    """What a series of warmings adds, each by its own time and temperature.

    >>> budget = hmf_added([Warming(Decimal(40), Decimal(48)), Warming(Decimal(50), Decimal(6))])
    >>> round(budget.middle, 1), round(budget.low, 1), round(budget.high, 1)
    (Decimal('3.0'), Decimal('1.0'), Decimal('9.1'))
    """
    middle = sum((30 * step.hours / 24 / days_to_30(step.temperature) for step in warmings), Decimal(0))
    return HeatBudget(middle, middle / SPREAD, middle * SPREAD)


def hours_for(budget_mg_per_kg: Decimal, temperature: Decimal) -> Decimal:
    """Hours at one temperature that use up a budget on the cautious side (three times the middle rate).

    Raises :class:`~labelkit.errors.honey.FigureUnlikely` or :class:`~labelkit.errors.honey.TemperatureOutOfReach`.

    >>> round(hours_for(Decimal(5), Decimal(45)))
    19
    """
    if not 0 < budget_mg_per_kg <= MOST_HMF:
        raise FigureUnlikely("a budget of HMF", plain(budget_mg_per_kg), "0", plain(MOST_HMF), "mg/kg")
    return budget_mg_per_kg / SPREAD * days_to_30(temperature) * 24 / 30
