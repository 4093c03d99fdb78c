"""Weight from volume and back, and whether a weight fits a jar.

A volume of honey is never a legal weight: these figures plan jars and buckets, and a scale decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import HeadspaceUnclear
from labelkit.honey.density import Density, density
from labelkit.honey.moisture import REFERENCE_C
from labelkit.measures import Mass
from labelkit.measures.rounding import plain

# Published pairs of packers (quart 44 oz, pint 22 oz, 12 oz in 9 fl oz) use 90 to 93 % of the brimful room at 18 %.
USUAL_HEADSPACE = Decimal(7)


@dataclass(frozen=True, slots=True)
class Weight:
    """A mass reckoned from a volume, and how far it may be off by the density alone."""

    mass: Mass
    plus_minus: Mass
    density: Density


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether a net weight goes into a jar with its headspace, at the temperature it is filled at."""

    fits: bool
    needs_ml: Decimal  # what the honey takes up at filling temperature
    jar_needs_ml: Decimal  # brimful room a jar must have for it, headspace included
    brimful_ml: Decimal
    most: Mass  # the most this jar takes with that headspace
    headspace_left: Decimal  # percent of the brimful room that stays free; negative where it overflows


def weight_of(volume_ml: Decimal, moisture: Decimal, temperature: Decimal = REFERENCE_C) -> Weight:
    """Mass of a volume of honey.

    >>> five_gallons = weight_of(Decimal("18927.05892"), Decimal("18.0"))
    >>> round(five_gallons.mass.lb, 2), round(five_gallons.plus_minus.lb, 2)
    (Decimal('59.03'), Decimal('0.12'))
    """
    honey = density(moisture, temperature)
    mass = Mass.of_grams(volume_ml * honey.kg_per_l)
    return Weight(mass, mass.times(honey.uncertainty), honey)


def volume_of(mass: Mass, moisture: Decimal, temperature: Decimal = REFERENCE_C) -> Decimal:
    """Millilitres that a mass of honey takes up.

    >>> round(volume_of(Mass.of_grams(500), Decimal("18.0")), 1)
    Decimal('353.5')
    """
    return mass.g / density(moisture, temperature).kg_per_l


def headspace_checked(percent: Decimal) -> Decimal:
    """The room a jar keeps free, in per cent, where it can be. Raises HeadspaceUnclear."""
    if not 0 <= percent < 50:
        raise HeadspaceUnclear(plain(percent))
    return percent


def fit(
    net: Mass,
    brimful_ml: Decimal,
    moisture: Decimal,
    temperature: Decimal = REFERENCE_C,
    headspace: Decimal = USUAL_HEADSPACE,
) -> Fit:
    """Whether ``net`` fits a jar of ``brimful_ml`` at filling temperature, ``headspace`` percent kept free.

    The density's uncertainty counts against the jar: a jar that fits only by luck does not fit.

    >>> fit(Mass.read("12 oz", "en_US"), Decimal("236.588"), Decimal(18)).fits
    False
    >>> fit(Mass.read("1 lb", "en_US"), Decimal("355"), Decimal(18), Decimal(35)).fits
    True
    """
    headspace_checked(headspace)
    honey = density(moisture, temperature)
    lightest = honey.kg_per_l * (1 - honey.uncertainty)
    needs = net.g / lightest
    usable = 1 - headspace / 100
    return Fit(
        fits=needs <= brimful_ml * usable,
        needs_ml=needs,
        jar_needs_ml=needs / usable,
        brimful_ml=brimful_ml,
        most=Mass.of_grams(brimful_ml * usable * lightest),
        headspace_left=(1 - needs / brimful_ml) * 100,
    )
