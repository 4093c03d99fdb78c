"""parade: four animals walk along the edge; two of them hold balloons."""

from __future__ import annotations

from math import cos, pi, sin

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.animals import HELD, OUTLINE, PALE, REACH, animal
from labelkit.labels.ornaments.pen import bar, circle, drawn, filled, whole
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

WALKERS = ("fox", "hedgehog", "snail", "duck")
#: The scale of the animals on a front and on a tall label, and the least at which nothing is thinner than 0.4 mm.
FRONT, TALL, LEAST = 0.95, 1.16, 0.6
#: The room of an animal beside the words of a seal; the ground at the foot of a panel in hundredths of its height.
SEAL, FOOT = 8_200, 9
#: A lid's plate as a share of its width in thousandths, and its rim; a balloon's radius; the strip under their feet.
PLATE, RIM, BALLOON, STRIP = 316, 1_100, 3_500, 2_600


def room(outline: Outline, kind: str) -> Room | None:
    """The animals walk between the title and the ground the weight stands on."""
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_600, aside=SEAL)
    if kind in PANELS and outline.shape == "rectangle":
        return Room(4_400, _strip(outline, kind) + 2_400, 4_400, 4_400)
    if kind not in ("front", "wrap", "lid"):
        return None
    if outline.shape != "rectangle":
        side = min(outline.wide, outline.high)
        return Room.even(side // 2 - side * PLATE // 1000 + RIM + 500) if kind == "lid" else None
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_600, 2_200, 2_600, 2_400, over=1_500)
    if outline.lean:
        return Room(4_400, 3_900, 3_200, 4_600, over=8_200)
    return Room(5_800, 4_400, 5_800, 5_600, sill=15_500, over=14_000, foot=3_000)


