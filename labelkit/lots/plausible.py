"""Whether a bucket can hold what was weighed; a slip of the keyboard or the unit is asked about, never booked.

The bounds: a container that was named holds no more than its room at honey's greatest density. Where none was named, a
bucket is a pail or at most a drum of 55 US gallons, and honey is no more than 60 times as heavy as what it stands in (a
pail of 5 gallons weighs 1 kg or more, a drum 8 kg or more). The drum and the 60 are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from labelkit.errors import unless_said
from labelkit.errors.lots import BucketImplausible, ContainerOverfilled
from labelkit.lots.bucket import Drain
from labelkit.lots.received import CameIn
from labelkit.measures import Mass, show_both
from labelkit.measures.locales import show_number
from labelkit.measures.mass import GRAMS_PER_POUND
from labelkit.measures.rounding import HALF_UP, to_step

# White (1975) gives specific gravity 1.4457 for honey of 13 % water, the driest of the refractometer table.
DENSEST_G_PER_ML = Decimal("1.4431")
# Pails are sold by a round size and hold somewhat more to the brim: common practice, no source.
BRIM_OVER_NAME = Decimal("1.10")
US_GALLON_ML = Decimal("3785.411784")
DRUM_ML = 55 * US_GALLON_ML
HONEY_OVER_TARE = 60
# A figure that was meant fills a container at least to this part.
_LEAST_FILLED = Decimal("0.1")
_TENTH = Decimal("0.1")


def check_fits(bucket: str, net: Mass, container_ml: Decimal | None, shown: Mass | None = None, *, locale: str) -> None:
    """Refuse more honey than the container can hold, by honey's greatest density.

    ``shown`` is what the scale showed, where that is not the honey alone; ``locale`` is how a refusal writes figures.

    >>> check_fits("B1", Mass.of_grams(27_216), Decimal("18927"), locale="en_US")
    """
    if container_ml is None:
        return
    most = Mass.of_grams(container_ml * DENSEST_G_PER_ML)
    if net > most.times(BRIM_OVER_NAME):
        litres, gallons = (show_number(container_ml / unit, locale, digits=1) for unit in (1000, US_GALLON_ML))
        raise ContainerOverfilled(
            bucket,
            show_both(net, locale),
            f"{litres} l ({gallons} US gal)",
            show_both(most, locale),
            _meant(shown or net, net, most.times(BRIM_OVER_NAME), locale),
        )


def check_plausible(weighed: CameIn, locale: str) -> None:
    """Ask about a weighing that its container cannot hold, or no pail and no drum where none was named.

    Raises :class:`~labelkit.errors.lots.ContainerOverfilled`, and :class:`~labelkit.errors.lots.BucketImplausible` unless
    somebody said why the weight is right.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import WeighIn
    >>> check_plausible(WeighIn("B1", date(2026, 7, 14), Mass.of_grams(27_300)), "en_US")
    """
    shown = weighed.weighing.gross if weighed.weighing else weighed.net
    if not isinstance(weighed, Drain) and weighed.container_ml is not None:
        check_fits(weighed.bucket, weighed.net, weighed.container_ml, shown, locale=locale)
        return
    drum = Mass.of_grams(DRUM_ML * DENSEST_G_PER_ML).times(BRIM_OVER_NAME)
    bounds = [(drum, "a drum of 55 US gallons holds about 300 kg (660 lb)")]
    if weighed.weighing:
        tare = weighed.weighing.tare
        told = f"a container of {show_both(tare, locale)} holds at most {HONEY_OVER_TARE} times its own weight"
        bounds.append((tare * HONEY_OVER_TARE, told))
    most, why = min(bounds, key=lambda bound: bound[0])
    if weighed.net > most:
        meant = _meant(shown, weighed.net, most, locale)
        unless_said(weighed.because, BucketImplausible(weighed.bucket, show_both(weighed.net, locale), why, meant))


def _meant(shown: Mass, net: Mass, most: Mass, locale: str) -> str:
    """What was probably meant: the figure with its decimal mark elsewhere, or in pounds instead of kilograms."""
    beside = shown - net
    marks, unit = (Decimal("0.1"), Decimal("0.01"), Decimal("0.001")), GRAMS_PER_POUND / 1000

    def likely(slips: Iterable[Decimal]) -> list[Mass]:
        guesses = [shown.times(slip) for slip in slips]
        return [guess for guess in guesses if most.times(_LEAST_FILLED) <= guess - beside <= most]

    return " or ".join(_plainly(guess, locale) for guess in likely(marks) or likely([unit]))


def _plainly(mass: Mass, locale: str) -> str:
    """A guess as a person would type it: decimals of a pound and of a kilogram."""
    pounds, kilograms = (to_step(figure, _TENTH, HALF_UP) for figure in (mass.lb, mass.kg))
    return f"{show_number(pounds, locale)} lb ({show_number(kilograms, locale)} kg)"
