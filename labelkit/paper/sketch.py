"""A picture laid out from the top down, in units of its own, and kept as marks."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from labelkit.paper.fonts import Box, screen_face
from labelkit.paper.marks import Colour, Mark, Shape, Text, ellipse, polyline, rectangle


class Sketch:
    """Collects marks. ``unit`` is the length of one unit in micrometres; ``high`` is how many units lie below the top."""

    def __init__(self, high: float, unit: float) -> None:
        self.unit, self._high = unit, round(high * unit)
        self.marks: list[Mark] = []

    def um(self, units: float) -> int:
        """So many units in micrometres."""
        return round(units * self.unit)

    def area(self, x: float, y: float, wide: float, high: float) -> Box:
        """The box with its upper left corner at (x, y)."""
        return Box(self.um(x), self._high - self.um(y + high), self.um(x + wide), self._high - self.um(y))

    def box(self, x: float, y: float, wide: float, high: float, *, radius: float = 0, **look: Any) -> None:
        """A rectangle with its upper left corner at (x, y); ``look`` is as in :class:`~.marks.Shape`."""
        self.marks.append(Shape(rectangle(self.area(x, y, wide, high), self.um(radius)), **look))

    def disc(self, x: float, y: float, radius: float, **look: Any) -> None:
        """A circle about (x, y)."""
        self.marks.append(Shape(ellipse(self.area(x - radius, y - radius, 2 * radius, 2 * radius)), **look))

    def line(self, points: Iterable[tuple[float, float]], stroke: Colour, width: float, **look: Any) -> None:
        """Straight lines from each point to the next."""
        path = polyline([(self.um(x), self._high - self.um(y)) for x, y in points])
        self.marks.append(Shape(path, stroke=stroke, width=self.um(width), **look))

    def text(
        self,
        x: float,
        y: float,
        size: float,
        text: str,
        colour: Colour,
        *,
        style: str = "sans-Regular",
        anchor: str = "start",
        **look: Any,
    ) -> float:
        """One line on its baseline at y, of which (x, y) is the start, the middle or the end; how wide it is."""
        face, high = screen_face(style, text), self.um(size)
        wide = face.width(text, high)
        left = self.um(x) - {"start": 0, "middle": wide // 2, "end": wide}[anchor]
        self.marks.append(Text(face, high, text, left, self._high - self.um(y), colour, anchor=anchor, **look))
        return wide / self.unit


def width_of(text: str, size: float, style: str = "sans-Regular") -> float:
    """How wide a text of that size is, in the units of the size.

    >>> round(width_of("20 × one pound", 14), 1)
    89.9
    """
    return screen_face(style, text).width(text, round(size * 1000)) / 1000


def cut(text: str, size: float, room: float, style: str = "sans-Regular") -> str:
    """The text, or as much of it as fits with an ellipsis.

    >>> cut("from B1, B2, B3, B4, B5", 14, 100)
    'from B1, B2, B…'
    """
    if width_of(text, size, style) <= room:
        return text
    while text and width_of(f"{text}…", size, style) > room:
        text = text[:-1].rstrip(" ,")
    return f"{text}…"
