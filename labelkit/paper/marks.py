"""Marks: what a label or a picture shows once everything has been decided. Plain data, micrometres, y upwards.

A placed label is a tuple of marks. Nothing is left to the writers of PDF and SVG but to write; whatever is to be checked
about a label (heights, overlaps, edges, contrast) is checked on the marks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import cos, pi, sin

from labelkit.barcodes.dots import Module, on_grid
from labelkit.barcodes.linear import TILL_TEXT, Barcode
from labelkit.barcodes.matrix import MatrixCode
from labelkit.paper.fonts import Box, Face, around

Colour = tuple[int, int, int]
BLACK: Colour = (0, 0, 0)
WHITE: Colour = (255, 255, 255)

#: A path is a tuple of steps: ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x3, y3), ("Z",).
Path = tuple[tuple, ...]


@dataclass(frozen=True)
class Text:
    """One line of text on its baseline, beginning at ``x``.

    ``anchor`` (start, middle, end) is the point of the line that stays where it is on a screen without the typeface;
    ``halo`` is the colour of a rim that keeps the letters apart from what lies below; ``says`` is shown when pointed at.
    With an ``arc`` the line stands on the top of a circle of that radius round (x, y), its middle uppermost.
    """

    face: Face
    size: int
    text: str
    x: int
    y: int
    colour: Colour = BLACK
    tracking: int = 0
    role: str = ""
    anchor: str = "start"
    halo: Colour | None = None
    says: str = ""
    arc: int = 0

    @property
    def width(self) -> int:
        return self.face.width(self.text, self.size, self.tracking)

    def turned(self) -> list[tuple[str, float, float, float]]:
        """Each letter of a line on an arc: where its baseline begins, and how far it is turned to the left, in radians."""
        along, placed = -self.width / 2, []
        for sign, step in zip(self.text, self.face.steps(self.text), strict=True):
            half = self.face.advance(sign) * self.size / self.face.units / 2
            turn = -(along + half) / self.arc
            x, y = self.x - sin(turn) * self.arc, self.y + cos(turn) * self.arc
            placed.append((sign, x - cos(turn) * half, y - sin(turn) * half, turn))
            along += step * self.size / self.face.units + self.tracking
        return placed

    @property
    def box(self) -> Box:
        if self.arc:
            half = self.width / 2 / self.arc
            outer = self.arc + self.face.extent("HÉ", self.size)[1]
            across = round(outer * sin(min(half, pi / 2)))
            return Box(self.x - across, self.y + round(self.arc * cos(half)), self.x + across, self.y + outer)
        return self.face.ink(self.text, self.size, self.tracking).moved(self.x, self.y)


@dataclass(frozen=True)
class Shape:
    """A filled or stroked path. ``behind`` marks lie under the words and may be crossed by them.

    ``dash`` is the length of a dash and of the gap behind it, ``opacity`` that of the filling in per cent; ``says`` is
    shown when pointed at on a screen.
    """

    path: Path
    fill: Colour | None = None
    stroke: Colour | None = None
    width: int = 0
    behind: bool = False
    round_ends: bool = False
    role: str = "ornament"
    dash: tuple[int, ...] = ()
    opacity: int = 100
    says: str = ""

    @property
    def box(self) -> Box:
        half = self.width // 2 if self.stroke else 0
        return around(
            Box(step[i], step[i + 1], step[i], step[i + 1]) for step in self.path for i in range(1, len(step), 2)
        ).grown(half)


@dataclass(frozen=True)
class BarcodeMark:
    """A linear symbol; its lower left corner is that of its quiet zone. ``x_dots`` counts dots from the label's edge."""

    bars: Barcode
    module: Module
    x_dots: int
    y: int
    high: int
    colour: Colour = BLACK
    ladder: bool = False
    guard: int = 0  # how much longer the guard bars of a till symbol are
    role: str = "bars"

    @property
    def x(self) -> int:
        return self.x_dots * 25_400 // self.module.dpi

    @property
    def box(self) -> Box:
        long = self.module.um(self.bars.across)
        if self.ladder:
            return Box(self.x, self.y, self.x + self.high, self.y + long)
        return Box(self.x, self.y, self.x + long, self.y + self.high)

    def rectangles(self) -> list[tuple[float, float, float, float]]:
        """Each bar as left, bottom, width and height in dots of the printer; across, whole ones."""
        dots, quiet, dot = self.module.dots, self.bars.quiet[0], 25_400 / self.module.dpi
        low, high = self.y / dot, self.high / dot
        along = [((quiet + first) * dots, wide * dots) for first, wide in self.bars.runs()]
        if self.ladder:
            return [(self.x_dots, round(low) + start, high, wide) for start, wide in along]
        longer = self.guard / dot
        guards = TILL_TEXT[self.bars.kind.name].guards if longer else ()
        long = [any(start <= first < end for start, end in guards) for first, _ in self.bars.runs()]
        return [
            (self.x_dots + start, low - (longer if is_guard else 0), wide, high + (longer if is_guard else 0))
            for (start, wide), is_guard in zip(along, long, strict=True)
        ]


