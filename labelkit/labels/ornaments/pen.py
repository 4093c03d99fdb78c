"""A pen for ornaments: curves in floating micrometres, kept as whole-micrometre paths."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, hypot, pi, sin, tan

from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Path, Shape, rectangle

Point = tuple[float, float]


def whole(steps: Iterable[tuple]) -> Path:
    """A path with its coordinates rounded to whole micrometres."""
    return tuple((step[0], *(round(value) for value in step[1:])) for step in steps)


def filled(steps: Iterable[tuple], colour: Colour, behind: bool = False) -> Shape:
    return Shape(whole(steps), fill=colour, behind=behind)


def drawn(steps: Iterable[tuple], colour: Colour, width: float, behind: bool = False) -> Shape:
    return Shape(whole(steps), stroke=colour, width=round(width), round_ends=True, behind=behind)


def circle(x: float, y: float, radius: float) -> list[tuple]:
    """A circle in four curves."""
    k = radius * 0.5523
    return [
        ("M", x + radius, y),
        ("C", x + radius, y + k, x + k, y + radius, x, y + radius),
        ("C", x - k, y + radius, x - radius, y + k, x - radius, y),
        ("C", x - radius, y - k, x - k, y - radius, x, y - radius),
        ("C", x + k, y - radius, x + radius, y - k, x + radius, y),
        ("Z",),
    ]


def arc(x: float, y: float, radius: float, start: float, end: float) -> list[tuple]:
    """A part of a circle as one curve, from one angle to another at most a quarter turn on."""
    k = radius * 4 / 3 * tan((end - start) / 4)
    one, two = (cos(start), sin(start)), (cos(end), sin(end))
    return [
        ("M", x + radius * one[0], y + radius * one[1]),
        (
            "C",
            x + radius * one[0] - k * one[1],
            y + radius * one[1] + k * one[0],
            x + radius * two[0] + k * two[1],
            y + radius * two[1] - k * two[0],
            x + radius * two[0],
            y + radius * two[1],
        ),
    ]


def bar(box: Box) -> list[tuple]:
    """A solid box."""
    return list(rectangle(box))


def leaf(x: float, y: float, angle: float, long: float, wide: float, lean: float = 0.0) -> list[tuple]:
    """A pointed leaf from its stalk at (x, y); ``lean`` bends the tip sideways by that share of its length."""
    ux, uy, vx, vy = cos(angle), sin(angle), -sin(angle), cos(angle)

    def at(along: float, across: float) -> Point:
        across += lean * long * (along / long) ** 2 if long else 0
        return x + ux * along + vx * across, y + uy * along + vy * across

    tip = at(long, 0)
    return [
        ("M", x, y),
        ("C", *at(long * 0.25, wide * 0.62), *at(long * 0.68, wide * 0.55), *tip),
        ("C", *at(long * 0.68, -wide * 0.42), *at(long * 0.25, -wide * 0.5), x, y),
        ("Z",),
    ]


def smooth(points: list[Point]) -> list[tuple]:
    """A curve through points (Catmull-Rom, as cubic curves)."""
    steps: list[tuple] = [("M", *points[0])]
    for i in range(len(points) - 1):
        before, here, after, beyond = (
            points[max(0, i - 1)],
            points[i],
            points[i + 1],
            points[min(len(points) - 1, i + 2)],
        )
        one = here[0] + (after[0] - before[0]) / 6, here[1] + (after[1] - before[1]) / 6
        two = after[0] - (beyond[0] - here[0]) / 6, after[1] - (beyond[1] - here[1]) / 6
        steps.append(("C", *one, *two, *after))
    return steps


def stem(x: float, y: float, height: float, bend: float) -> tuple[list[tuple], Point, float]:
    """A stem from the ground: its curve, its tip, and the direction it points there."""
    tip = (x + bend, y + height)
    control = (x + bend * 0.15, y + height * 0.55)
    steps = [("M", x, y), ("C", x, y + height * 0.3, *control, *tip)]
    dx, dy = tip[0] - control[0], tip[1] - control[1]
    length = hypot(dx, dy) or 1
    angle = pi / 2 if not dx else (pi / 2 - (dx / length) * 0.9)
    return steps, tip, angle


def mixed(seed: int) -> float:
    """A number from 0 to 1 that looks chosen by chance and is always the same for the same seed."""
    value = (seed * 2654435761 + 97) & 0xFFFFFFFF
    value ^= value >> 15
    value = value * 2246822519 & 0xFFFFFFFF
    value ^= value >> 13
    return (value & 0xFFFFFF) / 0x1000000
