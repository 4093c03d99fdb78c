"""Where on artwork words may stand: fields that are calm, tried from the largest on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labelkit.labels.backdrop.boxes import NET, TITLE
from labelkit.labels.backdrop.picture import WordBox
from labelkit.labels.content import LabelContent
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour

#: So many fields are tried.
MOST = 6
#: Fields that share so much, in hundredths, are one; words keep so far from what stands beside a field, and from one
#: another; lower than so much no net quantity stands. Micrometres; our own eye, no source.
ALIKE, ASIDE, GUTTER, LEAST_NET = 80, 5_000, 3_000, 5_000
#: How much of the artwork is seen round a ground under all words, micrometres; the widest first. Our own eye, no source.
MARGINS = (8_000, 6_500, 5_000, 4_000, 3_000, 2_000)


def word_boxes(fields: Sequence[tuple[int, Box]], content: LabelContent, outline: Outline) -> Iterator[list[WordBox]]:
    """The boxes to try on calm fields (area and box, the largest first): one for all words, then three."""
    yield from ([_word_box(("rest",), field, outline)] for field in _apart(fields))
    yield from _in_two(fields, content, outline)


def plates(ground: Colour, outline: Outline) -> Iterator[list[WordBox]]:
    """One ground for all words in the middle of the label, ever larger."""
    for margin in MARGINS:
        room = outline.box.grown(-margin)
        if outline.shape != "rectangle":
            # The largest rectangle in an ellipse.
            wide, high = (side * 707 // 1000 for side in (room.width, room.height))
            left, bottom = (outline.wide - wide) // 2, (outline.high - high) // 2
            room = Box(left, bottom, left + wide, bottom + high)
        if min(room.width, room.height) > 0:
            yield [replace(_word_box(("rest",), room, outline), ground=ground)]


def _apart(fields: Sequence[tuple[int, Box]]) -> Iterator[Box]:
    """The largest fields, none of which is nearly another; each also with room for what its words keep clear of."""
    taken: list[Box] = []
    for area, field in fields:
        shared = max((_shared(field, other) for other in taken), default=0)
        if shared * 100 > area * ALIKE:
            continue
        taken.append(field)
        yield field
        yield replace(field, left=field.left + ASIDE, right=field.right - ASIDE)
        if len(taken) == MOST:
            return


def _shared(one: Box, other: Box) -> int:
    """The area two fields share, square millimetres."""
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.top, other.top) - max(one.bottom, other.bottom)
    return wide * high // 10**6 if wide > 0 and high > 0 else 0


def _in_two(fields: Sequence[tuple[int, Box]], content: LabelContent, outline: Outline) -> Iterator[list[WordBox]]:
    """Title and small print beside each other in the largest field, the net quantity in the widest one low enough."""
    share, net = content.net_rule.bottom_share, content.of("net")
    if not fields or net is None or not content.of("name"):
        return
    main = fields[0][1]
    highest = min(main.bottom, int(outline.high * share) if share is not None else main.bottom)
    low = [replace(field, top=min(field.top, highest)) for _, field in fields if field.bottom < highest - LEAST_NET]
    low = [field for field in low if not field.meets(main) and field.height >= LEAST_NET]
    foot = max(low, key=lambda field: (field.width, field.height), default=None)
    for part in (58, 50, 64) if foot else ():
        edge = main.left + main.width * part // 100
        boxes = (replace(main, right=edge - GUTTER), replace(main, left=edge), foot)
        yield [_word_box(said, box, outline) for said, box in zip((TITLE, ("rest",), NET), boxes, strict=True) if box]


def _word_box(words: tuple[str, ...], box: Box, outline: Outline) -> WordBox:
    return WordBox(words, box.left, outline.high - box.top, box.width, box.height)
