"""press: a twig on each side of the shorter word, a solid bar for the maker, a frame of two rules."""

from __future__ import annotations

from math import cos, pi, radians, sin

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import Drawn, Room, Scene
from labelkit.labels.ornaments.pen import bar, circle, drawn, filled, leaf
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: The outer rule and the inner one: their middle from the edge, their width. Micrometres.
OUTER, INNER = (1_900, 700), (3_000, 180)
#: Where the maker's line stands along the rim of a lid, and the fine ring within it.
_ARC = 6_400
#: The blossom of a seal.
SEAL = 3_000
TINY_RULE = (750, 350)
#: The maker's bar, as a share of the label's height in hundredths, and its least.
BAR, LEAST_BAR = 14, 5_000


def room(outline: Outline, kind: str) -> Room | None:
    """Within the frame; the maker stands in the bar."""
    if outline.shape != "rectangle":
        return Room(4_600, 6_000, 4_600, 4_600, arc=_ARC)
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_200, crown=2 * SEAL)
    if kind != "front":
        return Room.even(4_800)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_000, 2_200, 2_000, 1_900, head=700)
    high = _bar(outline)
    return Room(5_600, 4_500, 4_900, 3_000 + (high - 2_100) // 2, head=1_300, foot=3_000)


def _bar(outline: Outline) -> int:
    return min(8_400, max(LEAST_BAR, outline.high * BAR // 100))


def draw(scene: Scene) -> Drawn | None:
    """The frame, the bar and its rules, then twigs where they find room."""
    ink = scene.design.palette[0]
    if scene.round:
        return _lid(scene, ink)
    if scene.kind == "seal":
        middle, y = scene.crown()
        return Drawn((*blossom(middle, y, SEAL, ink), *_pair(middle, y, SEAL + 700, 7_000, 4, ink)))
    marks, on = _frame(scene, ink), {}
    if scene.kind == "front":
        made = _bar_marks(scene, ink)
        if made:
            marks, on = [*marks, *made], {} if scene.design.lines else {"maker": "base"}
        marks += _rules(scene, ink)
    twigs = _twigs(scene, ink) if scene.kind == "front" else []
    return Drawn((*marks, *twigs), on, () if twigs or scene.tiny or scene.kind != "front" else ("twigs",))


def _frame(scene: Scene, ink: Colour) -> list[Shape]:
    rules = (TINY_RULE,) if scene.tiny else (OUTER, INNER)
    return [Shape(scene.outline.path(-at), stroke=ink, width=wide, role="frame") for at, wide in rules]


def _bar_marks(scene: Scene, ink: Colour) -> list[Shape]:
    """The solid bar round the maker's line, as wide as the part of the label the name stands in, and the divider."""
    maker, name = scene.box("maker"), scene.box("name")
    if maker is None or name is None:
        return []
    inner = (TINY_RULE if scene.tiny else INNER)[0]
    top = scene.outline.high - inner
    bottom = 2 * maker.bottom - top + maker.height
    right = scene.edge - 450 if scene.edge else scene.outline.wide - inner
    if bottom < name.top + 400:
        bottom = (name.top + maker.bottom) // 2
    marks = (
        [drawn([("M", inner, y), ("L", right, y)], ink, 500) for y in (bottom, top)]
        if scene.design.lines
        else [filled(bar(Box(inner, bottom, right, top)), ink)]
    )
    if scene.edge:
        x, low = scene.edge, inner
        for at, wide in ((x - 450, 180), (x + 450, 500)):
            marks.append(Shape((("M", at, low), ("L", at, top)), stroke=ink, width=wide, role="frame"))
    return marks


def _rules(scene: Scene, ink: Colour) -> list[Shape]:
    """A thick and a thin rule over the net quantity, and over the small words where they stand under the title."""
    net, name = scene.box("net"), scene.box("name", "line")
    if net is None or name is None or scene.tiny:
        return []
    left, right = (5_300, (scene.edge or scene.outline.wide) - (6_000 if scene.edge else 5_300))
    left, right = (net.left - 1_000, net.right + 1_000) if scene.edge else (left, right)
    words = scene.box(*INFO_ROLES) if not scene.edge else None
    marks: list[Shape] = []
    above = words.bottom if words else name.bottom
    y = net.top + min(2_300, (above - net.top) // 2)
    order = (0, 700) if words else (700, 0)
    for up, wide in zip(order, (500, 180), strict=True):
        marks.append(drawn([("M", left, y + up), ("L", right, y + up)], ink, wide))
    if words and name.bottom - words.top > 3_000:
        y = words.top + 2_600
        for up, wide in ((700, 500), (0, 180)):
            marks.append(drawn([("M", left, y + up), ("L", right, y + up)], ink, wide))
    return marks


def _twigs(scene: Scene, ink: Colour) -> list[Shape]:
    """Twigs beside the shorter last line of the name; else a pair with a blossom in the largest gap under the title."""
    lines = scene.lines("name")
    title = scene.box("name", "line")
    if title is None or scene.tiny:
        return []
    below = max((box.top for box in (scene.box("net", *([] if scene.edge else INFO_ROLES)),) if box), default=0)
    room = title.bottom - below - (3_300 if not scene.edge else 5_500)
    middle = (title.left + title.right) // 2
    if room > 6_500:
        r = min(5_000, room * 36 // 100)
        y = below + 3_300 + room // 2
        return [*blossom(middle, y, r, ink), *_pair(middle, y, r + 1_500, min(20_000, title.width // 2 - r), 8, ink)]
    last, widest = lines[-1].box, max(mark.box.width for mark in lines)
    long = min(9_400, (widest - last.width) // 2 - 1_600)
    if long < 4_500:
        return []
    y = lines[-1].y + lines[-1].face.extent("x", lines[-1].size)[1] * 6 // 10
    centre = (last.left + last.right) // 2
    return _pair(centre, y, last.width // 2 + 1_600, long, 4, ink)


def _pair(cx: int, y: int, apart: int, long: int, pairs: int, ink: Colour) -> list[Shape]:
    return [mark for side in (-1, 1) for mark in twig(cx + side * apart, y, side, long, pairs, ink)]


def twig(x: float, y: float, side: int, long: float, pairs: int, ink: Colour) -> list[Shape]:
    """A twig lying outwards from its stalk: pairs of leaves that shrink by 42 per cent to the tip, and a berry."""
    marks = [drawn([("M", x, y), ("L", x + side * long * 0.94, y)], ink, 320)]
    first = long * 0.17
    step = (long * 0.80 - first) / max(1, pairs - 1)
    for place in range(pairs):
        size = min(2_900, long * 0.31) * (1 - 0.42 * place / max(1, pairs - 1))
        at = x + side * (first + step * place)
        for up in (-1, 1):
            turn = (0 if side > 0 else pi) + side * up * radians(42)
            marks.append(filled(leaf(at, y, turn, size, size * 0.62), ink))
    marks.append(filled(circle(x + side * long, y, 620), ink))
    return marks


def blossom(x: float, y: float, r: float, ink: Colour) -> list[Shape]:
    """Eight leaves round a dot."""
    marks = [filled(circle(x, y, r * 0.2), ink)]
    for place in range(8):
        turn = place * pi / 4
        marks.append(filled(leaf(x + cos(turn) * r * 0.32, y + sin(turn) * r * 0.32, turn, r * 0.68, r * 0.36), ink))
    return marks


def _lid(scene: Scene, ink: Colour) -> Drawn:
    marks = [
        Shape(scene.outline.path(-OUTER[0]), stroke=ink, width=OUTER[1], role="frame"),
        Shape(scene.outline.path(-INNER[0]), stroke=ink, width=INNER[1], role="frame"),
    ]
    name, words = scene.box("name"), scene.box("best_before", "lot")
    if name is None or words is None or name.bottom - words.top < 4_200:
        return Drawn(tuple(marks), left_out=("blossom",))
    middle, y, r = scene.outline.wide // 2, (name.bottom + words.top) // 2, min(3_000, (name.bottom - words.top) // 3)
    return Drawn((*marks, *blossom(middle, y, r, ink), *_pair(middle, y, r + 900, name.width // 4, 3, ink)))
