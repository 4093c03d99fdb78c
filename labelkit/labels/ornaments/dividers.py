"""Dividers: the small thing between the maker and the name."""

from __future__ import annotations

from math import cos, pi, sin

from labelkit.labels.ornaments.pen import circle, drawn, filled, leaf
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape


def sprig(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """A sprig lying both ways from a bud, each arm ending in a hair line."""
    ink, high = palette[0], box.height
    cx, cy = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    arm = min(box.width / 2, high * 5.2)
    marks = [filled(circle(cx, cy, high * 0.13), ink)]
    for side in (-1, 1):
        start, end = cx + side * high * 0.32, cx + side * arm
        marks.append(drawn([("M", start, cy), ("L", end, cy)], ink, high * 0.055))
        for i in range(4):
            x = cx + side * high * (0.42 + i * 0.46)
            long = high * (0.56 - i * 0.065)
            for up in (-1, 1):
                turn = (0 if side > 0 else pi) + up * side * 0.74
                marks.append(filled(leaf(x, cy, turn, long, long * 0.40, -up * side * 0.10), ink))
        marks.append(filled(leaf(cx + side * high * 2.26, cy, 0 if side > 0 else pi, high * 0.46, high * 0.16), ink))
    return [mark for mark in marks if box.holds(mark.box)]


def tab(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """A short block of colour, set flush left."""
    high = box.height * 0.34
    y = (box.bottom + box.top - high) / 2
    long = min(box.width, box.height * 4.2)
    return [
        filled(
            [
                ("M", box.left, y),
                ("L", box.left + long, y),
                ("L", box.left + long, y + high),
                ("L", box.left, y + high),
                ("Z",),
            ],
            palette[0],
        )
    ]


def rosette(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """A rosette of loops between two lines, as engravers turned them."""
    ink, high = palette[0], box.height
    cx, cy, r = (box.left + box.right) / 2, (box.bottom + box.top) / 2, box.height * 0.48
    marks = []
    for phase in (0.0, pi / 8):
        steps, turns = [], 96
        for k in range(turns + 1):
            t = 2 * pi * k / turns
            reach = r * (0.62 + 0.38 * cos(8 * t + 8 * phase))
            steps.append(("L" if k else "M", cx + reach * cos(t), cy + reach * sin(t)))
        marks.append(drawn(steps, ink, high * 0.035))
    marks.append(filled(circle(cx, cy, r * 0.13), palette[1 % len(palette)]))
    arm = min(box.width / 2, high * 4.5)
    for side in (-1, 1):
        for lift in (-0.07, 0.07):
            y = cy + lift * high
            marks.append(drawn([("M", cx + side * r * 1.25, y), ("L", cx + side * arm, y)], ink, high * 0.03))
        marks.append(filled(circle(cx + side * arm, cy, high * 0.07), ink))
    return [mark for mark in marks if box.grown(round(high * 0.08)).holds(mark.box)]


#: Each divider with its height as a share of the name's size.
DIVIDERS = {"sprig": (sprig, 0.44), "tab": (tab, 0.30), "rosette": (rosette, 0.55)}
