"""How runny honey is, and how long foam and wax take to rise out of it.

Viscosity is a fit of our own to published series: clover honey of 16 % at six temperatures (a packer's technical sheet,
read; a second page agrees at 14, 30 and 70 °C), and one honey at 25 °C by moisture (partly from memory). It meets the
first within a factor of 1.13, the second within 1.25 from 14 to 20 % and within 1.5 at its ends. Heather and manuka
honeys are thixotropic: none of this holds for them.

Settling is Stokes' law for a small sphere in a thick liquid; a bubble with a clean skin may rise up to half as fast
again (Hadamard and Rybczynski, from memory). The tests hold it against the general-purpose library ``fluids``.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import SizeUnclear, TemperatureOutOfReach
from labelkit.honey.density import density
from labelkit.honey.moisture import checked
from labelkit.honey.source import RECKONED
from labelkit.measures.rounding import plain

GRAVITY = Decimal("9.80665")
AIR = Decimal("1.2")  # kg/m3 at room temperature
WAX = Decimal("960")  # kg/m3, beeswax
FIT_HOLDS_C = (Decimal(14), Decimal(70))
_ZERO_C = Decimal("273.15")
_CAUTIONS = (
    "A planning estimate: two honeys of one moisture differ by a third or more.",
    "Not for heather or manuka honey, which set to a jelly while they stand.",
    "Warm only as far as needed: no hotter than 40 °C for long, and never a closed or glass vessel over a flame.",
)


@dataclass(frozen=True, slots=True)
class Rise:
    """How fast something rises through honey, and how long it takes over a depth."""

    metres_per_second: Decimal
    hours: Decimal
    viscosity: Decimal
    sure: str = RECKONED
    notes: tuple[str, ...] = _CAUTIONS


def viscosity(moisture: Decimal, temperature: Decimal) -> Decimal:
    """Viscosity in Pa·s (10 poise) of blossom honey.

    >>> round(viscosity(Decimal("17.5"), Decimal(35)), 1)
    Decimal('1.8')
    """
    low, high = FIT_HOLDS_C
    if not low <= temperature <= high:
        raise TemperatureOutOfReach(plain(temperature), plain(low), plain(high), "the viscosity of honey")
    kelvin = temperature + _ZERO_C
    logarithm = (
        Decimal("-6.7753")
        + Decimal("644.97") / (kelvin - Decimal("227.56"))
        - Decimal("0.428") * (checked(moisture) - 16)
    )
    return logarithm.exp()


def stokes(diameter_mm: Decimal, inside: Decimal, outside: Decimal, viscosity_pa_s: Decimal) -> Decimal:
    """Speed in m/s at which a sphere of density ``inside`` rises (positive) through a liquid of density ``outside``.

    Densities in kg/m3. Source: Stokes 1851, v = 2 Δρ g r² / (9 η).

    >>> round(stokes(Decimal(1), Decimal("1.2"), Decimal(1418), Decimal(19)) * 100000, 3)
    Decimal('4.063')
    """
    if diameter_mm <= 0:
        raise SizeUnclear("the diameter of a bubble", plain(diameter_mm))
    radius = diameter_mm / 2000
    return 2 * (outside - inside) * GRAVITY * radius * radius / (9 * viscosity_pa_s)


def rise(
    diameter_mm: Decimal,
    depth_m: Decimal,
    moisture: Decimal,
    temperature: Decimal,
    inside: Decimal = AIR,
) -> Rise:
    """How long bubbles (or, with ``inside=WAX``, specks of wax) of one size take to rise through a tank of honey.

    >>> round(rise(Decimal("0.1"), Decimal("0.30"), Decimal("17.5"), Decimal(35)).hours)
    19
    """
    if depth_m <= 0:
        raise SizeUnclear("the depth of a tank", plain(depth_m))
    thick = viscosity(moisture, temperature)
    outside = density(moisture, min(temperature, Decimal(60))).kg_per_l * 1000
    speed = stokes(diameter_mm, inside, outside, thick)
    return Rise(speed, depth_m / speed / 3600, thick)


def hang_up(
    height_m: Decimal, diameter_m: Decimal, moisture: Decimal, temperature: Decimal, minutes: Decimal
) -> Decimal:
    """Kilograms of honey that still cling to the walls of a pail drained for some minutes.

    Source: the draining film of Jeffreys (from memory), mean thickness (2/3)·√(η·H/(ρ·g·t)), on the wall only.
    Raises :class:`~labelkit.errors.honey.SizeUnclear` or :class:`~labelkit.errors.honey.TemperatureOutOfReach`.

    >>> left = hang_up(Decimal("0.36"), Decimal("0.29"), Decimal("17.5"), Decimal(20), Decimal(30))
    >>> round(left / 27 * 100, 2)
    Decimal('0.46')
    """
    for what, given in (("a draining time", minutes), ("the height of a pail", height_m), ("its diameter", diameter_m)):
        if given <= 0:
            raise SizeUnclear(what, plain(given))
    outside = density(moisture, temperature).kg_per_l * 1000
    film = (viscosity(moisture, temperature) * height_m / (outside * GRAVITY * minutes * 60)).sqrt() * 2 / 3
    return film * Decimal("3.14159265") * diameter_m * height_m * outside
