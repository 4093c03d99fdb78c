"""almanac: the month's moons inside a woven border."""

from __future__ import annotations

from math import cos, pi, sin

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import Drawn, Room, Scene
from labelkit.labels.ornaments.pen import bar, circle, drawn, filled
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: The frame: from the edge, its width, the strand, the gold either side of a strand, the rule within. Micrometres.
MARGIN, FRAME, STRAND, OVER, INNER = 1_300, 2_700, 620, 1_150, 600
#: Under this width or height the frame is one plain rule.
LEAST_WIDE, LEAST_HIGH, PLAIN_RULE = 60_000, 40_000, 900
#: A moon's radius and the step to the next.
MOON, STEP = 950, 3_600
RING, RING_MOON = 5_000, 1_750
PHASES = (0.0, 0.25, 0.5, 0.75, 1.0, 0.75, 0.5, 0.25, 0.0)


def _woven(outline: Outline) -> bool:
    return outline.wide >= LEAST_WIDE and outline.high >= LEAST_HIGH


def room(outline: Outline, kind: str) -> Room | None:
    """Within the frame; the moons stand over the maker's line."""
    if outline.shape != "rectangle":
        return Room.even(RING + MARGIN + 1_300 if kind == "lid" and outline.shape == "round" else 3_600)
    if kind == "wrap":
        return None
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_200, crown=4_200)
    moons = 4_800 if kind == "front" else 600
    if not _woven(outline):
        tiny = min(outline.wide, outline.high) < 30_000
        side = 2_600 if tiny else 3_800
        return Room(side, side + 300, side, side, crown=1_300 if tiny else moons)
    side = MARGIN + FRAME + INNER + 1_300
    if kind == "card":
        return Room(side + 300, side + 500, side + 300, side + 4_200)
    if outline.lean or kind != "front":
        return Room(side + 300, side + 500, side - 300, side - 100, crown=moons - 2_000)
    return Room(
        side + 1_500, side + 900, side + 1_500, side + 1_000, crown=moons + 1_000, head=600, over=2_500, foot=3_000
    )


