"""broadside: no picture at all; a bar behind the last word of the name, and rules."""

from __future__ import annotations

from math import isqrt

from labelkit.labels.layout.filled_title import PAD
from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import Drawn, Room, Scene
from labelkit.labels.ornaments.pen import bar, drawn, filled
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: The rules, and the ring of a lid from its edge. Micrometres.
RULE, RING, LID_PAD = 600, 1_600, 1_100


def room(outline: Outline, kind: str) -> Room | None:
    """The same measure from the left edge to the rule."""
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_600)
    if kind in ("card", "tag") and outline.shape == "rectangle":
        return Room(5_000, 4_400, 5_000, 5_000)
    if kind not in ("front", "wrap", "lid"):
        return None
    if outline.shape != "rectangle":
        return Room.even(3_600)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_600, 2_200, 2_600, 2_600)
    if outline.lean:
        return Room(4_000, 3_900, 3_200, 4_000, over=400)
    return Room(5_000, 4_400, 5_000, 5_000, sill=3_600, foot=3_200)


def draw(scene: Scene) -> Drawn | None:
    """The bar as wide as the measure, the rule between columns or over what stands below."""
    ink = scene.design.palette[0]
    if scene.round:
        return _lid(scene, ink)
    if scene.kind in ("seal", "card", "tag"):
        return _behind(scene, ink)
    names, net, title = scene.lines("name"), scene.box("net"), scene.box("maker", "name", "line")
    if title is None:
        return None
    marks: list[Shape] = []
    last = names[-1]
    if last.colour == scene.design.type["name"].on_base:
        box = last.box
        left, right = min(title.left, box.left - PAD), max(title.right, box.right + PAD)
        marks += _bar(scene, Box(left, last.y - PAD, right, box.top + PAD), ink)
    if scene.edge:
        ends = [("M", scene.edge, scene.outline.high - 4_000), ("L", scene.edge, 4_000)]
        marks.append(Shape(tuple(ends), stroke=ink, width=RULE, role="frame"))
    elif not scene.middle:
        small = scene.box(*INFO_ROLES)
        for above, under in (
            ((title.bottom, small.top), (small.bottom, net.top if net else small.bottom)) if small else ()
        ):
            if above - under > 2_400:
                y = (above + under) // 2
                marks.append(drawn([("M", title.left, y), ("L", title.right, y)], ink, RULE))
    return Drawn(tuple(marks))


def _behind(scene: Scene, ink: Colour) -> Drawn:
    """The bar behind the last line of the name, where it touches no other words; on a card from side to side."""
    last = scene.lines("name")[-1]
    box = Box(last.box.left - LID_PAD, last.box.bottom - LID_PAD, last.box.right + LID_PAD, last.box.top + LID_PAD)
    if any(box.meets(mark.box) for mark in scene.words if mark is not last):
        return Drawn(())
    return Drawn(tuple(_bar(scene, box, ink)), {} if scene.design.lines else {last: "base"})


def _bar(scene: Scene, box: Box, ink: Colour) -> list[Shape]:
    """The bar behind the last word; with less ink a rule above it and one below, where the lines leave it the room."""
    if not scene.design.lines:
        return [filled(bar(box), ink)]
    if any(other.box.bottom < box.top < other.box.top for other in scene.lines("name", "maker")):
        return []
    return [
        drawn([("M", box.left, y), ("L", box.right, y)], ink, RULE)
        for y in (box.bottom + RULE // 2, box.top - RULE // 2)
    ]


def _lid(scene: Scene, ink: Colour) -> Drawn | None:
    """A ring; the bar runs from ring to ring behind the last line of the name."""
    names, c = scene.lines("name"), scene.outline.wide // 2
    ring = Shape(scene.outline.path(-RING), stroke=ink, width=RULE, role="frame")
    if not names or scene.kind != "lid" or scene.languages > 1 or scene.outline.wide != scene.outline.high:
        return Drawn((ring,))
    box, r = names[-1].box.grown(LID_PAD), c - RING
    above = names[-2].box.bottom - 500 if len(names) > 1 else box.top
    low, high = box.bottom, min(box.top, above)
    if scene.design.lines:
        halves = [(y, isqrt(max(0, r * r - (y - c) ** 2))) for y in (low, high)]
        return Drawn((*(drawn([("M", c - half, y), ("L", c + half, y)], ink, RULE) for y, half in halves), ring))
    ends = [(y, isqrt(max(0, r * r - (y - c) ** 2))) for y in (low, (low + high) // 2, high)]
    round_it = [*((c + half, y) for y, half in ends), *((c - half, y) for y, half in reversed(ends))]
    path = [*(("L" if place else "M", x, y) for place, (x, y) in enumerate(round_it)), ("Z",)]
    return Drawn((filled(path, ink), ring), {names[-1]: "base"})
