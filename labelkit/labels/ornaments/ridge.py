"""ridge: the nearest hill holds the facts."""

from __future__ import annotations

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.pen import circle, drawn, filled, smooth
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Shape

#: What every slope keeps from words; how much higher each hill is than the one before it; the sun. Micrometres.
AWAY, RISE, SUN = 1_500, 2_300, 6_200
#: How high the silhouette at the foot of a panel is, in hundredths of the label.
FOOT = 12
#: The crests as lines, from the farthest to the nearest, and the sun as one.
CRESTS, DISC = (180, 300, 500, 1_200), 500
#: The colour of a hill and, in lines, how thick its crest is.
Ink = tuple[Colour, int]


def room(outline: Outline, kind: str) -> Room | None:
    """The hills rise between the title and what stands on the nearest."""
    if kind == "seal":
        return Room(2_600, 5_000, 2_600, 2_200)
    if kind in PANELS and outline.shape == "rectangle":
        return Room(4_400, _foot(outline, kind) + AWAY, 4_400, 4_400)
    if kind not in ("front", "wrap", "lid"):
        return None
    if outline.shape != "rectangle":
        side = min(outline.wide, outline.high)
        return Room(2_600, side * 9 // 100, 2_600, 2_600, over=4_000, foot=side * 11 // 100, arc=5_400)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_600, 2_900, 2_600, 2_600, over=2_600)
    if outline.lean:
        return Room(4_400, 3_900, 3_200, 5_600, over=6_600)
    return Room(6_000, 5_000, 6_000, 7_000, head=800, sill=max(7_500, outline.high * 10 // 100), over=8_000, foot=1_500)


def draw(scene: Scene) -> Drawn | None:
    """The nearest hill under the weight and the small words, three behind it, a sun behind the farthest."""
    if scene.kind in (*PANELS, "seal"):
        return Drawn(tuple(_silhouette(scene)))
    title, net = scene.box("name", "line"), scene.box("net")
    edge = scene.middle[1] if scene.middle else scene.edge
    under = scene.box("net", *INFO_ROLES) if edge is None else net
    if title is None or under is None:
        return None
    spare = title.bottom - under.top - 2 * AWAY
    lowest, highest = under.top + AWAY + (spare // 6 if edge is None else 0), title.bottom - AWAY
    if highest < lowest:
        return None
    count = 2 if scene.tiny else 3
    rise = min((highest - lowest) // (count + 1), RISE if edge else 6_500)
    sun, *slopes = scene.design.palette
    hills = [*slopes[-1 - count :]]
    wave = min(2_000, rise * 7 // 10) if edge else rise * 8 // 10
    marks: list[Shape] = []
    for place, ink in enumerate(zip(hills, CRESTS[-1 - count :], strict=True)):
        level = lowest + rise * (count - place) - (wave // 3 if place < count else 0)
        marks.extend(_hill(scene, edge, level, wave if place < count else min(wave, AWAY - 300), place, ink))
    disc = _sun(scene, lowest + rise * count, sun)
    marks = [*disc, *marks]
    on = dict.fromkeys(("net", *INFO_ROLES) if edge is None else ("net",), "base")
    if edge is not None:
        on |= dict.fromkeys(INFO_ROLES, "side")
    return Drawn(tuple(marks), on, () if disc else ("sun",))


def _foot(outline: Outline, kind: str) -> int:
    """How high the silhouette of a panel is; a case's bars want the height."""
    return outline.high * (FOOT // 3 if kind == "case" else FOOT) // 100


def _silhouette(scene: Scene) -> list[Shape]:
    """The two nearest hills along the foot, as high as the words leave room for."""
    high = min(4_000 if scene.kind == "seal" else _foot(scene.outline, scene.kind), *_floors(scene))
    inks = [*zip(scene.design.palette[-2:], CRESTS[-2:], strict=True)]
    return [
        mark
        for place, ink in enumerate(inks)
        for mark in _hill(scene, None, high * (62 - 25 * place) // 100, high * 36 // 100, place + 1, ink)
    ]


def _floors(scene: Scene) -> list[int]:
    """The lower edges of the words, less what hills keep from them."""
    return [mark.box.bottom - AWAY * 2 // 3 for mark in scene.words]


def _hill(scene: Scene, edge: int | None, level: int, wave: int, place: int, ink: Ink) -> list[Shape]:
    """A crest across the label; beside a column it climbs at its end and becomes the whole panel."""
    over, left = scene.over(), _left(scene)
    phases = (
        (0.5, 1.0, -0.2, 0.4, -0.3),
        (0.0, 0.7, 1.0, -0.3, 0.5),
        (-0.3, 0.6, -0.1, 0.6, 0.0),
        (-0.2, 0.4, 0.0, 0.5, 0.1),
    )[place]
    end = edge - 7_500 if edge else over.right
    step = (end - left) / (len(phases) - 1)
    points = [(left + step * number, level + wave * (height - 0.4)) for number, height in enumerate(phases)]
    crest = smooth(points)
    if left > 0:
        # A bank that rises at once, so that the weight stands on it from its first letter on.
        start, top = points[0][0] + 2_200, points[0][1]
        rest = smooth([(start, top), *points[1:]])[1:]
        crest = [("M", left, over.bottom), ("C", left, top * 0.7, left + 300, top, start, top), *rest]
    if edge is None:
        return _slope(scene, crest, (("L", over.right, over.bottom), ("L", left, over.bottom), ("Z",)), ink)
    high, last = scene.outline.high, points[-1][1]
    low = 3_600 - place * 300
    climb = [
        ("C", end + 3_600, last, edge - 2_700, last + low * 0.55, edge - 1_500, high * 0.46),
        ("C", edge - 700, high * 0.64, edge - 300, high * 0.8, edge + 900, high * 0.9),
        ("C", edge + 1_800, high * 0.96, edge + 3_200, over.top - 200, edge + 3_800, over.top),
    ]
    close = (("L", over.right, over.top), ("L", over.right, over.bottom), ("L", left, over.bottom), ("Z",))
    return _slope(scene, [*crest, *climb], close, ink)


def _slope(scene: Scene, crest: list[tuple], close: tuple, ink: Ink) -> list[Shape]:
    """The area under a crest; in lines it is paper, which hides what lies behind it, and the crest a line."""
    if not scene.design.lines:
        return [filled([*crest, *close], ink[0])]
    return [filled([*crest, *close], scene.design.under), drawn(crest, *ink)]


def _left(scene: Scene) -> int:
    """Where the hills begin: at the edge, or on a wrap where no symbol stands on them."""
    symbols = [box.right for box in scene.symbols]
    return max(symbols) + AWAY if scene.middle and symbols else scene.over().left


def _sun(scene: Scene, horizon: int, colour: Colour) -> list[Shape]:
    """Half set behind the farthest hill, in the room right of the shorter word."""
    lines = scene.lines("name", "line")
    edge = scene.middle[1] if scene.middle else scene.edge
    end = edge - 3_000 if edge else scene.outline.wide - 6_000
    chord = scene.outline.span(horizon, horizon + 1, 3_000)
    end = min(end, chord[1]) if scene.round and chord else end
    words = [mark.box.grown(900) for mark in scene.words]
    most = 2_900 if scene.tiny else SUN if edge or scene.round else 9_000
    for radius in range(most, most // 2, -400):
        for x in range(end - radius, lines[-1].box.left, -500):
            disc = Box(x - radius, horizon, x + radius, horizon + radius)
            if not any(disc.meets(box) for box in words):
                round_it = circle(x, horizon - radius // 8, radius)
                return [drawn(round_it, colour, DISC) if scene.design.lines else filled(round_it, colour)]
    return []
