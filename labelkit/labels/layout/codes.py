"""Symbols on a label: the lot in bars or in small squares, a link in larger ones, a till number.

Each is a block with a size; it is drawn where the layout puts it, snapped to printer dots, on a light patch where the
ground is dark, with its text for people right beside it. Bars may be turned a quarter round, like the rungs of a ladder:
so they bend with a jar without turning away from the scanner (GS1 General Specifications 6.2.3.2, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from labelkit.barcodes.dots import INCH_UM, Module, on_grid, snapped
from labelkit.barcodes.elements import Elements
from labelkit.barcodes.linear import GUARD, TILL_TEXT, Barcode, code128, for_number, gs1_128, widest_on_jar
from labelkit.barcodes.matrix import LEAST_MODULE, USUAL_MODULE, MatrixCode, data_matrix, gs1_data_matrix, qr
from labelkit.labels.content import LabelContent, Words
from labelkit.labels.design import Design, contrast, light
from labelkit.labels.heights import least_size
from labelkit.measures import Length
from labelkit.paper.fonts import Box, around, face_for
from labelkit.paper.line_breaking import Line
from labelkit.paper.marks import BLACK, WHITE, BarcodeMark, Colour, Mark, MatrixMark, Shape, Text, rectangle

BAR_HEIGHTS = (8000, 6500, 5000)
GAP = 900
PATCH = 600
#: Of the red light scanners read by: ISO/IEC 15416 grades 40 % between bar and ground "C" (thresholds second-hand), and black
#: ink gives back up to 5 %.
LEAST_RED = 0.45
#: The figures below a till symbol, and the room between them and the bars.
FIGURE, FIGURE_GAP = 3300, 250


@dataclass(frozen=True)
class Block:
    """A symbol with its text: size in micrometres, and how to draw it at a corner."""

    kind: str
    wide: int
    high: int
    symbol: Barcode | MatrixCode
    module: Module
    bar_high: int
    caption: Line | None
    words: Words | None
    beside: bool
    text_low: int = 0
    ladder: bool = False
    figures: bool = False  # of a till symbol, below its bars as its standard sets them

    @property
    def says(self) -> str:
        """What it stands for, however it is drawn: the lot, the link, the till number, the case."""
        return {"bars": "lot", "squares": "lot", "case squares": "case"}.get(self.kind, self.kind)

    def marks(self, x: int, y: int, ink: Colour) -> list[Mark]:
        """The marks with the block's lower left corner at (x, y)."""
        marks: list[Mark] = []
        dpi = self.module.dpi
        if isinstance(self.symbol, Barcode):
            side = self.module.um(self.symbol.across)
            wide, high = (self.bar_high, side) if self.ladder else (side, self.bar_high)
            base = y + self.high - high
            if self.ladder:
                base = on_grid(base, dpi) * INCH_UM // dpi
            left = on_grid(x + (self.wide - wide) // 2, dpi)
            mark: BarcodeMark | MatrixMark = BarcodeMark(
                self.symbol,
                self.module,
                left,
                base,
                self.bar_high,
                ladder=self.ladder,
                guard=self.module.um(GUARD) if self.figures else 0,
            )
        else:
            side = self.module.um(self.symbol.wide + 2 * self.symbol.quiet)
            left = x if self.beside else x + (self.wide - side) // 2
            mark = MatrixMark(self.symbol, self.module, on_grid(left, dpi), on_grid(y + self.high - side, dpi))
        marks.append(mark)
        if self.figures and isinstance(mark, BarcodeMark):
            return [*marks, *till_figures(mark, ink)]
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


def till_figures(mark: BarcodeMark, ink: Colour) -> list[Mark]:
    """The figures of a till symbol below its bars: each under its own modules, the first (and the last of a UPC) outside."""
    bars, face = mark.bars, face_for("sans-Regular", mark.bars.text)
    marks: list[Mark] = []
    left, text = mark.x + mark.module.um(bars.quiet[0]), TILL_TEXT[bars.kind.name]
    top, step, place = mark.y - FIGURE_GAP, mark.module.um(7), 0
    y = top - face.extent("0", FIGURE)[1]
    tracking = step - face.width("0", FIGURE)
    for group, (module, count) in enumerate(text.groups):
        figures = bars.text[place : place + count]
        place += count
        wide = face.width(figures, FIGURE, tracking)
        room = module * mark.module.um(1), step * count
        x = left + room[0] + (0 if group in text.outside else (room[1] - wide) // 2)
        marks.append(Text(face, FIGURE, figures, x, y, ink, tracking if count > 1 else 0, "caption"))
    return marks


def bends_away(content: LabelContent, bars: Barcode, module: Module) -> bool:
    """Whether upright bars would run further round the jar than a scanner sees."""
    return content.diameter is not None and module.um(len(bars.modules)) > widest_on_jar(content.diameter).um


def round_the_jar(content: LabelContent, bars: Barcode, module: Module) -> str:
    """How wide upright bars are and how wide they may be, for people."""
    across = content.diameter or Length(0)
    return (
        f"{module.um(len(bars.modules)) / 1000:.1f} mm wide, and on a jar of {across.mm:.0f} mm across "
        f"{widest_on_jar(across).mm:.1f} mm is the most a scanner sees round"
    )


def turned_note(content: LabelContent, block: Block) -> str:
    """Why bars are turned, and what the user has to know of it."""
    what = "the till number" if block.kind == "till" else "the lot"
    why = "there is no room for them upright"
    if isinstance(block.symbol, Barcode):
        wide = f"{block.module.um(block.symbol.across) / 1000:.1f} mm wide, and there is no room for that"
        bent = bends_away(content, block.symbol, block.module)
        why = f"upright they would be {round_the_jar(content, block.symbol, block.module) if bent else wide}"
    return f"The bars of {what} are turned a quarter round: {why}. Turn the scanner or the jar a quarter round to read them."


def lot_symbols(
    content: LabelContent, design: Design, dpi: int, heights: Sequence[int] = BAR_HEIGHTS
) -> list[list[Block]]:
    """The lot in what is asked for, in groups of equal worth: upright bars, the highest first, then turned ones; or a
    Data Matrix. Empty where it is to stand in plain letters alone."""
    if content.lot_bars == "datamatrix":
        groups = [[_lot_squares(content, design, dpi)]]
    elif content.lot_bars == "code128":
        groups = [[_lot_bars(content, design, dpi, high, turned) for high in heights] for turned in (False, True)]
    else:
        groups = []
    return [found for group in groups if (found := [block for block in group if block])]


def _lot_bars(content: LabelContent, design: Design, dpi: int, bar_high: int, ladder: bool) -> Block | None:
    """The lot in Code 128 with its text below; None when the bars would bend too far round the jar.

    Turned bars stand alone: a line under them would be three times as wide as they are, so the lot is read in the small
    print.
    """
    words = content.of("lot")
    if not content.lot or words is None:
        return None
    bars = code128(content.lot)
    module = snapped(bars.kind.usual_x, dpi, bars.kind.least_x, what="The lot's bars")
    wide = module.um(bars.across)
    if ladder:
        return Block("bars", bar_high, wide, bars, module, bar_high, None, None, False, ladder=True)
    if bends_away(content, bars, module):
        return None
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


def _lot_squares(content: LabelContent, design: Design, dpi: int) -> Block | None:
    """The lot in a Data Matrix with its text beside."""
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
    """The link in a QR Code or a Data Matrix."""
    if not content.link:
        return None
    squares = qr(content.link) if content.link_in == "QR Code" else data_matrix(content.link)
    module = snapped(USUAL_MODULE, dpi, LEAST_MODULE, what="The link's squares")
    side = module.um(squares.wide + 2 * squares.quiet)
    return Block("link", side, side, squares, module, 0, None, None, False)


def till_bars(content: LabelContent, design: Design, dpi: int, bar_high: int, ladder: bool = False) -> Block | None:
    """The till number, its digits below; None when upright bars would bend too far round the jar.

    Bars lower than the standard height are for the caller to mention.
    """
    if not content.number:
        return None
    bars = for_number(content.number)
    module = snapped(bars.kind.usual_x, dpi, bars.kind.least_x, bars.kind.most_x, what="The till number's bars")
    if not ladder and bends_away(content, bars, module):
        return None
    if not ladder:
        low, high = face_for("sans-Regular", bars.text).extent(bars.text, FIGURE)
        below = max(high - min(0, low) + FIGURE_GAP, module.um(GUARD))
        return Block(
            "till", module.um(bars.across), bar_high + below, bars, module, bar_high, None, None, False, figures=True
        )
    style = design.type["info"]
    caption = Line(face_for(style.face, bars.text), 2600, bars.text, 160)
    high = module.um(bars.across) + caption.ink.height + GAP
    return Block(
        "till", max(bar_high, caption.ink.width), high, bars, module, bar_high, caption, None, False, ladder=True
    )


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


def above_symbols(ground: Colour) -> int:
    """Air between words and the symbols under them; a light patch reaches up into it."""
    return 1500 + (PATCH if contrast(BLACK, ground) < 7 else 0)


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
    """Blocks in rows, the last one on the floor of the box; on one light panel where the ground is dark."""
    marks: list[Mark] = []
    floor = box.bottom
    for row in reversed(in_rows(blocks, box.width, gap)):
        high = side_by_side(row, gap)[1]
        marks += _row(row, Box(box.left, floor, box.right, floor + high), gap, align, ink)
        floor += high + gap
    return _on_a_panel(marks, ground)


def row_marks(blocks: list[Block], box: Box, gap: int, align: str, ground: Colour, ink: Colour) -> list[Mark]:
    """Blocks in a row on the floor of a box; on one light panel where the ground is dark."""
    return _on_a_panel(_row(blocks, box, gap, align, ink), ground)


def _row(blocks: list[Block], box: Box, gap: int, align: str, ink: Colour) -> list[Mark]:
    wide, _ = side_by_side(blocks, gap)
    # Snapped to a dot it may lie half a dot further left.
    first = box.left + (INCH_UM // blocks[0].module.dpi if blocks else 0)
    x = first if align == "left" else box.right - wide if align == "right" else (box.left + box.right - wide) // 2
    marks: list[Mark] = []
    for block in blocks:
        marks += block.marks(x, box.bottom, ink)
        x += block.wide + gap
    return marks


def scans_on(ground: Colour) -> bool:
    """Whether black symbols may stand straight on this colour: light to the eye, and to a scanner's red light.

    GS1's guides call white, yellow and orange good grounds, and black bars on green, blue or blue-green unreadable.

    >>> [scans_on(ground) for ground in ((255, 255, 255), (255, 230, 0), (255, 165, 0), (201, 166, 115))]
    [True, True, True, True]
    >>> [scans_on(ground) for ground in ((0, 200, 80), (90, 170, 255), (0, 220, 220), (160, 0, 0))]
    [False, False, False, False]
    """
    return contrast(BLACK, ground) >= 7 and light(ground[0]) >= LEAST_RED


def _on_a_panel(marks: list[Mark], ground: Colour) -> list[Mark]:
    """One light panel under all symbols and their words, where the ground is too dark for a scanner."""
    if not marks or scans_on(ground):
        return marks
    held = around(mark.box for mark in marks)
    # Quiet zones are part of a symbol's box; words need some air.
    box = Box(held.left - PATCH // 2, held.bottom - PATCH, held.right + PATCH // 2, held.top + PATCH)
    panel = Shape(rectangle(box, 1200), fill=WHITE, behind=True, role="patch")
    return [panel, *(replace(mark, colour=BLACK) if isinstance(mark, Text) else mark for mark in marks)]
