"""Buckets drawn to scale: one pail's outline, the same millimetres for all, and the honey as high as it stands.

A pail is taken as a cone cut off, its bottom 86 % as wide as its top and 1.2 times its width high: common practice, no
source. Only here do floats occur, and only as places on the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import pi
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket

_TAPER, _TALL = 0.86, 2.4  # bottom and height, with the top's radius as 1
_WHOLE = pi * _TALL / 3 * (1 + _TAPER + _TAPER * _TAPER)
# Sizes pails and tanks are sold by, in millilitres, to draw one whose size nobody noted: common practice, no source.
_ROUND_SIZES = (
    1_000,
    2_500,
    5_000,
    10_000,
    12_500,
    18_927,
    25_000,
    33_000,
    60_000,
    100_000,
    200_000,
    300_000,
    1_000_000,
)
_G_PER_ML = Decimal("1.42")
PIXELS_PER_MM = 0.5


@dataclass(frozen=True, slots=True)
class Pail:
    """A drawn bucket, all in millimetres; ``guessed`` where its size was not noted."""

    top: float
    bottom: float
    high: float
    honey: str  # the honey's outline as points
    wall: str  # the pail's
    share: int  # per cent full
    guessed: bool
    pixels: float = PIXELS_PER_MM


def pail(bucket: Bucket) -> Pail:
    """The drawing of one bucket."""
    holds_ml = float(bucket.holds.g / _G_PER_ML)
    came_ml = float(bucket.came_in.g / _G_PER_ML)
    sizes = [getattr(event, "container_ml", None) for event in bucket.history]
    noted = max((float(ml) for ml in sizes if ml), default=0.0)
    size = max(noted, holds_ml) if noted else 0.0  # filled over its name: drawn brimful
    if not size:
        size = next((float(s) for s in _ROUND_SIZES if s >= came_ml), came_ml)
    radius = (size * 1000 / _WHOLE) ** (1 / 3)
    high = radius * _TALL
    level = _level(min(1.0, holds_ml / size if size else 0.0)) * high
    top, bottom = 2 * radius, 2 * radius * _TAPER
    return Pail(
        round(top, 1),
        round(bottom, 1),
        round(high, 1),
        _outline(top, bottom, high, level),
        _outline(top, bottom, high, high),
        round(100 * holds_ml / size) if size else 0,
        not noted,
    )


def _level(share: float) -> float:
    """How high the honey stands, as a share of the height, when the pail is full by this share of its volume.

    >>> round(_level(0.0), 3), round(_level(1.0), 3), 0.5 < _level(0.5) < 0.6
    (0.0, 1.0, True)
    """
    low, up = 0.0, 1.0
    for _ in range(30):
        middle = (low + up) / 2
        wide = _TAPER + (1 - _TAPER) * middle
        volume = pi * _TALL * middle / 3 * (_TAPER * _TAPER + _TAPER * wide + wide * wide)
        low, up = (middle, up) if volume < share * _WHOLE else (low, middle)
    return (low + up) / 2


def _outline(top: float, bottom: float, high: float, level: float) -> str:
    wide = bottom + (top - bottom) * level / high if high else bottom
    middle = top / 2
    corners = (
        (middle - wide / 2, high - level),
        (middle + wide / 2, high - level),
        (middle + bottom / 2, high),
        (middle - bottom / 2, high),
    )
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)
