"""How heavy honey is: specific gravity by moisture, density by temperature, weight per volume.

Source of the column: "true specific gravity" of White 1975, as reprinted in the handbooks. The two ends are confirmed
by the limits a trade journal prints (*Bee Culture*, "Density of Honey": 11.6343 to 12.057138 lb per gallon at 8.34 lb
of water, that is 1.3950 at 21 % and 1.4457 at 13 %); 17 and 18 % were read in secondary tables; the rows between are
from memory. Sucrose solution of the same refractive index stays within 0.2 % of every row.

The column is taken as 20 °C over water of 20 °C (0.998207 kg/l). Were it over water of 4 °C, every density would be
0.18 % higher: that is inside the uncertainty that is carried along.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from labelkit.errors.honey import BottleWeighingsUnclear, OutsideDensityTable, TemperatureOutOfReach
from labelkit.honey.interpolation import Row, between_rows
from labelkit.honey.moisture import REFERENCE_C, checked
from labelkit.honey.source import MEMORY, RECKONED
from labelkit.measures.mass import GRAMS_PER_POUND
from labelkit.measures.rounding import HALF_UP, plain, to_step

ML_PER_US_GALLON = Decimal("3785.411784")
ML_PER_US_FLUID_OUNCE = ML_PER_US_GALLON / 128
# IAPWS-95, water at 20 °C and 101.325 kPa.
WATER_KG_PER_L = Decimal("0.998207")
# Water from 13 % in whole steps.
_FIRST_WATER = 13
_GRAVITY = "1.4457 1.4404 1.4350 1.4295 1.4237 1.4171 1.4101 1.4027 1.3950"
# Mean slope of the column (least squares), used only beyond its wet end.
_GRAVITY_PER_PERCENT = Decimal("-0.0063017")
TABLE_ENDS = (Decimal(13), Decimal(25))
# No honey table of density by temperature was found. A sucrose solution of about 80 % expands by 2.7e-4 to 2.9e-4 per
# degree (CRC handbook data for sucrose solutions); honey is taken to do the same.
EXPANSION_PER_DEGREE = Decimal("0.00028")
RULE_HOLDS_C = (Decimal(5), Decimal(60))
# What honeys of 11 to 30 % water weigh against water, with room for the temperature: our own limits.
HONEY_GRAVITY = (Decimal("1.3"), Decimal("1.5"))
UNCERTAINTY = Decimal("0.002")  # one part in 500: spread of the sources inside the table
UNCERTAINTY_BEYOND = Decimal("0.005")  # beyond 21 % water


@dataclass(frozen=True, slots=True)
class Density:
    """Density at one moisture and temperature, with its relative uncertainty."""

    kg_per_l: Decimal
    moisture: Decimal
    temperature: Decimal
    uncertainty: Decimal
    sure: str
    notes: tuple[str, ...]

    @property
    def lb_per_us_gal(self) -> Decimal:
        """Avoirdupois pounds in a US gallon (3.785411784 l)."""
        return self.kg_per_l * ML_PER_US_GALLON / GRAMS_PER_POUND

    @property
    def us_fl_oz_per_lb(self) -> Decimal:
        """US fluid ounces that one avoirdupois pound takes up."""
        return 128 / self.lb_per_us_gal


@lru_cache(maxsize=1)
def gravity_rows() -> tuple[Row, ...]:
    """(water %, specific gravity 20/20 °C) from 13 to 21 %.

    >>> gravity_rows()[5]
    (Decimal('18'), Decimal('1.4171'))
    """
    return tuple((Decimal(_FIRST_WATER + i), Decimal(g)) for i, g in enumerate(_GRAVITY.split()))


def specific_gravity(moisture: Decimal) -> Decimal:
    """Specific gravity 20/20 °C of liquid honey, 13 to 25 % water.

    Straight lines between the rows up to 21 %; from there on carried with the mean slope of the column, as an
    estimate. Raises :class:`~labelkit.errors.honey.OutsideDensityTable`.

    >>> specific_gravity(Decimal("18.6"))
    Decimal('1.41290')
    """
    inside = between_rows(gravity_rows(), checked(moisture))
    if inside is not None:
        return inside
    if not TABLE_ENDS[0] <= moisture <= TABLE_ENDS[1]:
        raise OutsideDensityTable(plain(moisture), plain(TABLE_ENDS[0]), plain(TABLE_ENDS[1]))
    last_water, last_gravity = gravity_rows()[-1]
    return last_gravity + (moisture - last_water) * _GRAVITY_PER_PERCENT


def density(moisture: Decimal, temperature: Decimal = REFERENCE_C) -> Density:
    """Density of liquid honey by moisture (percent) and temperature (°C).

    Raises :class:`~labelkit.errors.honey.NotAMoisture`, :class:`~labelkit.errors.honey.OutsideDensityTable` or
    :class:`~labelkit.errors.honey.TemperatureOutOfReach`.

    >>> honey = density(Decimal("18.0"))
    >>> round(honey.kg_per_l, 4), round(honey.lb_per_us_gal, 3), round(honey.us_fl_oz_per_lb, 3)
    (Decimal('1.4146'), Decimal('11.805'), Decimal('10.843'))
    """
    low, high = RULE_HOLDS_C
    if not low <= temperature <= high:
        raise TemperatureOutOfReach(plain(temperature), plain(low), plain(high), "the density of honey by temperature")
    at_20 = specific_gravity(moisture) * WATER_KG_PER_L
    beyond = moisture > gravity_rows()[-1][0]
    notes = [
        "Density by moisture rests on White 1975, recalled from memory between 13 and 21 %; both ends are confirmed."
    ]
    if beyond:
        notes.append("The published column ends at 21 % water; this figure is carried beyond it.")
    if temperature != REFERENCE_C:
        notes.append("Honey is taken to expand like a sucrose solution of the same strength; no honey table was found.")
    return Density(
        at_20 / (1 + EXPANSION_PER_DEGREE * (temperature - REFERENCE_C)),
        moisture,
        temperature,
        UNCERTAINTY_BEYOND if beyond else UNCERTAINTY,
        RECKONED if beyond else MEMORY,
        tuple(notes),
    )


def moisture_of(kg_per_l: Decimal) -> Decimal:
    """The moisture that a density at 20 °C implies, to 0.1 %, between 13 and 21 %.

    A density is a poor moisture meter: one part in 500 is half a percent of water.

    >>> moisture_of(Decimal(12) * Decimal("453.59237") / Decimal("3785.411784"))
    Decimal('14.0')
    """
    rows = sorted((gravity * WATER_KG_PER_L, water) for water, gravity in gravity_rows())
    water = between_rows(rows, kg_per_l)
    if water is None:
        raise OutsideDensityTable(f"the density {plain(kg_per_l)} kg/l, which is not one of 13 to 21", "13", "21")
    return to_step(water, Decimal("0.1"), HALF_UP)


def gravity_by_bottle(empty: Decimal, with_water: Decimal, with_honey: Decimal) -> Decimal:
    """Specific gravity from three weighings of one specific-gravity bottle, all in one unit and at one temperature.

    Raises :class:`~labelkit.errors.honey.BottleWeighingsUnclear` for what honey cannot give.

    >>> round(gravity_by_bottle(Decimal("28.4773"), Decimal("54.8809"), Decimal("65.2718")), 5)
    Decimal('1.39354')
    """
    if not 0 < empty < with_water < with_honey:
        raise BottleWeighingsUnclear(plain(empty), plain(with_water), plain(with_honey))
    gravity = (with_honey - empty) / (with_water - empty)
    if not HONEY_GRAVITY[0] <= gravity <= HONEY_GRAVITY[1]:
        raise BottleWeighingsUnclear(plain(empty), plain(with_water), plain(with_honey))
    return gravity
