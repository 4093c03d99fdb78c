"""meadow: flowers grow into whatever room the words leave."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.pen import drawn, filled, mixed
from labelkit.labels.ornaments.plants import half_width, plant
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: Blades stand so far apart; from words everything keeps this. Micrometres.
BLADES, AWAY, FOOT = 1_000, 1_100, 850
LOW = ("daisy", "clover", "grass", "poppy", "clover", "daisy", "grass", "poppy", "clover", "daisy", "clover", "grass")
TALL = ("grass", "poppy", "bell", "clover", "daisy", "clover", "daisy", "umbel", "poppy", "grass", "daisy", "poppy")
TALL_ENDS = ("clover", "bell", "grass")
#: The clover of a seal.
SEAL = 6_500
#: A hero's height over the ground: the most, and the least that is one.
HERO, LEAST_HERO = 26_000, 15_000


def room(outline: Outline, kind: str) -> Room | None:
    """Under the words of a front the sward grows; elsewhere there is none."""
    if kind == "seal":
        return Room(2_600, 2_600, 2_600, 2_000, crown=SEAL)
    if kind in PANELS and outline.shape == "rectangle":
        return Room(4_400, 6_600, 4_400, 4_400)
    if kind not in ("front", "wrap", "lid"):
        return None
    if outline.shape != "rectangle":
        side = min(outline.wide, outline.high)
        return Room(2_600, side * 27 // 100, 2_600, 2_600, arc=5_400) if side >= 30_000 else Room.even(2_600)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_600, 3_200, 2_600, 2_400)
    if outline.lean:
        return Room(4_000, outline.high * 31 // 200, 3_000, 4_000, head=600)
    return Room(5_500, 4_600, 5_500, 5_600, head=600, sill=max(9_000, outline.high * 12 // 100))


def draw(scene: Scene) -> Drawn | None:
    """The sward along the lower edge, or a meadow between the title and the small words."""
    colours = _colours(scene)
    boxes = [mark.box.grown(AWAY) for mark in scene.words]
    if scene.kind == "seal":
        return Drawn(tuple(_sprig(scene, colours)))
    if scene.round:
        return Drawn(tuple(_rim(scene, boxes, colours)))
    gap = _gap(scene) if scene.kind == "front" and not (scene.edge or scene.tiny) else None
    if gap is not None:
        return Drawn(tuple(_meadow(gap, boxes, colours)))
    marks = [*_sward(scene.over().left, scene.over().right, scene.over().bottom, _blade_height(scene), boxes, colours)]
    heroes = list(_heroes(scene, boxes, colours)) if scene.kind not in PANELS else []
    low = list(_clumps(scene, boxes, [*heroes], colours))
    return Drawn(
        (*marks, *low, *(mark for _, one in heroes for mark in one)),
        {},
        () if heroes or scene.kind in PANELS else ("tall flowers",),
    )


def _sprig(scene: Scene, colours) -> Iterator[Shape]:
    """A clover between two blades, over the words of a seal."""
    x, _ = scene.crown()
    foot = max(mark.box.top for mark in scene.lines("maker", "name")) + 700
    for side in (-1, 1):
        yield filled(_blade(x + side * 1_500, foot, 4_000, side * 900), colours["sage"])
    yield from plant("clover", x, foot, SEAL - 2_200, 0, colours["green"], colours)


def _colours(scene: Scene) -> dict:
    names = ("red", "gold", "violet1", "amber", "green", "pale", "sage", "grain", "eye", "dark", "violet2")
    held = dict(zip(names, scene.design.palette, strict=True))
    return {**held, "violet": (held["violet1"], held["violet2"]), "lines": scene.design.lines}


def _blade_height(scene: Scene) -> tuple[int, int]:
    return (1_100, 2_400) if scene.tiny else (1_800, 4_200) if scene.kind in PANELS else (2_500, 6_000)


def _free(box: Box, boxes: list[Box]) -> bool:
    return not any(box.meets(other) for other in boxes)


def _sward(left: int, right: int, ground: int, heights: tuple[int, int], boxes: list[Box], colours) -> Iterator[Shape]:
    """Tapered blades, none of them into words."""
    low, high = heights
    for place in range((right - left) // BLADES + 1):
        x = left + place * BLADES + (mixed(place) - 0.5) * 900
        tall = low + (high - low) * mixed(place + 301) ** 2
        lean = (mixed(place + 71) - 0.5) * 0.7
        while tall > low / 2 and not _free(Box(int(x) - 900, ground, int(x) + 900, int(ground + tall)), boxes):
            tall *= 0.8
        colour: Colour = colours["pale" if place % 2 else "sage"]
        bend = lean * tall * 0.5
        if colours["lines"]:
            yield drawn([("M", x, ground - 300), ("L", x + bend, ground - 300 + tall)], colour, 200)
        else:
            yield filled(_blade(x, ground - 300, tall, bend), colour)


def _blade(x: float, y: float, tall: float, bend: float) -> list[tuple]:
    """A blade: its foot three quarters of a millimetre wide, its tip leaning."""
    tip, half = (x + bend, y + tall), FOOT / 2
    return [
        ("M", x - half, y),
        ("C", x - half, y + tall * 0.4, x + bend * 0.4 - half * 0.7, y + tall * 0.7, *tip),
        ("C", x + bend * 0.4 + half * 0.7, y + tall * 0.7, x + half, y + tall * 0.4, x + half, y),
        ("Z",),
    ]


def _fits(kind: str, x: float, ground: int, tall: float, boxes: list[Box]) -> bool:
    half = half_width(kind, tall)
    head = Box(int(x - half), int(ground + tall - 2.2 * half), int(x + half), int(ground + tall + 0.9 * half))
    return _free(head, boxes) and _free(Box(int(x) - 300, ground, int(x) + 300, int(ground + tall)), boxes)


def _tallest(kind: str, x: float, ground: int, most: float, least: float, boxes: list[Box]) -> float | None:
    """The tallest of that kind that fits there under the words; None where not even the least does."""
    tall = most
    while tall >= least:
        if _fits(kind, x, ground, tall, boxes):
            return tall
        tall -= 500
    return None


def _heroes(scene: Scene, boxes: list[Box], colours) -> Iterator[tuple[float, list[Shape]]]:
    """One tall stem left and one right of the net quantity, their heads beside the shorter line of the name."""
    net = scene.box("net")
    if net is None:
        return
    most = min(HERO, scene.outline.high * 54 // 100)
    least = max(LEAST_HERO * most // HERO, 9_000) if not scene.tiny else most * 6 // 10
    right_end = scene.edge + 2_000 if scene.edge else scene.outline.wide - 1_800
    sides = (("poppy", range(net.left - 1_300, 1_800, -300)), ("umbel", range(net.right + 1_300, right_end, 300)))
    for kind, places in sides:
        head = half_width(kind, most)
        found = [
            (tall, x)
            for x in places
            if head < x < scene.outline.wide - head and (tall := _tallest(kind, x, 0, most, least, boxes)) is not None
        ]
        if found:
            # The tallest; of those as tall, the one that stands nearest to where a stem looks well beside the weight.
            beside = net.left - 2_800 if kind == "poppy" else net.right + 2_800
            tall, x = max(found, key=lambda one: (one[0], -abs(one[1] - beside)))
            yield x, plant(kind, x, -scene.bleed[1], tall + scene.bleed[1], 250, colours["green"], colours)


def _clumps(scene: Scene, boxes: list[Box], heroes: list, colours) -> Iterator[Shape]:
    """Low flowers in twos and threes with gaps between, wherever they fit under the words."""
    x, place = 1_800.0, 0
    taken = [at for at, _ in heroes]
    while x < scene.outline.wide - 1_500:
        kind = LOW[place % len(LOW)]
        most = 4_500 + 2_700 * mixed(place * 3 + 17)
        tall = _tallest(kind, x, 0, most, 2_000 if scene.tiny else 3_600, boxes)
        if tall and all(abs(x - at) > 2_200 for at in taken) and not (scene.tiny and place % 3):
            yield from plant(
                kind, x, -scene.bleed[1], tall + scene.bleed[1], (mixed(place) - 0.5) * 900, colours["green"], colours
            )
        place += 1
        x += 5_200 + 3_200 * mixed(place + 7) if place % 3 == 0 else 2_500 + 1_400 * mixed(place + 3)


def _gap(scene: Scene) -> Box | None:
    """The room between the title and what stands under it, if a meadow can grow there."""
    title = scene.box("name", "line")
    if title is None:
        return None
    under = [mark.box.top for mark in scene.words if mark.box.top < title.bottom]
    ground = max(under, default=0) + 2_600
    if title.bottom - ground < 9_000:
        return None
    return Box(3_600, ground, scene.outline.wide - 3_600, min(ground + 31_000, scene.outline.high - 9_000))


def _meadow(gap: Box, boxes: list[Box], colours) -> Iterator[Shape]:
    """Fifteen plants, taller at both sides, in front of blades on a ground line."""
    yield from _sward(gap.left + 400, gap.right - 400, gap.bottom, (3_000, 7_500), boxes, colours)
    kinds = [*TALL, *TALL_ENDS]
    step = gap.width / (len(kinds) - 0.2)
    for place, kind in enumerate(kinds):
        x = gap.left + step * (place + 0.45) + (mixed(place + 5) - 0.5) * 900
        side = abs(2 * (x - gap.left) / gap.width - 1)
        most = 8_000 + gap.height * (0.30 + 0.62 * side**1.2 - 0.36 * mixed(place * 5 + 2))
        tall = _tallest(kind, x, gap.bottom, min(most, gap.height), 4_000, boxes)
        if tall:
            yield from plant(kind, x, gap.bottom, tall, (mixed(place) - 0.5) * 1_200, colours["green"], colours)
    yield drawn([("M", gap.left, gap.bottom), ("L", gap.right, gap.bottom)], colours["green"], 300)


def _rim(scene: Scene, boxes: list[Box], colours) -> Iterator[Shape]:
    """Nine plants along the lower rim of a lid, highest at the sides."""
    r = scene.outline.wide / 2
    kinds = ("grass", "umbel", "daisy", "clover", "poppy", "daisy", "clover", "bell", "grass")
    reach = r * 0.66

    def rim(x: float) -> int:
        return int(r - sqrt(max(0.0, r * r - (x - r) ** 2))) - 200

    floor = rim(r + reach * 0.35)
    yield from _sward(int(r - reach * 1.15), int(r + reach * 1.15), floor, (2_200, 4_600), boxes, colours)
    for place, kind in enumerate(kinds):
        x = r + reach * (place - 4) / 4
        ground = min(rim(x), floor + 3_000)
        most = r * (0.27 + 0.06 * abs(place - 4)) * (0.9 + 0.2 * mixed(place))
        tall = _tallest(kind, x, ground, most, 3_600, boxes)
        if tall:
            yield from plant(kind, x, ground, tall, (mixed(place) - 0.5) * 900, colours["green"], colours)
