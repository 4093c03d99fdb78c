"""What to expect from supers, frames and cappings before anything is weighed.

All of it is practice: extraction notes of an equipment manual, a state's beekeeping calendar and beekeepers' pages.
Ranges, never figures to book: a yield is what the scale says, jars plus remainder plus named losses.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import FigureUnlikely
from labelkit.errors.sentence import Sentence
from labelkit.honey.source import PRACTICE, SECOND_HAND
from labelkit.measures import Mass
from labelkit.measures.mass import GRAMS_PER_POUND
from labelkit.measures.rounding import plain


@dataclass(frozen=True, slots=True)
class Expected:
    """A range to expect, and where it is from."""

    low: Mass
    high: Mass
    source: Sentence
    sure: str = SECOND_HAND


_MANUAL = Sentence("extraction notes of an equipment manual")
_PAGES = Sentence("beekeepers' pages of low trust; weigh gross and tare instead")
_CALENDAR = Sentence("a state's beekeeping calendar, July")
_CAPPINGS = Sentence("extraction notes of an equipment manual: 10 % or more")
# Pounds of extracted honey: (low, high).
_SUPER = {"shallow": (25, 30), "medium": (35, 40), "deep": (60, 70)}
_FRAME = {"shallow": ("3", "3"), "medium": ("3.5", "5"), "deep": ("6", "8")}
# A pail's hang-up, strainer, tap and foam together: common practice, no source.
USUAL_LOSS = Decimal("0.02")


def published_supers() -> dict[str, tuple[Mass, Mass]]:
    """The published range of each depth of ten-frame super."""
    return {depth: (_pounds(low, 1), _pounds(high, 1)) for depth, (low, high) in _SUPER.items()}


def from_supers(size: str, count: int) -> Expected:
    """Honey extracted from full ten-frame supers of one depth (shallow, medium, deep).

    >>> from labelkit.measures import show_customary
    >>> show_customary(from_supers("medium", 2).low, "en_US")
    '70 lb'
    """
    low, high = _SUPER[size]
    return Expected(_pounds(low, count), _pounds(high, count), _MANUAL)


def from_frames(size: str, count: int) -> Expected:
    """Honey in full, capped frames of one depth; pages differ on whether they mean net honey.

    >>> from labelkit.measures import show_customary
    >>> show_customary(from_frames("deep", 10).high, "en_US")
    '80 lb'
    """
    low, high = (_pounds(pounds, count) for pounds in _FRAME[size])
    return Expected(low, high, _PAGES, PRACTICE)


def wax_from(extracted: Mass) -> Expected:
    """Cappings wax to expect from an extracted crop: one to two parts in a hundred.

    >>> from labelkit.measures import show_customary
    >>> show_customary(wax_from(Mass.read("100 lb", "en_US")).high, "en_US")
    '2 lb'
    """
    return Expected(extracted.times(Decimal("0.01")), extracted.times(Decimal("0.02")), _CALENDAR)


def cappings_share(crop: Mass) -> Expected:
    """Honey that goes with the cappings before they drain: up to a tenth of the crop, and more.

    >>> cappings_share(Mass.of_grams(30000)).high.kg
    Decimal('3')
    """
    return Expected(Mass(0), crop.times(Decimal("0.10")), _CAPPINGS)


def usable(received: Mass, loss: Decimal = USUAL_LOSS) -> Mass:
    """What to plan with until you know your own loss: received less two in a hundred (practice, no source).

    ``loss`` is a share of one. Raises :class:`~labelkit.errors.honey.FigureUnlikely`.

    >>> usable(Mass.of_grams(27300)).kg
    Decimal('26.754')
    """
    if not 0 <= loss < Decimal("0.5"):
        raise FigureUnlikely("a loss", plain(loss * 100), "0", "50", "%")
    return received.times(1 - loss)


def _pounds(each: int | str, count: int) -> Mass:
    return Mass.of_grams(Decimal(each) * count * GRAMS_PER_POUND)
