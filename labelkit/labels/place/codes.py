"""Symbols on a label: the lot in bars or in small squares, a link in larger ones, a till number.

Each is a block with a size; it is drawn where the layout puts it, snapped to printer dots, on a light patch where the
ground is dark, with its text for people right beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from labelkit.labels.barcodes.dots import Module, on_grid, snapped
from labelkit.labels.barcodes.elements import Elements
from labelkit.labels.barcodes.linear import Bars, code128, for_number, gs1_128, widest_on_jar
from labelkit.labels.barcodes.matrix import LEAST_MODULE, USUAL_MODULE, Squares, data_matrix, gs1_data_matrix, qr
from labelkit.labels.content import LabelContent, Words
from labelkit.labels.design import Design, contrast
from labelkit.labels.fit import Line
from labelkit.labels.fonts import Box, face_for
from labelkit.labels.heights import least_size
from labelkit.labels.marks import BLACK, WHITE, BarsMark, Colour, Mark, Shape, SquaresMark, Text, rectangle
from labelkit.measures import Length

BAR_HEIGHTS = (8000, 6500, 5000)
GAP = 900
PATCH = 600


@dataclass(frozen=True)
class Block:
    """A symbol with its text: size in micrometres, and how to draw it at a corner."""

    kind: str
    wide: int
    high: int
    symbol: Bars | Squares
    module: Module
    bar_high: int
    caption: Line | None
    words: Words | None
    beside: bool
    text_low: int = 0

    def marks(self, x: int, y: int, ground: Colour, ink: Colour) -> list[Mark]:
        """The marks with the block's lower left corner at (x, y)."""
        marks: list[Mark] = []
        dpi = self.module.dpi
        if isinstance(self.symbol, Bars):
            side = self.module.um(self.symbol.across)
            left = x + (self.wide - side) // 2
            base = y + self.high - self.bar_high
            mark = BarsMark(self.symbol, self.module, on_grid(left, dpi), base, self.bar_high)
        else:
            side = self.module.um(self.symbol.wide + 2 * self.symbol.quiet)
            left = x if self.beside else x + (self.wide - side) // 2
            mark = SquaresMark(self.symbol, self.module, on_grid(left, dpi), on_grid(y + self.high - side, dpi))
        if contrast(BLACK, ground) < 7:
            # Quiet zones are part of the symbol's box; the patch only needs some air above and below.
            box = Box(mark.box.left, mark.box.bottom - PATCH, mark.box.right, mark.box.top + PATCH)
            marks.append(Shape(rectangle(box, 500), fill=WHITE, behind=True, role="patch"))
        marks.append(mark)
        if self.caption is not None:
            ink_box = self.caption.ink
            if self.beside:
                cx, cy = (
                    mark.box.right + GAP - ink_box.left,
                    (mark.box.bottom + mark.box.top - ink_box.height) // 2 - ink_box.bottom,
                )
            else:
                cx, cy = x + (self.wide - ink_box.width) // 2 - ink_box.left, y + self.text_low
            role = self.words.role if self.words else "caption"
            marks.append(
                Text(self.caption.face, self.caption.size, self.caption.text, cx, cy, ink, self.caption.tracking, role)
            )
        return marks


def lot_bars(content: LabelContent, design: Design, dpi: int, bar_high: int) -> Block | None:
    """The lot in Code 128 with its text below; None when the bars would bend too far round the jar."""
    words = content.of("lot")
    if not content.lot or words is None:
        return None
    bars = code128(content.lot)
    module = snapped(bars.kind.usual_x, dpi, bars.kind.least_x, what="The lot's bars")
    if content.diameter and module.um(len(bars.modules)) > widest_on_jar(content.diameter).um:
        return None
    wide = module.um(bars.across)
    caption = _caption(words, design, wide)
    below = caption.ink.height + GAP + (PATCH if contrast(BLACK, design.under) < 7 or design.base else 0)
    return Block(
        "bars",
        max(wide, caption.ink.width),
        bar_high + below,
        bars,
        module,
        bar_high,
        caption,
        words,
        False,
        -min(0, caption.ink.bottom),
    )


def lot_squares(content: LabelContent, design: Design, dpi: int) -> Block | None:
    """The lot in a Data Matrix with its text beside: for labels too small for bars."""
    words = content.of("lot")
    if not content.lot or words is None:
        return None
    squares = data_matrix(content.lot)
    module = snapped(USUAL_MODULE, dpi, LEAST_MODULE, what="The lot's squares")
    side = module.um(squares.wide + 2 * squares.quiet)
    caption = _caption(words, design, 10**9)
    wide = side + GAP + caption.ink.width
    return Block("squares", wide, max(side, caption.ink.height), squares, module, 0, caption, words, True)


