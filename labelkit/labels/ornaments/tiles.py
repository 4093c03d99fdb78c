"""tiles: a tiled counter, one square turned four ways into rosettes."""

from __future__ import annotations

from math import ceil, floor

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.pen import bar, circle, drawn, filled
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: How far tiles lie over each other against seams, the least tile, the tile of a lid, the rules. Micrometres.
LAP, LEAST_TILE, LID_TILE, RULE, HAIR = 50, 1_700, 6_400, 400, 180
#: From the rule behind the band to the axis of the words, and from a lid's edge to its plate.
AXIS, PLATE = 2_900, 6_900
#: The tile of a seal.
SEAL = 2_800
#: A rosette: the ground of its tiles, their leaf, what lies inside it; the second alternates with the first.
Rosette = tuple[Colour, Colour, Colour]


def _even(edge: int, tile: int) -> int:
    """How many tiles an edge is divided into: an even whole number, so that none is cut."""
    return max(2, 2 * round(edge / tile / 2))


def _side(outline: Outline, kind: str) -> bool:
    """Whether the band stands at the left edge rather than along the top."""
    return kind == "wrap" or outline.lean


def _tile(outline: Outline, kind: str) -> float:
    if outline.shape != "rectangle":
        return LID_TILE
    if _side(outline, kind):
        return outline.high / _even(outline.high, max(LEAST_TILE, outline.high // 12))
    return outline.wide / _even(outline.wide, max(LEAST_TILE, outline.wide // 12))


def _rows(outline: Outline) -> int:
    """Rows of tiles along the top: four on a tall label, else two."""
    return 4 if outline.high > outline.wide * 5 // 4 and outline.high > 90_000 else 2


def room(outline: Outline, kind: str) -> Room | None:
    """Right of the band, or below it."""
    if outline.shape != "rectangle":
        side = min(outline.wide, outline.high)
        return (
            Room.even(3_000)
            if side < 36_000
            else Room(PLATE + 1_900, PLATE + 1_900, PLATE + 1_900, PLATE + 1_900, arc=PLATE + 3_600)
        )
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_600, aside=2 * SEAL + 1_400)
    if kind not in ("front", "wrap", *PANELS):
        return None
    if kind in PANELS and kind != "card":
        return Room(4_400, 4_400, 4_400, round(2 * _low_tile(outline)) + RULE + 3_400)
    band = round(2 * _tile(outline, kind))
    if kind == "card":
        return Room(4_000, 4_000, 4_000, band + RULE + 4_000)
    if _side(outline, kind):
        left = band + RULE // 2 + AXIS
        if outline.high < 30_000:
            return Room(band + 1_900, 2_600, 2_600, 2_400)
        return Room(left, 4_900, 3_200, 5_200, over=1_200)
    top = round(_rows(outline) * _tile(outline, kind)) + 4_200
    return Room(6_000, 4_400, 6_000, top, head=300, sill=4_000, foot=2_400, centred=True)


def draw(scene: Scene) -> Drawn | None:
    """The band of tiles and its rule, a hair line over the weight."""
    green, gold, red, cream = scene.design.palette
    rosettes: tuple[Rosette, Rosette] = ((green, gold, red), (red, cream, green))
    outline, over = scene.outline, scene.over()
    if scene.kind == "seal":
        return Drawn(tuple(_beside(scene, rosettes)))
    tile = _tile(outline, scene.kind)
    if scene.round:
        if scene.kind == "front" and min(outline.wide, outline.high) < 36_000:
            return None
        return Drawn(tuple(_lid(scene, rosettes)))
    if _side(outline, scene.kind) and scene.kind not in PANELS:
        start = scene.middle[0] if scene.middle else 0
        right = start + round(2 * tile)
        marks = tiled(
            Box(start or over.left, over.bottom, right, over.top), tile, rosettes, shift=start, lines=scene.design.lines
        )
        rule = (("M", right + RULE, over.bottom), ("L", right + RULE, over.top))
        marks.append(Shape(rule, stroke=red, width=RULE))
    else:
        rows = 2 if scene.kind in PANELS else _rows(outline)
        tile = _low_tile(outline) if scene.kind in PANELS and scene.kind != "card" else tile
        low = outline.high - round(rows * tile)
        marks = tiled(Box(over.left, low, over.right, over.top), tile, rosettes, low, lines=scene.design.lines)
        marks.append(Shape((("M", over.left, low - 500), ("L", over.right, low - 500)), stroke=red, width=600))
    return Drawn((*marks, *(_rules(scene, red) if scene.kind not in PANELS else ())))


def _low_tile(outline: Outline) -> float:
    """The tile of a panel full of words: two rows of it are low."""
    return outline.wide / _even(outline.wide, 2_200)


def _beside(scene: Scene, rosettes: tuple[Rosette, Rosette]) -> list[Shape]:
    """A rosette at each side of the words of a seal."""
    box, low = scene.box("maker", "name") or scene.outline.box, scene.outline.high // 2 - SEAL
    marks = []
    for left in (box.left - 1_400 - 2 * SEAL, box.right + 1_400):
        square = Box(left, low, left + 2 * SEAL, low + 2 * SEAL)
        marks += tiled(square, SEAL, (rosettes[0], rosettes[0]), low, left, scene.design.lines)
    return marks


def tiled(
    box: Box, tile: float, rosettes: tuple[Rosette, Rosette], origin: float = 0, shift: float = 0, lines: bool = False
) -> list[Shape]:
    """Tiles over a box, counted from ``shift`` to the right and ``origin`` upwards, so that whole ones end at its edges;
    with ``lines`` their leaves alone, in the colour of the ground they leave out."""
    grounds: list[Shape] = []
    figures: list[Shape] = []
    # Whole micrometres may lie a breath over a whole tile.
    first, last = floor((box.left - shift) / tile + 0.01), ceil((box.right - shift) / tile - 0.01)
    low, high = floor((box.bottom - origin) / tile + 0.01), ceil((box.top - origin) / tile - 0.01)
    for across in range(first, last):
        for up in range(low, high):
            x, y = shift + across * tile, origin + up * tile
            ground, *colours = rosettes[(across // 2 + up // 2) % 2]
            square = Box(round(x) - LAP, round(y) - LAP, round(x + tile) + LAP, round(y + tile) + LAP)
            rising = (across + up) % 2 == 0
            if lines:
                figures.append(filled(_leaf(x, y, tile, rising, 0.0), ground))
                continue
            grounds.append(filled(bar(square), ground))
            figures += _figure(x, y, tile, rising, *colours)
    return grounds + figures


def _figure(x: float, y: float, side: float, rising: bool, leaf: Colour, inside: Colour) -> list[Shape]:
    """A leaf between two quarter circles from corner to corner, a slimmer leaf inside, quarter discs in the other corners."""
    marks, r = [], side * 0.28
    k = r * 0.5523
    corners = ((x, y + side, 1, -1), (x + side, y, -1, 1)) if rising else ((x, y, 1, 1), (x + side, y + side, -1, -1))
    for cx, cy, sx, sy in corners:
        curve = ("C", cx + sx * r, cy + sy * k, cx + sx * k, cy + sy * r, cx, cy + sy * r)
        marks.append(filled([("M", cx, cy), ("L", cx + sx * r, cy), curve, ("Z",)], inside))
    return [*marks, *(filled(_leaf(x, y, side, rising, inset), ink) for ink, inset in ((leaf, 0.0), (inside, 0.16)))]


def _leaf(x: float, y: float, side: float, rising: bool, inset: float) -> list[tuple]:
    """The leaf from corner to corner; an inset leaf is shorter and slimmer."""
    start, end = side * inset, side * (1 - inset)
    bend = 0.5523 * (1 - 1.1 * inset)

    def at(a: float, b: float) -> tuple[float, float]:
        return (x + a, y + b) if rising else (x + a, y + side - b)

    long = end - start
    return [
        ("M", *at(start, start)),
        ("C", *at(start + long * bend, start), *at(end, end - long * bend), *at(end, end)),
        ("C", *at(end - long * bend, end), *at(start, start + long * bend), *at(start, start)),
        ("Z",),
    ]


def _rules(scene: Scene, red: Colour) -> list[Shape]:
    """A hair line over the weight beside a column, or over the small words under a title."""
    title, net, small = scene.box("name", "line"), scene.box("net"), scene.box(*INFO_ROLES)
    if not (title and net) or scene.tiny or scene.middle:
        return []
    under = net if scene.edge or not small else small
    if title.bottom - under.top < 2_400:
        return []
    right = max(net.right, scene.edge - 2_700) if scene.edge else scene.outline.wide - 6_000
    left, y = (
        min(net.left, title.left) if scene.edge else 6_000,
        under.top + min(3_400, (title.bottom - under.top) // 2),
    )
    return [drawn([("M", left, y), ("L", right, y)], red, HAIR)]


def _lid(scene: Scene, rosettes: tuple[Rosette, Rosette]) -> list[Shape]:
    """Tiles to the trim, a plate for the words with a ring in it."""
    middle = scene.outline.wide / 2, scene.outline.high / 2
    return [
        *tiled(scene.over(), LID_TILE, rosettes, middle[1], middle[0], scene.design.lines),
        *_plate(scene, middle[0]),
    ]


def _plate(scene: Scene, c: float) -> list[Shape]:
    high = scene.outline.high / 2
    ring = c - PLATE
    if scene.outline.high != scene.outline.wide:
        return [Shape(scene.outline.path(-PLATE), fill=scene.design.under)]
    return [
        filled(circle(c, high, ring), scene.design.under),
        drawn(circle(c, high, ring - 800), scene.design.palette[2], 300),
    ]
