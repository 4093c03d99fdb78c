"""ledger: the small words are the ornament: hair lines under each, strong rules round the weight, one red tab."""

from __future__ import annotations

import itertools
from dataclasses import replace

from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.ornaments import PANELS, Drawn, Room, Scene
from labelkit.labels.ornaments.pen import bar, drawn, filled
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box, around, face_for
from labelkit.paper.marks import WHITE, Colour, Shape, Text
from labelkit.paper.outlines import outlined

#: The tab: its width, its share of the label's height in hundredths; the rules. Micrometres.
TAB, TAB_SHARE, HAIR, STRONG = 5_200, 9, 150, 500
LEFT = 5_000
#: A tab with a year: its share of the height, the height of the figures and their least, the gaps round them.
YEAR_SHARE, FIGURE, LEAST_FIGURE, FIGURE_GAP = 18, 2_200, 1_500, 700


def room(outline: Outline, kind: str) -> Room | None:
    """The left axis at 5 mm; the tab takes its room from the top of it."""
    if outline.shape != "rectangle":
        return Room(2_600, 5_600, 2_600, min(outline.wide, outline.high) * 22 // 100)
    if min(outline.wide, outline.high) < 30_000:
        return Room(2_700, 2_900, 2_700, 3_400)
    top = _tab_high(outline) + 1_700
    if kind not in ("front", "wrap"):
        return Room(LEFT, 4_600, LEFT, top)
    if outline.lean:
        return Room(LEFT, 5_300, 3_400, top, over=1_300)
    return Room(6_000, 5_600, 6_000, top, head=1_500, over=1_000, foot=3_600)


def _tab_high(outline: Outline) -> int:
    return min(7_000, max(2_600, outline.high * TAB_SHARE // 100))


def draw(scene: Scene) -> Drawn | None:
    """The tab over the top edge, the lines of the table, the rule over the weight."""
    red, grey, black = scene.design.palette
    left = scene.middle[0] if scene.middle else 0
    marks = _marked(scene, _tab(scene, left), red)
    net, title = scene.box("net"), scene.box("name", "line")
    groups = _groups(scene)
    if scene.round:
        small = scene.box(*INFO_ROLES)
        if small and title and title.bottom - small.top > 1_400:
            y = (title.bottom + small.top) // 2
            marks.append(drawn([("M", small.left, y), ("L", small.right, y)], black, STRONG))
        return Drawn(tuple(marks))
    right = scene.edge - 2_000 if scene.edge else scene.outline.wide - (2_700 if scene.tiny else 6_000)
    if net and title and scene.middle is None and scene.kind not in PANELS:
        above = min([title.bottom, *(group.bottom for group in groups if scene.edge is None)])
        y = net.top + min(3_400, (above - net.top) // 2)
        start = min(net.left, title.left)
        marks.append(
            drawn(
                [("M", start, y), ("L", max(right, net.right) if scene.edge else right, y)],
                black,
                300 if scene.tiny else STRONG,
            )
        )
    if groups:
        marks += _table(scene, groups, grey, black)
    return Drawn(tuple(marks))


def _marked(scene: Scene, tab: Box, red: Colour) -> list[Shape]:
    """The tab; with the year of the harvest in two lines of figures where it is told and they keep their least size."""
    if not scene.year or scene.tiny:
        return [filled(bar(tab), red)]
    words = [mark.box for mark in scene.words if mark.box.left < tab.right + 700 and mark.box.right > tab.left - 700]
    low = max([tab.top - scene.bleed[1] - scene.outline.high * YEAR_SHARE // 100, *(box.top + 600 for box in words)])
    high = scene.outline.high - low
    figure = min(FIGURE, (high - 3 * FIGURE_GAP) // 2)
    if figure < LEAST_FIGURE:
        return [filled(bar(tab), red)]
    face = face_for("sans-Bold", scene.year)
    size = figure * face.units // face.extent("0", face.units)[1]
    marks = [filled(bar(replace(tab, bottom=low)), red)]
    for text, y in ((scene.year[:2], low + 2 * FIGURE_GAP + figure), (scene.year[2:], low + FIGURE_GAP)):
        ink = face.ink(text, size)
        marks.append(outlined(Text(face, size, text, (tab.left + tab.right - ink.width) // 2 - ink.left, y, WHITE)))
    return marks


def _tab(scene: Scene, left: int) -> Box:
    """Empty, and so half as long as a tab that bears a year."""
    top = scene.over().top
    high = _tab_high(scene.outline) if not scene.tiny else 2_600
    if scene.round:
        middle = scene.outline.wide // 2
        return Box(
            middle - TAB // 2, scene.outline.high - min(6_000, scene.outline.high * 13 // 100), middle + TAB // 2, top
        )
    start = left + (2_700 if scene.tiny else LEFT if scene.edge or scene.middle else 6_000)
    return Box(start, scene.outline.high - high, start + (TAB if not scene.tiny else 3_000), top)


def _groups(scene: Scene) -> list[Box]:
    """The lines of small words, lines of one thing together; not those that stand beside a symbol."""
    if scene.kind not in ("front", "wrap"):
        return []
    found: list[tuple[str, Box]] = []
    start = scene.middle[1] if scene.middle else 0
    symbols = [box.grown(1_500) for box in scene.symbols]
    for mark in scene.words:
        if not isinstance(mark, Text) or not set(mark.role.split("+")) & set(INFO_ROLES) or mark.x < start:
            continue
        if any(mark.box.meets(box) for box in symbols):
            continue
        held = found[-1][1] if found and found[-1][0] == mark.role and found[-1][1].bottom > mark.box.bottom else None
        found[len(found) - (held is not None) :] = [(mark.role, around((held, mark.box)) if held else mark.box)]
    return [box for _, box in found]


def _table(scene: Scene, groups: list[Box], grey, black) -> list[Shape]:
    """A hair line between each and the next, a strong one under the last; a column of its own in each half."""
    marks = []
    starts = sorted({group.left // 2_000 for group in groups})
    wide = scene.outline.wide
    for start in starts:
        column = sorted((one for one in groups if one.left // 2_000 == start), key=lambda one: -one.top)
        left = min(one.left for one in column)
        others = [one.left for one in groups if one.left > left + 4_000]
        right = min(others) - 1_600 if others else wide - (3_400 if scene.edge or scene.middle else 6_000)
        top = column[0].top + 1_300
        marks.append(drawn([("M", left, top), ("L", right, top)], black, STRONG))
        for one, after in itertools.pairwise(column):
            y = (one.bottom + after.top) // 2
            if one.bottom - after.top >= 1_300:
                marks.append(drawn([("M", left, y), ("L", right, y)], grey, HAIR))
        if scene.edge:
            y = column[-1].bottom - 1_300
            marks.append(drawn([("M", left, y), ("L", right, y)], black, STRONG))
    return marks
