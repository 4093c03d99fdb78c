"""The one-piece wrap: symbols on the left, the front in the middle, small print to the right, and a nutrition panel
there where the label asks for one and the wrap is wide enough.

The small print stands to the right of the front, where 21 CFR 101.2(a) looks for the information panel; the nutrition
panel stands beside it with nothing between (101.2(d)).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

from labelkit.barcodes.dots import on_grid
from labelkit.errors.labels import LabelTooSmall, PanelTooLarge
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import BLOCK_GAP, Board, bald, board, inks_on
from labelkit.labels.layout.codes import Block, block_size, rows_marks, side_by_side, turned_note
from labelkit.labels.layout.flow import INFO_ROLES, Flow, flow, paragraphs, sizes_for, wide_enough
from labelkit.labels.layout.front import arranged, dressed
from labelkit.labels.layout.front import notes_of as front_notes
from labelkit.labels.layout.placed import Placed, rows_of
from labelkit.labels.layout.recipes import back_codes
from labelkit.labels.nutrition.choose import Chosen, choose
from labelkit.labels.nutrition.layout import EDGE, area, notes_of
from labelkit.labels.nutrition.layout import rows_of as panel_rows
from labelkit.labels.ornaments import Scene
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, shifted

#: The middle panel of a wrap is the one that faces the buyer: 40 % of the way round (21 CFR 101.1(b)).
FRONT_SHARE, LEAST_RATIO = 40, 3
#: Down to this size two languages rather stand side by side than one above the other.
COLUMNS_FROM = 2300
#: The narrowest column small print reads well in, and how finely wider ones are tried.
NARROWEST, STEP = 26_000, 3_000


@dataclass(frozen=True)
class Fields:
    """A wrap divided: where the front begins and ends, the small print in its box, the symbols, the nutrition panel."""

    left: int
    right: int
    symbols: list[Block]
    small_print: Flow
    print_box: Box
    panel: Chosen | None = None


def place_wrap(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a wrap. Raises :class:`~labelkit.errors.labels.LabelTooSmall` with the millimetres that are wanting."""
    wanting = LEAST_RATIO * outline.high - outline.wide
    if outline.shape != "rectangle" or wanting > 0:
        round_one = "it is not a rectangle, and a wrap is one, at least three times as wide as it is high"
        short = (
            f"a wrap is at least three times as wide as it is high, and {wanting / 1000:.1f} mm of width are wanting"
        )
        raise _too_small(content, outline, short if outline.shape == "rectangle" else f"{round_one}: {_size(outline)}")
    bare = board(outline, bald(design), bleed, dpi)
    fields, notes = _fields(bare, content)
    front = replace(content.without(*INFO_ROLES), lot=None, link=None, number=None, diameter=None)
    middle = Outline(fields.right - fields.left, outline.high)
    inner, found = arranged(front, middle, design, dpi, (0, bleed[1]))
    panel = _panel_marks(bare, fields)
    words = (
        *(shifted(mark, fields.left, 0, dpi) for mark in found.marks),
        *_symbols(bare, fields),
        *_centred(bare, fields),
    )
    scene = Scene("wrap", inner.design, outline, bleed, words, middle=(fields.left, fields.right), year=content.harvest)
    dressed_words, drawn = dressed(scene)
    marks = (*dressed_words, *panel)
    said = content.without("nutrition")
    rows = (*rows_of(said, marks, outline, bare.inset), *(panel_rows(fields.panel, panel) if fields.panel else ()))
    moved = (*found.plan.moved, *(("nutrition_panel",) if content.nutrition and not fields.panel else ()))
    notes = (
        *front_notes(front, found, drawn, design),
        *notes,
        *(turned_note(content, block) for block in fields.symbols if block.ladder),
    )
    return Placed(said, design.name, outline, marks, rows, moved, notes)


def _fields(bare: Board, content: LabelContent) -> tuple[Fields, tuple[str, ...]]:
    """The division of the wrap: with the panel if one is asked for and finds room, languages side by side if they do."""
    notes: tuple[str, ...] = ()
    if content.nutrition is not None:
        told = None
        for left, codes in _lefts(bare, content):
            try:
                fields = _with_panel(bare, content, left, codes)
            except PanelTooLarge as trouble:
                told = told or trouble
                continue
            if fields is not None and fields.panel is not None:
                return fields, (*content.nutrition.notes, *notes_of(content.nutrition, fields.panel))
        why = told.what if told else "The small print takes its room."
        notes = (
            f"The nutrition panel is not on this wrap. {why} Print it on a wider wrap, or on a label of its own: "
            "--kind nutrition.",
        )
    for columns in (True, False) if len(content.spoken) > 1 else (False,):
        for left, codes in _lefts(bare, content):
            fields = _plain(bare, content, left, codes, columns)
            if fields is not None:
                return fields, notes
    left, codes = list(_lefts(bare, content))[-1]
    raise _too_small(content, bare.outline, _wanting(bare, content, left, codes))