def draw(scene: Scene) -> Drawn | None:
    """Sky, ground and panel, then as many animals as find room, left out from the left."""
    colours = dict(zip(("plum", "coral", "cream", "yellow", "amber"), scene.design.palette, strict=True))
    colours["eye"] = colours["cream" if scene.design.lines else "plum"]
    if scene.kind == "seal":
        return Drawn(tuple(_beside(scene, colours)))
    if scene.kind in PANELS:
        return Drawn(tuple(_foot(scene, colours)))
    if scene.round:
        return Drawn(tuple(_lid(scene, colours)), dict.fromkeys(("maker", "name", *INFO_ROLES), "side"))
    net, title = scene.box("net"), scene.box("name", "line")
    if net is None or title is None:
        return None
    over = scene.over()
    column = scene.middle[1] if scene.middle else scene.edge
    small = scene.box(*INFO_ROLES) if column is None else None
    if small and small.bottom < net.bottom:
        small = None  # below the weight they stand on its ground
    strip = net.top + (1_900 if scene.tiny else 2_800)
    marks = []
    ground = strip
    if small:
        strip, foot = min(strip, (net.top + small.bottom) // 2), small.top + 2_200
        ground = foot + STRIP
        if ground > title.bottom - 400:
            # No room to walk: the panel alone, half way between the title and the small words.
            ground = foot = (title.bottom + small.top) // 2
        marks.append(_area(scene, Box(over.left, strip, over.right, foot), colours["cream"]))
        marks.append(_area(scene, Box(over.left, foot, over.right, ground), colours["yellow"]))
    # On a wrap symbols stand left of the front, and keep off its ground.
    start, end = scene.middle or (over.left, over.right)
    marks.append(_area(scene, Box(start, over.bottom, end, strip), colours["yellow"]))
    if column is not None:
        marks.append(_area(scene, Box(column, over.bottom, over.right, over.top), colours["cream"]))
    if scene.middle:
        marks.append(_area(scene, Box(over.left, over.bottom, scene.middle[0], over.top), colours["cream"]))
    left = scene.middle[0] if scene.middle else 0
    walkers, out = _walk(scene, left + 700, (column or scene.outline.wide) - 700, ground, colours)
    on = {"net": "base"} | (dict.fromkeys(INFO_ROLES, "side") if small or column is not None else {})
    return Drawn((*marks, *walkers), on, tuple(out))


def _beside(scene: Scene, colours) -> list[Shape]:
    """The snail left and the duck right of the words of a seal."""
    box = scene.box("maker", "name") or scene.outline.box
    scale, y = 0.5, scene.outline.high / 2 - 2_600
    left, right = (
        box.left - 1_200 - REACH["snail"][1] * 1000 * scale,
        box.right + 1_200 + REACH["duck"][0] * 1000 * scale,
    )
    return [
        *animal("snail", left, y, scale, colours, lines=scene.design.lines),
        *animal("duck", right, y, scale, colours, lines=scene.design.lines),
    ]


def _strip(outline: Outline, kind: str) -> int:
    """How high the ground of a panel is; a case's bars want the height."""
    return outline.high * (FOOT // 3 if kind == "case" else FOOT) // 100


def _foot(scene: Scene, colours) -> list[Shape]:
    """The ground at the foot of a panel, and on it the duck where the words leave it the room; else the ground alone."""
    over, ground = scene.over(), _strip(scene.outline, scene.kind)
    marks = [_area(scene, Box(over.left, over.bottom, over.right, ground), colours["yellow"])]
    words = [mark.box.grown(500) for mark in scene.words]
    for scale in (1.1, 1.0, 0.9, 0.8, 0.7, 0.6):
        x = scene.outline.wide - 3_000 - REACH["duck"][1] * 1000 * scale
        if _free("duck", x, ground, scale, words):
            return [*marks, *animal("duck", x, ground - 250, scale, colours, lines=scene.design.lines)]
    return marks


def _area(scene: Scene, box: Box, colour: Colour) -> Shape:
    """A flat area to the edge of the label; with one ink it is paper with an outline."""
    if not scene.design.lines:
        return filled(bar(box), colour)
    # What is cut off has no line along the cut.
    over = scene.over()
    sides = ((box.left, over.left), (box.bottom, over.bottom), (box.right, over.right), (box.top, over.top))
    left, bottom, right, top = (1_000 if one == edge else 0 for one, edge in sides)
    box = Box(box.left - left, box.bottom - bottom, box.right + right, box.top + top)
    return Shape(tuple(bar(box)), fill=colour, stroke=scene.design.palette[0], width=OUTLINE)


def _walk(scene: Scene, left: int, right: int, ground: int, colours) -> tuple[list[Shape], list[str]]:
    """The animals over the ground, none of them in words; each left out is named."""
    words = [mark.box.grown(500) for mark in scene.words]
    walkers = list(WALKERS[2:] if scene.tiny else WALKERS)
    most = FRONT if scene.edge or scene.middle else TALL
    out: list[str] = []
    while walkers:
        for step in range(12):
            scale = most - step * 0.05
            if scale < LEAST - (0.15 if scene.tiny else 0):
                break
            places = _places(walkers, left, right, scale, ends=scene.tiny)
            if places and all(_free(name, x, ground, scale, words) for name, x in zip(walkers, places, strict=True)):
                marks = [
                    mark
                    for name, x in zip(walkers, places, strict=True)
                    for mark in (
                        *_balloon(scene, name, x, ground, scale, words, colours),
                        *animal(name, x, ground - 250, scale, colours, lines=scene.design.lines),
                    )
                ]
                return marks, out
        out.append(walkers.pop(0))
    return [], ["animals"]


def _places(walkers: list[str], left: int, right: int, scale: float, ends: bool) -> list[float] | None:
    """Where each stands: as far apart as the ground lets them, but at most 3 mm; None where they do not fit."""
    long = [sum(REACH[name][:2]) * 1000 * scale for name in walkers]
    spare = right - left - sum(long)
    if spare < 0:
        return None
    gap = spare / max(1, len(walkers) - 1) if ends else min(3_000, spare / (len(walkers) + 1))
    x = left + (0 if ends else (spare - gap * (len(walkers) - 1)) / 2)
    places = []
    for name, wide in zip(walkers, long, strict=True):
        places.append(x + REACH[name][0] * 1000 * scale)
        x += wide + gap
    return places


def _free(name: str, x: float, y: int, scale: float, words: list[Box]) -> bool:
    back, front, high = (part * 1000 * scale for part in REACH[name])
    box = Box(int(x - back), y, int(x + front), int(y + high))
    return not any(box.meets(other) for other in words)


def _balloon(scene: Scene, name: str, x: float, y: int, scale: float, words: list[Box], colours) -> list[Shape]:
    """A balloon over an animal that holds one, where it floats free beside the shorter word."""
    if name not in HELD or scene.tiny:
        return []
    hand = x + HELD[name][0] * 1000 * scale, y + HELD[name][1] * 1000 * scale
    radius = BALLOON * scale
    for up in range(14_000, 5_000, -500):
        for aside in (-5_500, -3_500, -7_500, -1_500, 500):
            cx, cy = hand[0] + aside, hand[1] + up * scale
            box = Box(int(cx - radius), int(cy - radius - 1_000), int(cx + radius), int(cy + radius))
            if box.left > 800 and box.top < scene.outline.high - 800 and not any(box.meets(other) for other in words):
                own = "coral" if name == "fox" else "cream"
                edge = colours["plum"] if scene.design.lines and own in PALE else None
                knot = [
                    ("M", cx - 500, cy - radius - 700),
                    ("L", cx, cy - radius + 300),
                    ("L", cx + 500, cy - radius - 700),
                    ("Z",),
                ]
                bow = (cx + 300, (cy - radius + hand[1]) / 2)
                string = [("M", cx, cy - radius - 600), ("C", *bow, *bow, *hand)]
                return [
                    drawn(string, colours["plum"], 200),
                    *(Shape(whole(path), colours[own], edge, OUTLINE) for path in (circle(cx, cy, radius), knot)),
                ]
    return []


def _lid(scene: Scene, colours) -> list[Shape]:
    """A cream plate with a yellow rim, round or oval as the lid is; eight animals walk round it, feet inwards."""
    c, high = scene.outline.wide / 2, scene.outline.high / 2
    side = min(scene.outline.wide, scene.outline.high)
    inset = side // 2 - side * PLATE // 1000
    marks = []
    for place in range(8):
        turn = pi * 3 / 8 - place * pi / 4
        x, y = c + cos(turn) * (c - inset + RIM - 200), high + sin(turn) * (high - inset + RIM - 200)
        marks += animal(WALKERS[place % 4], x, y, 0.62 * side / 51_000, colours, turn - pi / 2, scene.design.lines)
    return [
        *marks,
        *(
            Shape(scene.outline.path(at), colours[own], colours["plum"] if scene.design.lines else None, OUTLINE)
            for at, own in ((RIM - inset, "yellow"), (-inset, "cream"))
        ),
    ]