def link_squares(content: LabelContent, dpi: int) -> Block | None:
    """The link in a QR Code."""
    if not content.link:
        return None
    squares = qr(content.link)
    module = snapped(USUAL_MODULE, dpi, LEAST_MODULE, what="The link's squares")
    side = module.um(squares.wide + 2 * squares.quiet)
    return Block("link", side, side, squares, module, 0, None, None, False)


def till_bars(content: LabelContent, design: Design, dpi: int, bar_high: int) -> Block | None:
    """The till number, its digits below. Bars lower than the standard height are for the caller to mention."""
    if not content.number:
        return None
    bars = for_number(content.number)
    module = snapped(bars.kind.usual_x, dpi, bars.kind.least_x, bars.kind.most_x, what="The till number's bars")
    wide = module.um(bars.across)
    style = design.type["info"]
    caption = Line(face_for(style.face, bars.text), 2600, bars.text, 160)
    gap = GAP + PATCH if contrast(BLACK, design.under) < 7 or design.side else 500
    return Block("till", wide, bar_high + caption.ink.height + gap, bars, module, bar_high, caption, None, False)


def case_bars(elements: Elements, beside: Elements, dpi: int, bar_high: int) -> Block:
    """Element strings of a case in GS1-128, their text below."""
    bars = gs1_128(elements, beside)
    module = snapped(bars.kind.usual_x, dpi, bars.kind.least_x, bars.kind.most_x, what="The case's bars")
    wide = module.um(bars.across)
    face = face_for("sans-Regular", bars.text)
    size = 3400
    while size > 2000 and face.width(bars.text, size) > wide:
        size = size * 95 // 100
    caption = Line(face, size, bars.text)
    high = bar_high + caption.ink.height + GAP
    return Block("case", wide, high, bars, module, bar_high, caption, None, False, -min(0, caption.ink.bottom))


def case_squares(elements: Elements, dpi: int) -> Block:
    """The same in a GS1 DataMatrix, its modules one and a half times as wide as the bars' would be."""
    squares = gs1_data_matrix(elements)
    least = Length.of_mm("0.743")
    module = snapped(least, dpi, least, what="The case's squares")
    side = module.um(squares.wide + 2 * squares.quiet)
    caption = Line(face_for("sans-Regular", squares.text), 2600, squares.text)
    return Block("case squares", side + GAP + caption.ink.width, side, squares, module, 0, caption, None, True)


def _caption(words: Words, design: Design, wide: int) -> Line:
    style = design.type["info"]
    text = style.cased(" / ".join(words.all))
    face = face_for(style.face, text)
    least = least_size(face, text, words.height, 1900)
    size = max(least, 2500)
    while size > least and face.width(text, size) > wide:
        size = max(least, size * 96 // 100)
    return Line(face, size, text)


def side_by_side(blocks: list[Block], gap: int) -> tuple[int, int]:
    """Width and height of blocks in a row."""
    if not blocks:
        return 0, 0
    return sum(block.wide for block in blocks) + gap * (len(blocks) - 1), max(block.high for block in blocks)


def in_rows(blocks: list[Block], room: int, gap: int) -> list[list[Block]]:
    """Blocks in as few rows as their widths allow, in order."""
    rows: list[list[Block]] = []
    for block in blocks:
        if rows and side_by_side([*rows[-1], block], gap)[0] <= room:
            rows[-1].append(block)
        else:
            rows.append([block])
    return rows


def block_size(blocks: list[Block], room: int, gap: int) -> tuple[int, int]:
    """Width and height of blocks in as few rows as a room's width allows."""
    sizes = [side_by_side(row, gap) for row in in_rows(blocks, room, gap)]
    return max((wide for wide, _ in sizes), default=0), sum(high + gap for _, high in sizes) - (gap if sizes else 0)


def rows_marks(blocks: list[Block], box: Box, gap: int, align: str, ground: Colour, ink: Colour) -> list[Mark]:
    """Blocks in rows, the last one on the floor of the box."""
    marks: list[Mark] = []
    floor = box.bottom
    for row in reversed(in_rows(blocks, box.width, gap)):
        high = side_by_side(row, gap)[1]
        marks += row_marks(row, Box(box.left, floor, box.right, floor + high), gap, align, ground, ink)
        floor += high + gap
    return marks


def row_marks(blocks: list[Block], box: Box, gap: int, align: str, ground: Colour, ink: Colour) -> list[Mark]:
    """Blocks in a row on the floor of a box."""
    wide, _ = side_by_side(blocks, gap)
    x = box.left if align == "left" else box.right - wide if align == "right" else (box.left + box.right - wide) // 2
    marks: list[Mark] = []
    for block in blocks:
        marks += block.marks(x, box.bottom, ground, ink)
        x += block.wide + gap
    return marks
