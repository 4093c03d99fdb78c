"""Four animals as cut paper, all facing right: flat shapes without an outline, drawn in millimetres with their feet at 0.

Each shape is a path in the language of SVG (y downwards), the colour it is cut from, and the width of a stroke where it is
one.
"""

from __future__ import annotations

from functools import lru_cache
from math import cos, sin

from labelkit.labels.ornaments.pen import whole
from labelkit.paper.marks import Colour, Path, Shape


def _disc(x: float, y: float, rx: float, ry: float | None = None) -> str:
    ry = rx if ry is None else ry
    return f"M{x - rx} {y}A{rx} {ry} 0 1 1 {x + rx} {y}A{rx} {ry} 0 1 1 {x - rx} {y}Z"


_FOX = (
    ("M-3.6 -4C-7 -3.4 -8.6 -5.8 -7.8 -8.6C-5.4 -8.4 -3.2 -6.6 -2.6 -4.6Z", "coral", 0),
    ("M-8.1 -6.9L-7.8 -8.6L-6.1 -8.2Q-7 -7.8 -8.1 -6.9Z", "cream", 0),
    ("M-4 -4.9H2.6L3 0H1.6L1 -2.2H-1.9L-2.3 0H-3.7Z", "coral", 0),
    ("M1.2 -5C1 -7.2 2 -8.2 2.4 -8.3L2.2 -10.6L4 -8.9H5.4L7 -10.6L7 -8.3Q7.8 -7 6.6 -5.6L4.7 -3.9Z", "coral", 0),
    ("M3.4 -5.7Q4 -6.4 4.7 -5.3Q5.4 -6.4 6.5 -5.6L4.7 -3.9Z", "cream", 0),
    (_disc(3.5, -6.9, 0.45), "eye", 0),
    (_disc(5.9, -6.9, 0.45), "eye", 0),
    (_disc(4.7, -4.3, 0.5), "plum", 0),
)
_HEDGEHOG = (
    (
        "M-6.3 -1L-7.56 -1.98L-6.09 -2.55L-7.03 -3.86L-5.46 -3.98L-6.01 -5.51L-4.47 -5.17L-4.58 -6.8L-3.2 -6.01"
        "L-2.87 -7.61L-1.75 -6.46L-1 -7.89L-0.25 -6.46L0.87 -7.61L1.2 -6.01L2.58 -6.8L2.47 -5.17L4.01 -5.51L3.46 -3.98"
        "L5.03 -3.86L4.09 -2.55L5.56 -1.98L4.3 -1Z",
        "plum",
        0,
    ),
    ("M1.4 -5.4C4 -5.6 5.6 -3.6 8.2 -2.6C8.6 -1.6 7.4 -1 6 -1H1.6C0.2 -2.4 0.2 -4.4 1.4 -5.4Z", "cream", 0),
    (_disc(8.1, -2.5, 0.75), "coral", 0),
    (_disc(4, -3.6, 0.55), "plum", 0),
    (_disc(1.9, -4.9, 0.95), "coral", 0),
    (_disc(-3.6, -0.45, 1.1, 0.5), "plum", 0),
    (_disc(-0.4, -0.45, 1.1, 0.5), "plum", 0),
    (_disc(3.2, -0.45, 1.1, 0.5), "cream", 0),
)
_SNAIL = (
    (
        "M-6.4 0C-6.6 -1.2 -5.4 -1.9 -4 -1.8L3 -2C4.2 -2.2 4.4 -3.4 4.4 -5C4.4 -6.6 7.3 -6.7 7.4 -4.6"
        "C7.5 -1.6 6.6 0 4 0Z",
        "cream",
        0,
    ),
    ("M5.2 -5.4L4.7 -8.1M6.5 -5.4L7.1 -8", "cream", 0.55),
    (_disc(4.7, -8.2, 0.55), "plum", 0),
    (_disc(7.1, -8.1, 0.55), "plum", 0),
    (_disc(-1, -5, 4.3), "yellow", 0),
    (
        "M-1 -5.1C-0.2 -5.9 0.9 -5 0.5 -3.9C0.1 -2.7 -1.9 -2.5 -2.9 -3.7C-4 -5.2 -2.9 -7.6 -0.6 -7.8"
        "C1.6 -7.9 3 -6 2.3 -3.6",
        "plum",
        0.62,
    ),
    ("M5.6 -2.9Q6.3 -2.5 6.8 -3.1", "plum", 0.4),
)
_DUCK = (
    (
        "M-5.6 -6.6C-5 -5.8 -3.6 -5.8 -2.4 -6.2L1.4 -6.4C0.6 -10 6 -10.8 6.1 -7.4C6.1 -6 5.4 -5.6 5.2 -4.4"
        "C4.8 -1.6 2 -1.2 -0.6 -1.6C-4 -2.1 -5.8 -4 -5.6 -6.6Z",
        "yellow",
        0,
    ),
    ("M6 -8L9 -7.3Q8.2 -6.2 6 -6.3Z", "coral", 0),
    (_disc(4.2, -8.1, 0.55), "plum", 0),
    ("M-3.2 -4.9Q-0.4 -2.2 1.8 -4.9Q-0.6 -5.6 -3.2 -4.9Z", "amber", 0),
    ("M-0.4 -1.8V-0.2H1.1", "coral", 0.62),
    ("M2 -1.8V-0.2H3.5", "coral", 0.62),
)
ANIMALS = {"fox": _FOX, "hedgehog": _HEDGEHOG, "snail": _SNAIL, "duck": _DUCK}
#: From the middle of an animal to its tail and to its nose, and how high it is; millimetres.
REACH = {"fox": (8.3, 7.4, 10.7), "hedgehog": (7.6, 8.9, 8.0), "snail": (6.6, 7.7, 9.4), "duck": (5.7, 9.1, 9.9)}
#: Where a balloon's string is held.
HELD = {"fox": (5.0, 5.4), "duck": (6.6, 7.0)}


#: The colours that are paper with an outline where there is one ink, and the width of the outline in micrometres.
PALE, OUTLINE = ("cream", "yellow"), 350


@lru_cache(maxsize=64)
def _path(text: str) -> Path:
    from fontTools.svgLib.path.parser import parse_path

    from labelkit.paper.outlines import PathPen

    pen = PathPen()
    parse_path(text, pen)
    return tuple(pen.steps)


def animal(
    name: str, x: float, y: float, scale: float, colours: dict[str, Colour], turn: float = 0, lines: bool = False
) -> list[Shape]:
    """An animal with the middle of its feet at (x, y), ``scale`` times as large, turned to the left by radians; with
    ``lines`` its pale parts are paper with an outline."""
    along, across = cos(turn) * 1000 * scale, sin(turn) * 1000 * scale
    marks = []
    for text, ink, width in ANIMALS[name]:
        steps = [
            (
                step[0],
                *(
                    value
                    for a, b in zip(step[1::2], step[2::2], strict=True)
                    for value in (x + a * along + b * across, y + a * across - b * along)
                ),
            )
            for step in _path(text)
        ]
        if lines and ink in PALE:
            edge = max(OUTLINE, round(OUTLINE * scale))
            marks.append(Shape(whole(steps), fill=None if width else colours[ink], stroke=colours["plum"], width=edge))
        elif width:
            marks.append(Shape(whole(steps), stroke=colours[ink], width=round(width * 1000 * scale), round_ends=True))
        else:
            marks.append(Shape(whole(steps), fill=colours[ink]))
    return marks
