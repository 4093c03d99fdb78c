"""Frames of hives people have, and what a full one may give, scaled from the published figures of one hive.

Outer sizes of the frames without their lugs. The two of the National hive were read on a public page of frame sizes; the
others are from memory, and makers differ by a few millimetres. What comb holds is not published for them: it is taken
from the range printed for ten-frame supers of three depths, by area of comb. One's own average is always better.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.sentence import Sentence
from labelkit.honey.source import MEMORY, RECKONED, SECOND_HAND
from labelkit.honey.yields import Expected, published_supers
from labelkit.measures import Mass
from labelkit.measures.rounding import plain

# Wood of a frame that bears no comb, in millimetres: both side bars; top and bottom bar. Common practice, no source.
_SIDES, _BARS = Decimal(20), Decimal(30)


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame: outer width and height in millimetres, how many stand in one box, and how its size is known."""

    width_mm: Decimal
    height_mm: Decimal
    in_box: int
    sure: str = MEMORY

    @property
    def comb_dm2(self) -> Decimal:
        """Area of its comb in square decimetres, one side."""
        return (self.width_mm - _SIDES) * (self.height_mm - _BARS) / 10_000


def _frame(width: int, height: int, in_box: int, sure: str = MEMORY) -> Frame:
    return Frame(Decimal(width), Decimal(height), in_box, sure)


FRAMES = {
    "langstroth-deep": _frame(448, 232, 10),
    "langstroth-medium": _frame(448, 159, 10),
    "langstroth-shallow": _frame(448, 137, 10),
    "langstroth8-deep": _frame(448, 232, 8),
    "langstroth8-medium": _frame(448, 159, 8),
    "langstroth8-shallow": _frame(448, 137, 8),
    "dadant-brood": _frame(448, 285, 11),
    "dadant-super": _frame(448, 159, 11),
    "national-brood": _frame(356, 216, 11, SECOND_HAND),
    "national-super": _frame(356, 140, 11, SECOND_HAND),
    "zander": _frame(420, 220, 9),
    "deutsch-normal": _frame(370, 223, 11),
    "warre": _frame(300, 200, 8),
}


def honey_per_dm2() -> tuple[Decimal, Decimal]:
    """Grams of extracted honey for each square decimetre of full comb (one side counted, both filled): lowest, highest.

    Source: the published ranges of :mod:`labelkit.honey.yields`, over the comb of ten Langstroth frames.

    >>> [round(grams) for grams in honey_per_dm2()]
    [248, 367]
    """
    lows, highs = [], []
    for depth, (low, high) in published_supers().items():
        comb = 10 * FRAMES[f"langstroth-{depth}"].comb_dm2
        lows.append(low.g / comb)
        highs.append(high.g / comb)
    return min(lows), max(highs)


def from_comb(name: str, frames: int) -> Expected:
    """Honey to expect from full, capped frames of a hive, by their area of comb.

    >>> zander = from_comb("zander", 9)
    >>> round(zander.low.kg), round(zander.high.kg)
    (17, 25)
    """
    frame = FRAMES[name]
    low, high = (Mass.of_grams(grams * frame.comb_dm2 * frames) for grams in honey_per_dm2())
    source = Sentence(
        "scaled by area of comb from published figures of Langstroth supers; frame {wide} × {high} mm, {sure}",
        wide=plain(frame.width_mm),
        high=plain(frame.height_mm),
        sure=frame.sure,
    )
    return Expected(low, high, source, RECKONED)
