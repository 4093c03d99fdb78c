"""ember: the last sun in flat rings; the weight is printed on it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import acos, hypot, pi, sqrt

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.pen import arc, circle, filled, whole
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Shape

#: How far each ring reaches over the sun, from the lightest outwards. Micrometres.
RINGS = (1_700, 4_200, 7_500, 11_700, 17_000, 24_000, 33_000)
#: What stands on the sun lies so far inside it; large words keep off its lightest ring, small ones
#: off the two lightest where that can be.
INSIDE, OFF, SMALL_OFF = 600, 1_700, 4_200
#: The half sun of a seal and its rings.
SEAL, SEAL_RINGS = 3_200, (700, 1_500, 2_400)
#: In lines: how far each arc lies outside the first, and how thick it is; what words keep from the
#: outermost; how much closer they may lie, and the finest line.
ARCS, OFF_ARC, LEAST_SHARE, HAIR = ((0, 1_300), (2_100, 800), (3_900, 450), (5_400, 280), (6_600, 180)), 700, 0.4, 150


def room(outline: Outline, kind: str) -> Room | None:
    """The net quantity stands low, on the sun; the title and the small words keep off its light rings."""
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_000, crown=SEAL + RINGS[1])
    if kind in PANELS and outline.shape == "rectangle":
        return Room(5_000, outline.high * (6 if kind == "case" else 12) // 100, 5_000, 4_400)
    if kind not in ("front", "wrap", "lid"):
        return None
    if outline.shape != "rectangle":
        side = min(outline.wide, outline.high)
        return Room(2_600, side * 8 // 100, 2_600, 2_600, arc=5_400)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_600, 3_000, 2_600, 2_600, over=1_000, foot=2_000)
    if outline.lean:
        return Room(4_200, 4_000, 3_200, 3_900, over=5_000, aside=6_000)
    return Room(6_000, 6_800, 6_000, 6_800, head=800, over=5_000, foot=8_200)


def draw(scene: Scene) -> Drawn | None:
    """A sun so large that all that stands on it lies inside, and no other word in its light; None where there is none."""
    if scene.kind == "seal":
        return Drawn(tuple(_half_sun(scene)))
    if scene.kind in PANELS:
        return _at_the_foot(scene)
    lid = scene.kind == "lid"
    on = scene.box(*(INFO_ROLES if lid else ("net",)))
    if on is None:
        return None
    roles = INFO_ROLES if lid else ("net",)
    others = [
        (mark.box, SMALL_OFF if set(mark.role.split("+")) & set(INFO_ROLES) else OFF)
        for mark in scene.words
        if not set(getattr(mark, "role", "").split("+")) & set(roles)
    ]
    inside, lines = INSIDE + (ARCS[0][1] if scene.design.lines else 0), scene.design.lines
    right = scene.middle[1] if scene.middle else scene.edge
    if lines and right:
        others = [(box, OFF) for box, _ in others if box.left < right]
    side = scene.outline.wide if scene.middle is None else scene.middle[1] - scene.middle[0]
    middle, arcs = (on.left + on.right) / 2, list[Shape]()
    for near, share in product((0, 1), (63, 70, 58, 76, 84, 50, 100, 125, 160, 220)):
        radius = side * share / 100
        top = _top(on, radius, inside)
        if top is not None and all(
            _apart(box, middle, top - radius) >= radius + (OFF if near else off) for box, off in others
        ):
            if lines:
                # A flatter sun leaves its arcs more room; the roundest that has room for all of them is taken.
                arcs = max(arcs, _arcs(scene, middle, top - radius, radius, [box for box, _ in others]), key=len)
                if len(arcs) < len(ARCS):
                    continue
                break
            marks = [
                filled(circle(middle, top - radius, radius + ring), colour)
                for ring, colour in reversed([*zip((0, *RINGS), scene.design.palette, strict=True)])
            ]
            return Drawn(tuple(marks), dict.fromkeys(roles, "base"))
    return Drawn(tuple(arcs)) if arcs else None


def _dome(x: float, y: float, radius: float) -> list[tuple]:
    return [*arc(x, y, radius, 0, pi / 2), *arc(x, y, radius, pi / 2, pi)[1:]]


def _half_sun(scene: Scene) -> list[Shape]:
    """A half sun with three rings over the words of a seal."""
    x, _ = scene.crown()
    y = max(mark.box.top for mark in scene.lines("maker", "name")) + 1_000
    ways = [
        (SEAL, scene.design.palette[0]),
        *((SEAL + ring, ink) for ring, ink in zip(SEAL_RINGS, scene.design.palette[1:4], strict=True)),
    ]
    if scene.design.lines:
        thin = [wide // 2 for _, wide in ARCS[:4]]
        return [Shape(whole(_dome(x, y, r)), stroke=ink, width=wide) for (r, ink), wide in zip(ways, thin, strict=True)]
    return [filled([*_dome(x, y, r), ("Z",)], ink) for r, ink in reversed(ways)]


def _at_the_foot(scene: Scene) -> Drawn:
    """The sun at the foot of a panel, as high as its words leave it; none of them in its light rings."""
    boxes = [mark.box for mark in scene.words]
    radius, middle = scene.outline.wide * 3 / 4, scene.outline.wide / 2
    for share in range(20, 3, -1):
        y = scene.outline.high * share / 100 - radius
        if all(_apart(box, middle, y) >= radius + SMALL_OFF for box in boxes):
            if scene.design.lines:
                return Drawn(tuple(_arcs(scene, middle, y, radius, boxes)))
            rings = zip((0, *RINGS), scene.design.palette, strict=True)
            return Drawn(tuple(filled(circle(middle, y, radius + ring), ink) for ring, ink in reversed([*rings])))
    return Drawn((), left_out=("sun",))


def _arcs(scene: Scene, x: float, y: float, radius: float, others: Sequence[Box]) -> list[Shape]:
    """The sun as arcs, the thickest nearest to the weight, ending at the small column; closer and finer where words leave
    less room, and none of them into words."""
    room = min((_apart(box, x, y) for box in others), default=2 * radius) - radius - OFF_ARC
    share = min(1.0, max(LEAST_SHARE, room / (ARCS[-1][0] + ARCS[-1][1] / 2)))
    marks = []
    left, right = scene.middle or (scene.over().left, scene.edge or scene.over().right)
    span = [min(1.0, max(-1.0, (side - x) / radius)) for side in (left, right)]
    start, end = acos(span[1]), acos(span[0])
    half = (start + end) / 2
    for out, wide in ((out * share, max(HAIR, round(wide * share))) for out, wide in ARCS):
        if out + wide / 2 <= room:
            path = [*arc(x, y, radius + out, start, half), *arc(x, y, radius + out, half, end)[1:]]
            marks.append(Shape(whole(path), stroke=scene.design.palette[0], width=wide))
    return marks


def _top(on: Box, radius: float, inside: int) -> float | None:
    """How high the sun rises for the words on it to lie inside."""
    half = on.width / 2
    if half >= radius - inside:
        return None
    return on.top + inside + radius - sqrt((radius - inside) ** 2 - half * half)


def _apart(box: Box, x: float, y: float) -> float:
    """The distance of the nearest point of a box."""
    return hypot(max(box.left - x, 0, x - box.right), max(box.bottom - y, 0, y - box.top))
