"""Bands: the strip of picture between the name and the weight."""

from __future__ import annotations

from math import cos, pi, sin

from labelkit.labels.ornaments.pen import circle, drawn, filled, leaf, mixed, smooth, stem
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

MM = 1000.0


def meadow(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """A strip of meadow: grasses, umbels, spikes and button flowers on a hair of ground."""
    green, sage, ochre, violet, pale = palette
    high, marks = box.height, []
    step = min(1.15 * MM, high * 0.115)
    count = max(6, int(box.width / step))
    for i in range(count):
        x = box.left + (i + 0.5) * box.width / count + (mixed(i) - 0.5) * step * 0.8
        tall = high * (0.16 + 0.26 * mixed(i + 301))
        lean = (mixed(i + 71) - 0.5) * 0.9
        room = min(x - box.left, box.right - x)
        lean = max(-1.0, min(1.0, lean)) * min(1.0, room / (tall * 0.5 + 1))
        angle = pi / 2 - lean * 0.5
        marks.append(
            filled(
                leaf(x, box.bottom, angle, tall * 0.95, min(high * 0.045, 0.5 * MM), -lean * 0.25), (pale, sage)[i % 2]
            )
        )
    flowers = (_umbel, _spike, _button, _umbel, _spike, _ear)
    wide = high * 0.40
    heads = max(3, int(box.width / wide))
    for i in range(heads):
        x = box.left + (i + 0.5) * box.width / heads + (mixed(i + 11) - 0.5) * wide * 0.3
        tall = high * (0.98 - 0.42 * mixed(i * 7 + 5)) * 0.78
        bend = (mixed(i + 23) - 0.5) * high * 0.22
        marks += flowers[i % len(flowers)](x, box.bottom, tall, bend, high, green, (sage, ochre, violet))
    marks.append(drawn([("M", box.left, box.bottom), ("L", box.right, box.bottom)], green, min(0.22 * MM, high * 0.02)))
    return [mark for mark in marks if box.grown(round(0.3 * MM)).holds(mark.box)]


def _line(high: float) -> float:
    return min(0.26 * MM, high * 0.018)


def _umbel(x, y, tall, bend, high, green, colours) -> list[Shape]:
    steps, (tx, ty), angle = stem(x, y, tall, bend)
    marks = [drawn(steps, green, _line(high))]
    for side, share in ((-1, 0.38), (1, 0.55)):
        marks.append(
            filled(
                leaf(
                    x + bend * share * share, y + tall * share, pi / 2 - side * 0.9, tall * 0.2, tall * 0.05, side * 0.2
                ),
                green,
            )
        )
    rays = 9
    for ray in range(rays):
        turn = angle + (ray - (rays - 1) / 2) * 0.21
        long = tall * 0.25 * (1 - 0.018 * (ray - (rays - 1) / 2) ** 2)
        ex, ey = tx + cos(turn) * long, ty + sin(turn) * long
        marks.append(drawn([("M", tx, ty), ("L", ex, ey)], green, _line(high) * 0.6))
        for dot, (dx, dy) in enumerate(((0, 0), (-1, 0.55), (1, 0.55), (0, 1.05))):
            marks.append(filled(circle(ex + dx * tall * 0.026, ey + dy * tall * 0.026, tall * 0.02), colours[1]))
            if dot == 2 and ray % 2:
                break
    return marks


def _spike(x, y, tall, bend, high, green, colours) -> list[Shape]:
    steps, (tx, ty), _ = stem(x, y, tall * 0.98, bend)
    marks = [drawn(steps, green, _line(high))]
    for share in (0.2, 0.34):
        for side in (-1, 1):
            marks.append(
                filled(
                    leaf(x + bend * share * share, y + tall * share, pi / 2 - side * 0.62, tall * 0.2, tall * 0.034),
                    green,
                )
            )
    for i in range(9):
        share = 0.56 + i * 0.052
        px, py = x + bend * share**2.2, y + tall * 0.98 * share
        size = tall * 0.075 * (1 - i * 0.075)
        for side in (-1, 1):
            marks.append(filled(leaf(px, py, pi / 2 - side * 0.75, size, size * 0.55), colours[2]))
    marks.append(filled(leaf(tx, ty - tall * 0.02, pi / 2, tall * 0.06, tall * 0.03), colours[2]))
    return marks


def _button(x, y, tall, bend, high, green, colours) -> list[Shape]:
    steps, (tx, ty), _ = stem(x, y, tall * 0.78, bend)
    marks = [drawn(steps, green, _line(high))]
    marks.append(filled(leaf(x + bend * 0.2, y + tall * 0.34, pi / 2 - 0.8, tall * 0.22, tall * 0.06, -0.15), green))
    petals = 11
    for petal in range(petals):
        turn = 2 * pi * petal / petals + 0.2
        marks.append(
            filled(
                leaf(tx + cos(turn) * tall * 0.026, ty + sin(turn) * tall * 0.026, turn, tall * 0.105, tall * 0.055),
                colours[2],
            )
        )
    marks.append(filled(circle(tx, ty, tall * 0.042), colours[1]))
    return marks


def _ear(x, y, tall, bend, high, green, colours) -> list[Shape]:
    steps, (tx, ty), _ = stem(x, y, tall * 0.9, bend * 1.5)
    marks = [drawn(steps, colours[0], _line(high))]
    for i in range(7):
        share = 0.68 + i * 0.05
        px, py = x + bend * 1.5 * share**2.2, y + tall * 0.9 * share
        for side in (-1, 1):
            marks.append(filled(leaf(px, py, pi / 2 - side * 0.45, tall * 0.075, tall * 0.026), colours[1]))
    marks.append(filled(leaf(tx, ty - tall * 0.01, pi / 2 - 0.1, tall * 0.09, tall * 0.024), colours[1]))
    return marks


def sun(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """Half a sun on the horizon, in rings, with rays as hair lines."""
    cx, base = (box.left + box.right) / 2, box.bottom
    radius = min(box.height * 0.985, box.width / 2)
    marks = []
    for i, share in enumerate((1.0, 0.86, 0.72, 0.58, 0.44)):
        r = radius * share
        marks.append(filled(_half_disc(cx, base, r), palette[4 - i]))
    rays, inner = 25, radius * 1.05
    for ray in range(rays):
        turn = pi * (ray + 0.5) / rays
        reach = (box.width / 2) * (0.985 - 0.10 * (ray % 2))
        top = base + sin(turn) * reach
        reach = reach if top < box.top else (box.top - base) / sin(turn)
        if reach > inner * 1.06:
            line = [
                ("M", cx + cos(turn) * inner, base + sin(turn) * inner),
                ("L", cx + cos(turn) * reach, base + sin(turn) * reach),
            ]
            marks.append(drawn(line, palette[2], min(0.2 * MM, radius * 0.02)))
    marks.append(drawn([("M", box.left, base), ("L", box.right, base)], palette[1], min(0.3 * MM, radius * 0.03)))
    return marks


def _half_disc(x: float, y: float, r: float) -> list[tuple]:
    k = r * 0.5523
    return [
        ("M", x - r, y),
        ("C", x - r, y + k, x - k, y + r, x, y + r),
        ("C", x + k, y + r, x + r, y + k, x + r, y),
        ("Z",),
    ]


def hills(box: Box, palette: tuple[Colour, ...]) -> list[Shape]:
    """Hills behind hills, the nearest flowing into the ground below; a sun on the first ridge."""
    disc, *slopes = palette
    marks = [filled(circle(box.left + box.width * 0.70, box.bottom + box.height * 0.66, box.height * 0.26), disc)]
    for i, colour in enumerate(slopes):
        level = box.bottom + box.height * (0.74 - 0.235 * i)
        swing = box.height * (0.155 - 0.016 * i)
        points = []
        for k in range(13):
            x = box.left + box.width * k / 12
            wave = sin(k / 12 * pi * (2.1 + 0.55 * i) + 1.3 + 2.2 * i) + 0.45 * sin(
                k / 12 * pi * (4.7 - 0.4 * i) + 0.7 * i
            )
            points.append((x, min(level + swing * wave * 0.72, box.top)))
        crest = smooth(points)
        floor = box.bottom
        marks.append(filled([*crest, ("L", box.right, floor), ("L", box.left, floor), ("Z",)], colour))
    return marks


BANDS = {"meadow": meadow, "sun": sun, "hills": hills}