@dataclass(frozen=True)
class MatrixMark:
    """A matrix symbol, quiet zone included."""

    squares: MatrixCode
    module: Module
    x_dots: int
    y_dots: int
    colour: Colour = BLACK
    role: str = "squares"

    @property
    def box(self) -> Box:
        quiet = 2 * self.squares.quiet
        x, y = (dots * 25_400 // self.module.dpi for dots in (self.x_dots, self.y_dots))
        return Box(x, y, x + self.module.um(self.squares.wide + quiet), y + self.module.um(self.squares.high + quiet))

    def rectangles(self) -> list[tuple[float, float, float, float]]:
        """Dark modules as left, bottom, width and height in dots of the printer, neighbours in a row joined."""
        side, squares = self.module.dots, self.squares
        left, bottom = self.x_dots + squares.quiet * side, self.y_dots + squares.quiet * side
        found: list[tuple[float, float, float, float]] = []
        for row, modules in enumerate(squares.rows):
            y = bottom + (squares.high - 1 - row) * side
            for run in re.finditer(b"\x01+", modules):
                found.append((left + run.start() * side, y, (run.end() - run.start()) * side, side))
        return found


@dataclass(frozen=True)
class Picture:
    """A raster picture (PNG or JPEG bytes that were opened and found whole)."""

    data: bytes = field(repr=False)
    x: int
    y: int
    wide: int
    high: int
    role: str = "logo"

    @property
    def box(self) -> Box:
        return Box(self.x, self.y, self.x + self.wide, self.y + self.high)


@dataclass(frozen=True)
class Clipped:
    """Ornaments or a picture cut off at a path: what runs over the edge of a round label."""

    path: Path
    marks: tuple[Mark, ...]
    behind: bool = True
    role: str = "ornament"

    @property
    def box(self) -> Box:
        return Shape(self.path).box


Mark = Text | Shape | BarcodeMark | MatrixMark | Picture | Clipped


def shifted(mark: Mark, dx: int, dy: int, dpi: int) -> Mark:
    """The same mark moved; symbols move by whole dots."""
    if isinstance(mark, Text):
        return replace(mark, x=mark.x + dx, y=mark.y + dy)
    if isinstance(mark, Shape):
        return _shifted_shape(mark, dx, dy)
    if isinstance(mark, BarcodeMark):
        return replace(mark, x_dots=mark.x_dots + on_grid(dx, dpi), y=mark.y + dy)
    if isinstance(mark, MatrixMark):
        return replace(mark, x_dots=mark.x_dots + on_grid(dx, dpi), y_dots=mark.y_dots + on_grid(dy, dpi))
    if isinstance(mark, Clipped):
        inner = tuple(shifted(one, dx, dy, dpi) for one in mark.marks)
        return replace(mark, path=_moved(mark.path, dx, dy), marks=inner)
    return replace(mark, x=mark.x + dx, y=mark.y + dy)


def _shifted_shape(shape: Shape, dx: int, dy: int) -> Shape:
    return replace(shape, path=_moved(shape.path, dx, dy))


def behind(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The same marks, ornaments among them to lie under the words."""
    return tuple(replace(mark, behind=True) if isinstance(mark, Shape | Clipped) else mark for mark in marks)


def _moved(path: Path, dx: int, dy: int) -> Path:
    return tuple((step[0], *(v + (dy if i % 2 else dx) for i, v in enumerate(step[1:]))) for step in path)


def rectangle(box: Box, radius: int = 0) -> Path:
    """The outline of a box, with round corners where asked for."""
    left, bottom, right, top = box.left, box.bottom, box.right, box.top
    if not radius:
        return (("M", left, bottom), ("L", right, bottom), ("L", right, top), ("L", left, top), ("Z",))
    r = min(radius, box.width // 2, box.height // 2)
    k = r * 4477 // 10_000
    return (
        ("M", left + r, bottom),
        ("L", right - r, bottom),
        ("C", right - k, bottom, right, bottom + k, right, bottom + r),
        ("L", right, top - r),
        ("C", right, top - k, right - k, top, right - r, top),
        ("L", left + r, top),
        ("C", left + k, top, left, top - k, left, top - r),
        ("L", left, bottom + r),
        ("C", left, bottom + k, left + k, bottom, left + r, bottom),
        ("Z",),
    )


def ellipse(box: Box) -> Path:
    """The outline of the ellipse that fills a box."""
    cx, cy = (box.left + box.right) // 2, (box.bottom + box.top) // 2
    rx, ry = box.width // 2, box.height // 2
    kx, ky = rx * 5523 // 10_000, ry * 5523 // 10_000
    return (
        ("M", cx + rx, cy),
        ("C", cx + rx, cy + ky, cx + kx, cy + ry, cx, cy + ry),
        ("C", cx - kx, cy + ry, cx - rx, cy + ky, cx - rx, cy),
        ("C", cx - rx, cy - ky, cx - kx, cy - ry, cx, cy - ry),
        ("C", cx + kx, cy - ry, cx + rx, cy - ky, cx + rx, cy),
        ("Z",),
    )


def line(x1: int, y1: int, x2: int, y2: int) -> Path:
    return (("M", x1, y1), ("L", x2, y2))


def polyline(points: Sequence[tuple[int, int]]) -> Path:
    """Straight lines from each point to the next."""
    return tuple(("L" if place else "M", x, y) for place, (x, y) in enumerate(points))


def hatched(box: Box, ground: Colour, lines: Colour, step: int, width: int, role: str) -> Clipped:
    """A box hatched with slanting lines that far apart."""
    strokes = [
        Shape(line(x, box.bottom, x + box.height, box.top), stroke=lines, width=width)
        for x in range(box.left - box.height, box.right, step)
    ]
    return Clipped(rectangle(box), (Shape(rectangle(box), fill=ground), *strokes), role=role)


def dotted(box: Box, ground: Colour, dots: Colour, step: int, width: int, role: str) -> Clipped:
    """A box with rows of small rings that far apart."""
    half = step // 6
    rings = [
        Shape(ellipse(Box(x - half, y - half, x + half, y + half)), stroke=dots, width=width)
        for x in range(box.left + step // 2, box.right + half, step)
        for y in range(box.bottom + step // 2, box.top + half, step)
    ]
    return Clipped(rectangle(box), (Shape(rectangle(box), fill=ground), *rings), role=role)
