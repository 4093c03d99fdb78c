"""ember: the last sun in flat rings; the weight is printed on it."""

from __future__ import annotations

from itertools import product
from math import hypot, sqrt

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import Drawn, Room, Scene
from labelkit.labels.ornaments.pen import circle, filled
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box

#: How far each ring reaches over the sun, from the lightest outwards. Micrometres.
RINGS = (1_700, 4_200, 7_500, 11_700, 17_000, 24_000, 33_000)
#: What stands on the sun lies so far inside it; large words keep off its lightest ring, small ones
#: off the two lightest where that can be.
INSIDE, OFF, SMALL_OFF = 600, 1_700, 4_200


def room(outline: Outline, kind: str) -> Room | None:
    """The net quantity stands low, on the sun; the title and the small words keep off its light rings."""
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
    side = scene.outline.wide if scene.middle is None else scene.middle[1] - scene.middle[0]
    middle = (on.left + on.right) / 2
    for near, share in product((0, 1), (63, 70, 58, 76, 84, 50, 100, 125, 160, 220)):
        radius = side * share / 100
        top = _top(on, radius)
        if top is not None and all(
            _apart(box, middle, top - radius) >= radius + (OFF if near else off) for box, off in others
        ):
            marks = [
                filled(circle(middle, top - radius, radius + ring), colour)
                for ring, colour in reversed([*zip((0, *RINGS), scene.design.palette, strict=True)])
            ]
            return Drawn(tuple(marks), dict.fromkeys(roles, "base"))
    return None


def _top(on: Box, radius: float) -> float | None:
    """How high the sun rises for the words on it to lie inside."""
    half = on.width / 2
    if half >= radius - INSIDE:
        return None
    return on.top + INSIDE + radius - sqrt((radius - INSIDE) ** 2 - half * half)


def _apart(box: Box, x: float, y: float) -> float:
    """The distance of the nearest point of a box."""
    return hypot(max(box.left - x, 0, x - box.right), max(box.bottom - y, 0, y - box.top))
