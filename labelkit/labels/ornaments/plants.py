"""Plants of a meadow, each on its stem. ``u`` is the unit they are drawn in, a twentieth of a stem of 20 mm or more."""

from __future__ import annotations

from math import cos, pi, sin

from labelkit.labels.ornaments.pen import circle, drawn, filled, leaf, stem
from labelkit.paper.marks import Colour, Shape

#: A plant's unit, as a share of 20 mm of stem: never under this, so that no head is narrower than 2.2 mm.
LEAST_UNIT, MOST_UNIT, STEM = 0.55, 1.25, 20_000


def unit(tall: float) -> float:
    """Micrometres to a millimetre of a plant drawn at 20 mm.

    >>> unit(5_000), unit(20_000)
    (550.0, 1000.0)
    """
    return 1000 * max(LEAST_UNIT, min(MOST_UNIT, tall / STEM))


def half_width(kind: str, tall: float) -> float:
    """Half the width of a plant's head."""
    return unit(tall) * {"poppy": 2.4, "daisy": 2.8, "clover": 2.3, "umbel": 3.0, "bell": 1.7, "grass": 1.0}[kind]


def plant(kind: str, x: float, y: float, tall: float, bend: float, green: Colour, palette) -> list[Shape]:
    """A plant with its stem, its leaves in the lowest fifth, and its head at ``tall``."""
    u = unit(tall)
    steps, (tx, ty), angle = stem(x, y, tall, bend)
    marks = [drawn(steps, palette["grain"] if kind == "grass" else green, max(160, 0.34 * u))]
    if kind not in ("grass",):
        low = min(tall * 0.2, 4_500)
        for side, at in ((1, 0.42), (-1, 0.8)):
            long = min(tall * 0.3, 3_000 * u / 1000)
            turn = pi / 2 - side * 0.75
            marks.append(filled(leaf(x + bend * 0.05, y + low * at, turn, long, long * 0.42, side * 0.12), green))
    return marks + _HEADS[kind](tx, ty, u, angle, green, palette)


def _poppy(x, y, u, angle, green, palette) -> list[Shape]:
    """One cupped shape, a dark heart at its foot."""
    k = u * 0.82
    cup = [
        ("M", x - 2.84 * k, y + 0.3 * k),
        ("C", x - 2.55 * k, y - 3.2 * k, x + 2.55 * k, y - 3.2 * k, x + 2.84 * k, y + 0.3 * k),
        ("C", x + 1.56 * k, y + 1.84 * k, x + 0.71 * k, y + 0.85 * k, x, y),
        ("C", x - 0.71 * k, y + 0.85 * k, x - 1.56 * k, y + 1.84 * k, x - 2.84 * k, y + 0.3 * k),
        ("Z",),
    ]
    heart = [
        ("M", x - 0.96 * k, y - 2.05 * k),
        ("C", x - 0.3 * k, y - 1.2 * k, x + 0.3 * k, y - 1.2 * k, x + 0.96 * k, y - 2.05 * k),
        ("Z",),
    ]
    return [filled(cup, palette["red"]), filled(heart, palette["dark"])]


def _daisy(x, y, u, angle, green, palette) -> list[Shape]:
    """Thirteen petals and a brown eye."""
    marks = []
    for petal in range(13):
        turn = 2 * pi * petal / 13
        near = 0.75 * u
        marks.append(filled(leaf(x + cos(turn) * near, y + sin(turn) * near, turn, 2.0 * u, 0.85 * u), palette["gold"]))
    return [*marks, filled(circle(x, y, 0.95 * u), palette["eye"])]


def _clover(x, y, u, angle, green, palette) -> list[Shape]:
    """Three rings of petals over a leaf of three."""
    marks = []
    for place in range(3):
        turn = pi / 2 + (place - 1) * 0.9
        marks.append(filled(leaf(x, y - 2.2 * u, turn, 1.3 * u, 0.7 * u), green))
    for ring, (count, reach) in enumerate(((9, 2.5), (7, 2.1), (5, 1.5))):
        for place in range(count):
            turn = pi / 2 + (place - (count - 1) / 2) * (3.4 / count)
            marks.append(filled(leaf(x, y - 0.5 * u, turn, reach * u, 0.72 * u), palette["violet"][ring % 2]))
    return marks


def _umbel(x, y, u, angle, green, palette) -> list[Shape]:
    """Seven rays of four dots each."""
    marks = []
    for ray in range(7):
        turn = angle + (ray - 3) * 0.3
        long = (3.0 - 0.07 * abs(ray - 3)) * u
        ex, ey = x + cos(turn) * long, y - 1.4 * u + sin(turn) * long
        marks.append(drawn([("M", x, y - 1.4 * u), ("L", ex, ey)], green, max(150, 0.2 * u)))
        for dx, dy in ((-0.38, 0), (0.38, 0), (0, 0.4), (0, -0.25)):
            marks.append(filled(circle(ex + dx * u, ey + dy * u, 0.34 * u), palette["amber"]))
    return marks


def _bell(x, y, u, angle, green, palette) -> list[Shape]:
    """Five bells on alternate sides, the lowest the largest."""
    marks = [filled(circle(x, y, 0.34 * u), palette["violet"][0])]
    for place in range(5):
        side, k = (1, -1)[place % 2], u * (0.55 + 0.11 * place)
        bx, by = x + side * 0.95 * u, y - (0.9 + 1.25 * place) * u
        cup = [
            ("M", bx - 0.3 * k, by),
            ("C", bx - 1.0 * k, by - 0.5 * k, bx - 0.8 * k, by - 1.3 * k, bx - 1.15 * k, by - 1.75 * k),
            ("L", bx - 0.4 * k, by - 1.5 * k),
            ("L", bx, by - 1.85 * k),
            ("L", bx + 0.4 * k, by - 1.5 * k),
            ("L", bx + 1.15 * k, by - 1.75 * k),
            ("C", bx + 0.8 * k, by - 1.3 * k, bx + 1.0 * k, by - 0.5 * k, bx + 0.3 * k, by),
            ("Z",),
        ]
        marks += [
            drawn([("M", x, by + 0.5 * u), ("L", bx, by - 0.1 * k)], green, max(150, 0.18 * u)),
            filled(cup, palette["violet"][0]),
        ]
    return marks


def _grass(x, y, u, angle, green, palette) -> list[Shape]:
    """Eight grains in an ear."""
    marks = [filled(leaf(x, y - 0.4 * u, pi / 2, 1.7 * u, 0.55 * u), palette["grain"])]
    for place in range(8):
        side = (1, -1)[place % 2]
        marks.append(
            filled(
                leaf(x, y - (0.4 + 0.62 * place) * u, pi / 2 - side * 0.5, 1.5 * u, 0.6 * u),
                palette["grain"],
            )
        )
    return marks


_HEADS = {"poppy": _poppy, "daisy": _daisy, "clover": _clover, "umbel": _umbel, "bell": _bell, "grass": _grass}
