"""Frames: what runs round the edge, and how much room it takes from the words."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin, sqrt

from labelkit.labels.ornaments.pen import drawn, smooth, whole
from labelkit.labels.outline import Outline
from labelkit.paper.marks import Colour, Shape

MM = 1000


def double(outline: Outline, palette: tuple[Colour, ...], edge: int) -> tuple[list[Shape], int]:
    """A heavy and a light line, like a printer's border."""
    small = min(outline.wide, outline.high)
    heavy, light = max(250, min(550, small // 90)), max(120, min(200, small // 220))
    apart = heavy // 2 + max(350, small // 75)
    ink = palette[0]
    marks = [
        Shape(outline.path(-edge - heavy // 2), stroke=ink, width=heavy, role="frame"),
        Shape(outline.path(-edge - heavy // 2 - apart), stroke=ink, width=light, role="frame"),
    ]
    return marks, edge + heavy + apart + light


def woven(outline: Outline, palette: tuple[Colour, ...], edge: int) -> tuple[list[Shape], int]:
    """A braid of fine lines between two hair lines."""
    small = min(outline.wide, outline.high)
    band = max(900, min(2600, small // 16))
    hair = max(70, min(130, small // 500))
    middle = edge + band // 2
    marks = [
        Shape(outline.path(-edge), stroke=palette[0], width=hair * 2, role="frame"),
        Shape(outline.path(-edge - band), stroke=palette[0], width=hair, role="frame"),
    ]
    ring = _ring(outline, middle)
    waves = max(12, round(ring[-1][2] / (band * 1.55)))
    for strand in range(6):
        phase = strand * 2 * pi / 6
        points = []
        for x, y, along, nx, ny in ring:
            swing = (band / 2 - hair * 2) * 0.92 * sin(2 * pi * waves * along / ring[-1][2] + phase)
            points.append((x + nx * swing, y + ny * swing))
        path = whole(smooth([*points[:-1], points[0]]))
        marks.append(Shape(path, stroke=palette[0], width=hair, round_ends=True, role="frame"))
    return marks, edge + band + hair


def _ring(outline: Outline, inset: int) -> list[tuple[float, float, float, float, float]]:
    """Points round the label at an inset: x, y, the way along, and the outward direction."""
    if outline.shape == "rectangle":
        return _rectangle_ring(outline, inset)
    cx, cy, rx, ry = outline.wide / 2, outline.high / 2, outline.wide / 2 - inset, outline.high / 2 - inset
    points, along, last = [], 0.0, None
    for k in range(721):
        t = 2 * pi * k / 720
        x, y = cx + rx * cos(t), cy + ry * sin(t)
        if last:
            along += sqrt((x - last[0]) ** 2 + (y - last[1]) ** 2)
        nx, ny = cos(t) / rx, sin(t) / ry
        long = sqrt(nx * nx + ny * ny)
        points.append((x, y, along, nx / long, ny / long))
        last = (x, y)
    return points


def _rectangle_ring(outline: Outline, inset: int) -> list[tuple[float, float, float, float, float]]:
    r = max(outline.corner - inset, 1.4 * MM)
    left, right, bottom, top = inset, outline.wide - inset, inset, outline.high - inset
    corners = (
        (right - r, bottom + r, -pi / 2),
        (right - r, top - r, 0),
        (left + r, top - r, pi / 2),
        (left + r, bottom + r, pi),
    )
    raw: list[tuple[float, float, float, float]] = []
    for cx, cy, start in corners:
        raw += [(cx + r * cos(start + a), cy + r * sin(start + a), cos(start + a), sin(start + a)) for a in _quarter()]
    raw.append(raw[0])
    points, along = [(raw[0][0], raw[0][1], 0.0, raw[0][2], raw[0][3])], 0.0
    for here, after in pairwise(raw):
        long = sqrt((after[0] - here[0]) ** 2 + (after[1] - here[1]) ** 2)
        parts = max(1, round(long / 220))
        for part in range(1, parts + 1):
            share = part / parts
            points.append(
                (
                    here[0] + (after[0] - here[0]) * share,
                    here[1] + (after[1] - here[1]) * share,
                    along + long * share,
                    here[2] + (after[2] - here[2]) * share,
                    here[3] + (after[3] - here[3]) * share,
                )
            )
        along += long
    return points


def _quarter() -> list[float]:
    return [pi / 2 * k / 8 for k in range(9)]


def hair(outline: Outline, palette: tuple[Colour, ...], edge: int) -> tuple[list[Shape], int]:
    """One hair line."""
    return [drawn(outline.path(-edge), palette[0], 150)], edge + 150


FRAMES = {"double": double, "woven": woven, "hair": hair}
