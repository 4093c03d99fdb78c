"""Looking at a placed label from outside: overlaps, edges, words, contrast. Reckoned on the marks, not by the placer."""

from __future__ import annotations

import itertools
import re
import unicodedata
from math import cos, sin

from labelkit.labels.design import contrast
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BarcodeMark, Clipped, MatrixMark, Picture, Shape, Text

#: Within this of the edge a cutter or a printer may take something off. Common practice, no source.
EDGE = 1000
SYMBOLS = (BarcodeMark, MatrixMark, Picture)


def words_and_symbols(placed):
    return [mark for mark in placed.marks if isinstance(mark, (Text, *SYMBOLS))]


def fore(placed):
    """What may not be crossed: words, symbols, and ornaments that do not lie behind."""
    return [mark for mark in placed.marks if not getattr(mark, "behind", False)]


def overlaps(placed):
    """Pairs of marks that share room, ornaments among themselves left aside."""
    held = [(mark, mark.box) for mark in fore(placed)]
    ours = [(mark, box) for mark, box in held if not isinstance(mark, Shape)]
    shapes = [(mark, box) for mark, box in held if isinstance(mark, Shape)]
    for (one, box), (other, beside) in itertools.chain(
        itertools.combinations(ours, 2), itertools.product(ours, shapes)
    ):
        if box.meets(beside):
            yield described(one), described(other)


def described(mark) -> str:
    return getattr(mark, "text", "") or f"{type(mark).__name__} {mark.role}"


def rooms(mark):
    """The box of a mark; of a line on an arc, one for each of its letters."""
    if not getattr(mark, "arc", 0):
        return [mark.box]
    high = mark.face.extent("H", mark.size)[1]
    ends = [((x, y), (x - high * sin(turn), y + high * cos(turn))) for _, x, y, turn in mark.turned()]
    return [Box(*(round(f(one[i], two[i])) for f in (min, max) for i in (0, 1))) for one, two in ends]


def over_the_edge(placed):
    """Marks nearer than a millimetre to the edge of the label."""
    for mark in fore(placed):
        if not all(placed.outline.holds(box, EDGE) for box in rooms(mark)):
            yield described(mark), mark.box


def crossing_the_frame(placed):
    """Words over a line of the frame: their box meets the line but is not within it."""
    lines = [line.box for line in placed.marks if isinstance(line, Shape) and line.role == "frame" and line.stroke]
    held = [(mark, box) for mark in words_and_symbols(placed) for box in rooms(mark)]
    for mark, box in held:
        for line in lines:
            thin = line.height < 1000 or line.width < 1000
            if line.meets(box) if thin else not line.holds(box):
                yield described(mark)


def plain(text: str) -> str:
    """A text without capitals, blanks, dots, slashes and broken-word hyphens, to compare what was asked with what stands."""
    bare = unicodedata.normalize("NFD", re.sub(r"[\s·/\-‐\u00ad]", "", text)).replace("\u0301", "")
    return unicodedata.normalize("NFC", bare).casefold()


def unsaid(content, placed):
    """Texts of the content that stand nowhere on the label and were not named as moved."""
    for words in content.words:
        if words.role in placed.moved:
            continue
        said = plain(
            "".join(mark.text for mark in placed.marks if isinstance(mark, Text) and words.role in mark.role.split("+"))
        )
        forms = [words.all, *((one,) for one in words.instead)]
        if not any(all(plain(text) in said for text in form) for form in forms):
            yield words.role, words.all, said


def grounds(placed):
    for mark in placed.marks:
        if isinstance(mark, Clipped):
            yield from mark.marks
        elif isinstance(mark, Shape):
            yield mark


def stands_on(placed, design, text: Text):
    """The colours a line of text stands on: at points along its foot and its top, of the last filled shape behind it that
    covers the point, or of the paper."""
    box = text.box
    points = [(box.left + box.width * along // 8, y) for along in range(9) for y in (box.bottom, box.top)]
    if text.arc:
        points = [(round(x), round(y)) for _, x, y, _ in text.turned()]
    shapes = list(placed_grounds(placed))
    for point in points:
        held = (
            shape.fill
            for shape, outline in reversed(shapes)
            if shape.box.holds(Box(*point, *point)) and within(outline, point)
        )
        yield next(held, design.paper)


def placed_grounds(placed):
    """Filled shapes behind the words, large enough for a line of text, with their outlines as points."""
    for shape in grounds(placed):
        if shape.fill is not None and shape.behind and shape.box.width > 3000:
            yield shape, flattened(shape.path)


def flattened(path):
    """A path as points, each curve in eight."""
    points, here = [], (0, 0)
    for step in path:
        if step[0] == "C":
            (ax, ay), (bx, by, cx, cy, dx, dy) = here, step[1:]
            for part in range(1, 9):
                t = part / 8
                a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
                points.append((a * ax + b * bx + c * cx + d * dx, a * ay + b * by + c * cy + d * dy))
        elif step[0] != "Z":
            points.append(step[1:3])
        here = points[-1]
    return points


def within(points, point) -> bool:
    """Whether a point lies in a polygon: a ray to the right crosses its sides an odd number of times."""
    x, y, odd = *point, False
    for (ax, ay), (bx, by) in itertools.pairwise([*points, points[0]]):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            odd = not odd
    return odd


def faint(placed, design):
    """Lines of text under the least contrast of WCAG 2.2, 4.5 to 1."""
    for mark in placed.marks:
        if isinstance(mark, Text):
            ratio = min(contrast(mark.colour, ground) for ground in stands_on(placed, design, mark))
            if ratio < 4.5:
                yield mark.text, round(ratio, 1)
