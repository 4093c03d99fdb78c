"""Warming set honey, and setting honey with seed: hours and shares the trade goes by, with where they are from.

Sources: crystallised honey in lots of 28 lb is warm through after two to five days at 32 °C, by its hardness (a handbook
quoted in a beekeepers' forum, second-hand). For clear honey at 40 °C, and for larger containers, hours are common practice
without a source. Seeded honey: about 10 % seed, 14 °C, 17.5 to 18 % water (notes on the method of E. J. Dyce, second-hand);
about six days at 14 °C (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import FigureUnlikely
from labelkit.honey.source import PRACTICE, SECOND_HAND
from labelkit.measures import Mass
from labelkit.measures.rounding import UP, plain, to_step

CLEAR, SOFT = "clear", "soft"
WARMTH_C = {CLEAR: Decimal(40), SOFT: Decimal(32)}
HARDNESS = ("soft", "usual", "hard")
# Hours for one pail of 28 lb by hardness. Soft at 32 °C: two, three and five days. Clear at 40 °C: common practice.
_HOURS = {SOFT: (48, 72, 120), CLEAR: (24, 36, 48)}
_PAIL = Mass.of_grams(Decimal(28) * Decimal("453.59237"))
LIQUID, WHOLE = "liquid", "whole"
SEED_PERCENT, SETS_AT_C, SETS_DAYS = Decimal(10), Decimal(14), 6
BEST_WATER = (Decimal("17.5"), Decimal(18))


@dataclass(frozen=True, slots=True)
class WarmingHours:
    """How warm and how many hours a container of set honey wants, and how that is known."""

    temperature_c: Decimal
    hours: int
    sure: str


def warming_hours(honey: Mass, until: str, hardness: str = "usual") -> WarmingHours:
    """Hours to warm a container through: for ``soft`` honey that flows and stays set, or until it is ``clear``.

    A container larger than a pail of 28 lb wants more: in proportion to its width, so to the cube root of what it holds,
    squared, since warmth goes through honey as it goes through any still body. That is reckoned, not published.

    >>> warming_hours(Mass.read("28 lb", "en_US"), "soft", "hard").hours
    120
    >>> warming_hours(Mass.read("60 lb", "en_US"), "clear").hours
    60
    """
    base = _HOURS[until][HARDNESS.index(hardness)]
    times = Decimal(1) if honey <= _PAIL else ((Decimal(honey.mg) / _PAIL.mg).ln() * 2 / 3).exp()
    sure = SECOND_HAND if until == SOFT and honey <= _PAIL else PRACTICE
    return WarmingHours(WARMTH_C[until], int(to_step(base * times, Decimal(1), UP)), sure)


def seed_for(liquid: Mass, percent: Decimal, of: str = LIQUID) -> Mass:
    """Seed for so much liquid honey: a share of the ``liquid``, or of the ``whole`` once it is in; up to the milligram.

    Raises :class:`~labelkit.errors.honey.FigureUnlikely`.

    >>> sixty = Mass.read("60 lb", "en_US")
    >>> round(seed_for(sixty, Decimal(10)).lb, 2), round(seed_for(sixty, Decimal(10), "whole").lb, 2)
    (Decimal('6.00'), Decimal('6.67'))
    """
    if not 0 < percent <= 50:
        raise FigureUnlikely("a share of seed", plain(percent), "0", "50", "%")
    share = percent / 100 if of == LIQUID else percent / (100 - percent)
    return Mass(int(to_step(liquid.mg * share, Decimal(1), UP)))
