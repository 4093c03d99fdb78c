"""Looking at a placed label from outside: overlaps, edges, words, contrast. Reckoned on the marks, not by the placer."""

from __future__ import annotations

import itertools
import re
import unicodedata

from labelkit.labels.design import contrast
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


def over_the_edge(placed):
    """Marks nearer than a millimetre to the edge of the label."""
    for mark in fore(placed):
        if not placed.outline.holds(mark.box, EDGE):
            yield described(mark), mark.box


def crossing_the_frame(placed):
    """Words over a line of the frame: their box meets the line but is not within it."""
    lines = [mark.box for mark in placed.marks if isinstance(mark, Shape) and mark.role == "frame" and mark.stroke]
    for mark in words_and_symbols(placed):
        box = mark.box
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
    """The colour a line of text stands on: the last filled shape behind it that covers it whole, or the paper."""
    found, box = design.paper, text.box
    for shape, room in placed_grounds(placed):
        if room.holds(box):
            found = shape.fill
    return found


def placed_grounds(placed):
    """Filled shapes behind the words, large enough for a line of text, with their boxes."""
    for shape in grounds(placed):
        if shape.fill is not None and shape.behind and len(shape.path) < 60:
            box = shape.box
            if box.width > 3000:
                yield shape, box


def faint(placed, design):
    """Lines of text under the least contrast of WCAG 2.2, 4.5 to 1."""
    for mark in placed.marks:
        if isinstance(mark, Text):
            ratio = contrast(mark.colour, stands_on(placed, design, mark))
            if ratio < 4.5:
                yield mark.text, round(ratio, 1)