def draw(scene: Scene) -> Drawn | None:
    """The frame, the moons, and a rule between columns and over what stands below the title."""
    gold = scene.design.palette[0]
    ground = scene.design.under
    if scene.outline.shape == "round" and scene.kind == "lid":
        return Drawn(tuple(_ring(scene, gold, ground)))
    if scene.kind == "seal":
        return Drawn(tuple(row(*scene.crown(), MOON, STEP, gold, 5)))
    marks = _frame(scene, gold, ground)
    if scene.kind == "card":
        top = max(mark.box.top for mark in scene.words)
        y = (scene.outline.high - (MARGIN + FRAME + INNER if _woven(scene.outline) else MARGIN) + top) // 2
        return Drawn((*marks, *row(scene.outline.wide // 2, y, MOON, STEP, gold, 5)))
    if scene.kind != "front" and not scene.middle:
        return Drawn(tuple(marks))
    if scene.edge:
        low = MARGIN + FRAME + INNER
        path = [("M", scene.edge, low), ("L", scene.edge, scene.outline.high - low)]
        marks.append(Shape(tuple(path), stroke=gold, width=180, role="frame"))
    else:
        marks += _rules(scene, gold)
    moons = _moons(scene, gold)
    return Drawn((*marks, *moons), {}, () if moons else ("moons",))


def _frame(scene: Scene, gold: Colour, ground: Colour) -> list[Shape]:
    outline = scene.outline
    if scene.middle:
        return []
    if scene.round or not _woven(outline):
        return [Shape(outline.path(-MARGIN), stroke=gold, width=PLAIN_RULE, role="frame")]
    if scene.design.lines:
        inner = outline.box.grown(-MARGIN - FRAME - INNER)
        marks = [Shape(outline.path(-MARGIN - FRAME // 2), stroke=gold, width=500, role="frame")]
        return [*marks, Shape(tuple(bar(inner)), stroke=gold, width=180, role="frame")]
    outer = Box(MARGIN, MARGIN, outline.wide - MARGIN, outline.high - MARGIN)
    marks = []
    for band in (
        Box(outer.left, outer.bottom, outer.right, outer.bottom + FRAME),
        Box(outer.left, outer.top - FRAME, outer.right, outer.top),
        Box(outer.left, outer.bottom, outer.left + FRAME, outer.top),
        Box(outer.right - FRAME, outer.bottom, outer.right, outer.top),
    ):
        marks.append(filled(bar(band), gold))
    half = FRAME // 2
    left, right, low, high = outer.left + FRAME, outer.right - FRAME, outer.bottom + FRAME, outer.top - FRAME
    for y in (outer.bottom + half, outer.top - half):
        marks += _braid(left, y, right - left, False, gold, ground)
    for x in (outer.left + half, outer.right - half):
        marks += _braid(low, x, high - low, True, gold, ground)
    for x in (outer.left + half, outer.right - half):
        for y in (outer.bottom + half, outer.top - half):
            marks.append(filled(circle(x, y, FRAME * 0.3), ground))
    inner = outer.grown(-FRAME - INNER)
    return [*marks, Shape(tuple(bar(inner)), stroke=gold, width=180, role="frame")]


def _braid(start: float, middle: float, long: float, upright: bool, gold: Colour, ground: Colour) -> list[Shape]:
    """Two strands that cross over and under in turn, an even number of cells."""
    cells = max(2, 2 * round(long / FRAME / 2))
    cell, swing = long / cells, FRAME * 0.31
    marks = []
    # At each crossing another strand is drawn last, with gold on both its sides.
    for turn in (0, 1):
        for place in range(cells):
            side = 1 if (place + turn) % 2 else -1
            x = start + place * cell
            points = [
                ("M", x, middle - side * swing),
                (
                    "C",
                    x + cell * 0.4,
                    middle - side * swing,
                    x + cell * 0.6,
                    middle + side * swing,
                    x + cell,
                    middle + side * swing,
                ),
            ]
            if upright:
                points = [
                    (step[0], *(value for pair in zip(step[2::2], step[1::2], strict=True) for value in pair))
                    for step in points
                ]
            marks += [drawn(points, gold, OVER), drawn(points, ground, STRAND)]
    ends = range(0, cells + 1)
    for place in ends:
        for side in (-1, 1):
            x, y = start + place * cell, middle + side * swing
            marks.append(filled(circle(y if upright else x, x if upright else y, STRAND / 2), ground))
    return marks


def _rules(scene: Scene, gold: Colour) -> list[Shape]:
    title, net, small = scene.box("name", "line"), scene.box("net"), scene.box(*INFO_ROLES)
    if not (title and net and small) or scene.round or scene.tiny:
        return []
    left, right = (8_000, scene.outline.wide - 8_000) if _woven(scene.outline) else (5_000, scene.outline.wide - 5_000)
    marks = []
    for above, under in ((title.bottom, small.top), (small.bottom, net.top)):
        if above - under > 2_600:
            y = under + min(3_400, (above - under) // 2)
            marks.append(drawn([("M", left, y), ("L", right, y)], gold, 180))
    return marks


def moon(x: float, y: float, r: float, lit: float, right: bool, gold: Colour) -> list[Shape]:
    """A phase: its outline, and the lit part solid up to a terminator that is half an ellipse."""
    marks = [drawn(circle(x, y, r), gold, 200)]
    if lit >= 1:
        return [filled(circle(x, y, r), gold)]
    if lit > 0:
        side, k = (1 if right else -1), 0.5523
        bulge = r * (1 - 2 * lit) * side
        marks.append(
            filled(
                [
                    ("M", x, y + r),
                    ("C", x + side * k * r, y + r, x + side * r, y + k * r, x + side * r, y),
                    ("C", x + side * r, y - k * r, x + side * k * r, y - r, x, y - r),
                    ("C", x + bulge * k, y - r, x + bulge, y - k * r, x + bulge, y),
                    ("C", x + bulge, y + k * r, x + bulge * k, y + r, x, y + r),
                    ("Z",),
                ],
                gold,
            )
        )
    return marks


def row(x: float, y: float, r: float, step: float, gold: Colour, count: int = 9) -> list[Shape]:
    """Phases side by side, the full moon in the middle and 1.45 times as large."""
    marks = []
    skip = (9 - count) // 2
    for place in range(skip, 9 - skip):
        full = place == 4
        marks += moon(x + (place - 4) * step, y, r * (1.45 if full else 1), PHASES[place], place < 4, gold)
    return marks


def _moons(scene: Scene, gold: Colour) -> list[Shape]:
    """Nine over the maker's line where there is room, five on a small label."""
    maker = scene.box("maker", "logo") or scene.box("name")
    if maker is None:
        return []
    woven = _woven(scene.outline) and not scene.round
    ceiling = scene.outline.high - (MARGIN + FRAME + INNER if woven else MARGIN + PLAIN_RULE)
    room = ceiling - maker.top
    most = 1_500 if scene.edge is None and woven else MOON
    r = min(most, (room - 900) * 10 // 31)
    if r < 420 or scene.round or scene.outline.hole:
        return []
    middle, y = (maker.left + maker.right) / 2, maker.top + room * 0.47
    if scene.design.align == "left":
        middle = maker.left + STEP * 4
    return row(middle, y, r, r * STEP / MOON, gold, 9 if r >= MOON * 0.8 else 5)


def _ring(scene: Scene, gold: Colour, ground: Colour) -> list[Shape]:
    """A ring of gold with eight moons, two dots between each and the next."""
    c = scene.outline.wide / 2
    outer, inner = c - MARGIN, c - MARGIN - RING
    if scene.design.lines:
        marks, ground = [drawn(circle(c, c, outer), gold, 500), drawn(circle(c, c, inner), gold, 180)], gold
    else:
        marks = [
            filled(circle(c, c, outer), gold),
            filled(circle(c, c, inner), ground),
            drawn(circle(c, c, inner - 600), gold, 180),
        ]
    at = (outer + inner) / 2
    for place in range(8):
        turn = pi / 2 - place * pi / 4
        x, y = c + cos(turn) * at, c + sin(turn) * at
        lit = (1.0, 0.75, 0.5, 0.25, 0.0, 0.25, 0.5, 0.75)[place]
        marks += moon(x, y, RING_MOON, lit, place < 4, ground)
        for dot in (1, 2):
            a = turn - dot * pi / 12
            marks.append(filled(circle(c + cos(a) * at, c + sin(a) * at, 400), ground))
    return marks
