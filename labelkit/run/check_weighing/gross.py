"""Gross weights: the tare under them, and the gross weight a jar ought to show.

Source: NIST Handbook 133 (2026), sections 2.3.3, 2.3.5, 2.3.6 and 2.3.8: the nominal gross weight is the average tare
plus the labelled weight, recorded to the scale's unit of measure with nothing rounded before, and a package error is
its gross weight less that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.filling import TareImpossible
from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures import Mass, show_metric, total
from labelkit.measures.rounding import DOWN, HALF_UP, to_step

GRAM = Decimal(1)


@dataclass(frozen=True, slots=True)
class Tare:
    """An average tare, from how many empty jars, and how many more are to be weighed before it stands."""

    mass: Mass
    weighed: int
    more: int


def unused_tare(empties: Sequence[Mass]) -> Tare:
    """The tare of new jars with all that belongs to them: two if they are equal, otherwise the mean of five.

    Source: HB 133, 2.3.5 (unused dry tare).

    >>> unused_tare([Mass.of_grams("212.4"), Mass.of_grams("212.4")])
    Tare(mass=Mass(mg=212400), weighed=2, more=0)
    >>> unused_tare([Mass.of_grams("212.4"), Mass.of_grams("213.0")]).more
    3
    """
    if not empties:
        raise TareImpossible("", "no empty jar was weighed")
    equal = len(empties) >= 2 and len(set(empties)) == 1
    needed = 2 if equal or len(empties) < 2 else 5
    mean = Mass(total(empties).mg // len(empties))
    return Tare(mean, len(empties), max(needed - len(empties), 0))


def unit_of_measure(division: Decimal) -> Decimal:
    """The smallest decimal step of a scale with this division: 0.5 g counts in 0.1 g, 0.002 lb in 0.001 lb.

    Source: HB 133, 2.3.3.

    >>> unit_of_measure(Decimal("0.5")), unit_of_measure(Decimal("0.002")), unit_of_measure(Decimal(5))
    (Decimal('0.1'), Decimal('0.001'), Decimal('1'))
    """
    return Decimal(1).scaleb(division.normalize().adjusted())


def dimensionless(error: Decimal, division: Decimal) -> Decimal:
    """A package error in units of measure of the scale, both in the scale's unit.

    >>> dimensionless(Decimal("0.016"), Decimal("0.002"))
    Decimal('16')
    """
    return error / unit_of_measure(division)


def nominal_gross(label: Decimal, tare: Decimal, unit: Decimal, allowance_percent: Decimal = Decimal(0)) -> Decimal:
    """What a jar ought to show on the scale, in grams: tare and label, less an allowance for lost moisture.

    The allowance is taken in whole grams, rounded down, as the handbook's example does; for honey in a closed jar it
    is nothing.

    >>> nominal_gross(Decimal("453.592"), Decimal("212.7"), Decimal("0.1"))
    Decimal('666.3')
    >>> nominal_gross(Decimal(907), Decimal(14), Decimal(1), Decimal(3))
    Decimal('894')
    """
    allowance = to_step(label * allowance_percent / 100, GRAM, DOWN)
    return to_step(label + tare, unit, HALF_UP) - allowance


def net_of_gross(gross: Sequence[Mass], label: Decimal, tare: Mass, unit: Decimal) -> tuple[Mass, ...]:
    """Net weights a lot test can judge: the label plus each package error. Raises ``TareImpossible``.

    >>> net_of_gross([Mass.of_grams("666.2")], Decimal("453.592"), Mass.of_grams("212.7"), Decimal("0.1"))[0].g
    Decimal('453.492')
    """
    light = next((mass for mass in gross if mass <= tare), None)
    if light is not None:
        raise TareImpossible(
            Figure(show_metric, tare),
            Sentence("a full jar of the list weighs only {mass}", mass=Figure(show_metric, light)),
        )
    nominal = nominal_gross(label, tare.g, unit)
    return tuple(Mass.of_grams(label + mass.g - nominal) for mass in gross)