def _lefts(bare: Board, content: LabelContent) -> Iterator[tuple[int, list[Block]]]:
    """Where the front may begin: in the middle of the wrap, or as far left as the symbols let it; on a whole dot, so
    that bars in it stay whole."""
    middle = (bare.outline.wide - _front(bare)) // 2
    high = bare.outline.high - 2 * bare.inset
    yield _dot(bare, middle), _codes(bare, content, middle - 2 * bare.inset, high)
    codes = _codes(bare, content, middle - 2 * bare.inset, high)
    widest, row = max((block.wide for block in codes), default=0), side_by_side(codes, BLOCK_GAP)[0]
    for room in sorted({widest, row}):
        if block_size(codes, room, BLOCK_GAP)[1] <= high and room + 2 * bare.inset < middle:
            yield _dot(bare, room + 2 * bare.inset if codes else 0), codes
            return


def _dot(bare: Board, x: int) -> int:
    return on_grid(x, bare.dpi) * 25_400 // bare.dpi


def _front(bare: Board) -> int:
    return bare.outline.wide * FRONT_SHARE // 100


def _codes(bare: Board, content: LabelContent, wide: int, high: int) -> list[Block]:
    for codes in back_codes(content, bare.design, bare.dpi):
        needed = block_size(codes, wide, BLOCK_GAP)
        if needed[0] <= wide and needed[1] <= high:
            return codes
    return []


def _plain(bare: Board, content: LabelContent, left: int, codes: list[Block], columns: bool) -> Fields | None:
    right = left + _front(bare)
    box = Box(right + bare.inset, bare.inset, bare.outline.wide - bare.inset, bare.outline.high - bare.inset)
    put = _print(bare, content, codes, box, columns)
    return Fields(left, right, codes, put, box) if put is not None else None


def _with_panel(bare: Board, content: LabelContent, left: int, codes: list[Block]) -> Fields | None:
    """The small print in the narrowest column it fits, the panel in what is left of the wrap."""
    right, end = left + _front(bare), bare.outline.wide - EDGE
    start = right + bare.inset
    for wide in range(NARROWEST, end - start, STEP):
        box = Box(start, bare.inset, start + wide, bare.outline.high - bare.inset)
        put = _print(bare, content, codes, box, False)
        if put is not None and content.nutrition is not None:
            nutrition = content.nutrition.on(area(bare.outline))
            chosen = choose(nutrition, end - box.right - bare.inset, bare.outline.high - 2 * EDGE)
            # What the panel leaves of the room goes to the small print.
            box = replace(box, right=end - chosen.laid.wide - bare.inset)
            return Fields(left, right, codes, _print(bare, content, codes, box, False) or put, box, chosen)
    return None


def _print(bare: Board, content: LabelContent, codes: list[Block], box: Box, columns: bool) -> Flow | None:
    """The small print in its box, as large as it goes; ``columns`` only with its languages side by side."""
    design = bare.design
    captioned = [block.words.role for block in codes if block.words]
    ways = [paragraphs(content, design, captioned, apart=apart) for apart in (True, False)]
    room = bare.zone(box).span
    for size, said in product(sizes_for(ways[0], max(2400, bare.outline.high // 15)), ways):
        if columns and not (size >= COLUMNS_FROM and wide_enough(said, room, box.top, size)):
            continue
        put = flow(said, room, box.top, size, "left", content.spoken, inks_on(design))
        if put is not None:
            return put
    return None


def _wanting(bare: Board, content: LabelContent, left: int, codes: list[Block]) -> str:
    """How much wider the wrap would have to be for the small print."""
    box = Box(
        left + _front(bare) + bare.inset, bare.inset, bare.outline.wide - bare.inset, bare.outline.high - bare.inset
    )
    for more in range(500, 400_000, 500):
        # Of what a wrap grows, the front takes its share.
        grown = replace(bare, outline=replace(bare.outline, wide=bare.outline.wide + more))
        if _print(grown, content, codes, replace(box, right=box.right + more * (100 - FRONT_SHARE) // 100), False):
            return f"its small print at its least size wants {more / 1000:.1f} mm more width"
    return f"{bare.outline.high / 1000:.1f} mm of height are too few for its small print however wide the wrap"


def _centred(bare: Board, fields: Fields) -> Iterable[Mark]:
    box, put = fields.print_box, fields.small_print
    return (shifted(mark, 0, -((put.bottom - box.bottom) // 2), bare.dpi) for mark in put.marks)


def _symbols(bare: Board, fields: Fields) -> list[Mark]:
    inset, design = bare.inset, bare.design
    box = Box(inset, inset, fields.left - inset, bare.outline.high - inset)
    spare = (box.height - block_size(fields.symbols, box.width, BLOCK_GAP)[1]) // 2
    floor = replace(box, bottom=box.bottom + spare)
    return rows_marks(fields.symbols, floor, BLOCK_GAP, "centre", design.under, inks_on(design)[0])


def _panel_marks(bare: Board, fields: Fields) -> tuple[Mark, ...]:
    if fields.panel is None:
        return ()
    laid = fields.panel.laid
    return laid.at(bare.outline.wide - EDGE - laid.wide, (bare.outline.high - laid.high) // 2)


def _size(outline: Outline) -> str:
    return f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"


def _too_small(content: LabelContent, outline: Outline, reason: str) -> LabelTooSmall:
    return LabelTooSmall(
        f"The {content.kind}",
        _size(outline),
        reason,
        "Choose a wider strip for it, or print a front and a back instead.",
    )
