"""Panels: a head, one big thing, facts, small print from the top; the symbols on the floor or in a column beside them.

Sizes shrink together; the arrangement that keeps most symbols is taken; what still does not fit with every text at its
least is refused with the millimetres that are wanting.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from labelkit.barcodes.instore import CAUTION, is_own_till_number
from labelkit.barcodes.linear import Barcode
from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import BLOCK_GAP, Board, board, closer
from labelkit.labels.layout.codes import Block, block_size, rows_marks, side_by_side, turned_note
from labelkit.labels.layout.column import Column, Piece
from labelkit.labels.layout.front import dressed, left_out
from labelkit.labels.layout.placed import Placed, rows_of
from labelkit.labels.ornaments import Scene
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, shifted

#: The least width of the words' column beside the symbols'.
LEAST_COLUMN = 26_000
ASIDE = 2 * BLOCK_GAP
GROWING = (165, 150, 136, 124, 112, 100, 92, 84, 77, 70, 64, 58, 53, 48, 44)
UNKNOWN = 10**9
#: What a head says.
HEAD = ("maker", "name")
#: The largest rectangle in an ellipse is as wide and as high as the ellipse over the root of two.
INSCRIBED = 707


@dataclass(frozen=True)
class Recipe:
    """What a kind of panel holds: pieces from the top, which symbols in what order of need, how far sizes may go.

    ``silent`` names roles this kind does not say: the net quantity belongs on the front, a case says its lots in a list.
    ``head`` stands over words and symbols alike, and says ``HEAD`` in place of the first pieces.
    """

    pieces: Callable[[Column], list[Piece | None]]
    codes: Callable[[LabelContent, Design, int], list[list[Block]]]
    scales: tuple[int, ...] = (100, 92, 84, 77, 70, 64, 58, 53, 48, 44)
    silent: tuple[str, ...] = ()
    head: Callable[[Column], Piece | None] | None = None


def place_panel(
    content: LabelContent,
    outline: Outline,
    design: Design,
    recipe: Recipe,
    *,
    dpi: int = 600,
    bleed: tuple[int, int] = (0, 0),
) -> Placed:
    """Place a panel by its recipe. Raises :class:`~labelkit.errors.labels.LabelTooSmall`."""
    framed = board(outline, design, bleed, dpi, content.kind)
    choices = recipe.codes(content, design, dpi)
    # The maker stands on a panel already; beside symbols its name is not worth their room.
    content = content.brief if choices[0] else content
    best: tuple[Board, Found] | None = None
    # The frame gives way before a symbol does.
    for bare in (framed, closer(framed)):
        if best is None or _worth(best[1].way.codes) < _worth(choices[0]):
            found = _found(recipe, bare, content, choices)
            if found and (best is None or _worth(found.way.codes) > _worth(best[1].way.codes)):
                best = bare, found
    if best is None:
        raise _too_small(recipe, closer(framed), content, _short(recipe, closer(framed), content, choices))
    bare, found = best
    asked = framed.design if framed.design.ornament else None
    return _finished(bare, content.without(*recipe.silent), found, choices[0], asked)


@dataclass(frozen=True)
class Found:
    """The arrangement that was taken, and its marks."""

    way: Way
    marks: tuple[Mark, ...]


def _found(recipe: Recipe, bare: Board, content: LabelContent, choices: Sequence[list[Block]]) -> Found | None:
    """The best arrangement on a board; None where none fits."""
    fits: dict[int, bool] = {}
    for way, scale in _ways(recipe, bare, content, choices):
        # What does not fit at the least scale fits at none, and that is seen at once.
        if id(way) not in fits:
            fits[id(way)] = not _set(way, recipe.scales[-1])[1]
        if fits[id(way)]:
            marks, _ = _set(way, scale)
            if marks is not None:
                return Found(way, marks)
    return None


def _short(recipe: Recipe, bare: Board, content: LabelContent, choices: Sequence[list[Block]]) -> int:
    """How much height is wanting at the least in any arrangement."""
    ways = (way for codes in choices for way in _arranged(recipe, bare, content, codes))
    return min((_set(way, recipe.scales[-1])[1] for way in ways), default=UNKNOWN)


@dataclass(frozen=True)
class Way:
    """One arrangement: the column of the words, the pieces in it, and the symbols with the box they stand in."""

    column: Column
    pieces: list[Piece]
    codes: list[Block]
    symbols: Box
    head: Piece | None = None

    @property
    def beside(self) -> bool:
        return self.symbols.left >= self.column.box.right


def _ways(
    recipe: Recipe, bare: Board, content: LabelContent, choices: Sequence[list[Block]]
) -> Iterator[tuple[Way, int]]:
    """Every arrangement and scale, what keeps most symbols first; small words come when there is no other way."""
    ready = [(_kept(codes), list(_arranged(recipe, bare, content, codes))) for codes in choices]
    kept = sorted({count for count, _ in ready}, reverse=True)
    comfortable, smaller, least = (
        [scale for scale in recipe.scales if low <= scale < high] for low, high in ((77, 999), (64, 77), (0, 64))
    )
    # Words shrink a little before a symbol is given up, and to their least only when nothing is left to give.
    for group in ((comfortable, smaller), (least,)):
        for count in kept:
            for scales in group:
                for ways in (ways for number, ways in ready if number == count):
                    # A line over the whole is worth a size; so it is tried at every one before it goes.
                    for head in (True, False):
                        yield from ((way, scale) for scale in scales for way in ways if bool(way.head) is head)


def _kept(codes: list[Block]) -> tuple[int, int, bool]:
    """What the symbols keep: a till number as high as tills want it, rather than a lower one, rather than none; then how
    many things they say, and whether the till number is upright."""
    tills = [block for block in codes if block.says == "till"]
    high = sum(1 if _low(till) else 2 for till in tills)
    return high, len({block.says for block in codes}), not any(till.ladder for till in tills)


def _worth(codes: list[Block]) -> tuple[int, int, bool, int]:
    """The same with how high the lowest bars of a standard's height are: what an ornament is given up for."""
    return *_kept(codes), min(
        (block.bar_high for block in codes if block.says in ("till", "case") and block.bar_high), default=0
    )


def _low(block: Block) -> bool:
    """Whether bars are lower than their standard asks."""
    return isinstance(block.symbol, Barcode) and block.bar_high < block.symbol.kind.least_height.um


def _arranged(recipe: Recipe, bare: Board, content: LabelContent, codes: list[Block]) -> Iterator[Way]:
    """Symbols under the words; on a rectangle also beside them, the words in a column of their own. Under a head over both
    they stand beside the words where they can."""
    if bare.outline.shape == "rectangle" and recipe.head:
        head = recipe.head(Column(bare, _box(bare), content))
        if head:
            said = content.without(*HEAD)
            yield from (
                replace(way, head=head)
                for way in (*_beside(recipe, bare, said, codes), *_under(recipe, bare, said, codes))
            )
    yield from _under(recipe, bare, content, codes)
    if bare.outline.shape == "rectangle":
        yield from _beside(recipe, bare, content, codes)


def _under(recipe: Recipe, bare: Board, content: LabelContent, codes: list[Block]) -> Iterator[Way]:
    whole = _box(bare)
    wide, high = block_size(codes, whole.width, BLOCK_GAP)
    if wide <= whole.width:
        column = Column(bare, replace(whole, bottom=whole.bottom + (high + BLOCK_GAP if codes else 0)), content)
        yield Way(column, _pieces(recipe, column, codes), codes, whole)


def _beside(recipe: Recipe, bare: Board, content: LabelContent, codes: list[Block]) -> Iterator[Way]:
    if not codes:
        return
    whole, widest = _box(bare), max(block.wide for block in codes)
    for room in sorted({widest, min(side_by_side(codes, BLOCK_GAP)[0], max(widest, whole.width // 2))}):
        wide, high = block_size(codes, room, BLOCK_GAP)
        left = replace(whole, right=whole.right - wide - ASIDE)
        if left.width >= LEAST_COLUMN and high <= whole.height:
            column = Column(bare, left, content)
            yield Way(column, _pieces(recipe, column, codes), codes, replace(whole, left=whole.right - wide))


def _too_small(recipe: Recipe, bare: Board, content: LabelContent, short: int) -> LabelTooSmall:
    outline = bare.outline
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    said = f"{short / 1000:.1f} mm of height are wanting at the least sizes"
    if short == UNKNOWN:
        said = f"its longest word needs a label {_wider(recipe, bare, content) / 1000:.1f} mm wider"
    return LabelTooSmall(f"The {content.kind}", label, said, "Choose a larger label, or say less on this one.")


def _wider(recipe: Recipe, bare: Board, content: LabelContent) -> int:
    """How much wider the box would have to be for every piece to find room, at the least scale."""
    box = _box(bare)
    for more in range(500, 400_000, 500):
        column = Column(bare, Box(box.left, box.bottom - 10**6, box.right + more, box.top), content)
        if all(piece.set(recipe.scales[-1], box.top) for piece in _pieces(recipe, column, [])):
            return more
    return 400_000


def _pieces(recipe: Recipe, column: Column, codes: list[Block]) -> list[Piece]:
    """The pieces of a column, less what the symbols say in their captions."""
    captioned = [block.words.role for block in codes if block.words]
    return [piece for piece in recipe.pieces(replace(column, content=column.content.without(*captioned))) if piece]


def _box(bare: Board) -> Box:
    outline, inset = bare.outline, bare.inset
    if outline.shape == "rectangle":
        return bare.box
    wide, high = (side * INSCRIBED // 1000 for side in (outline.wide - 2 * inset, outline.high - 2 * inset))
    left, bottom = (outline.wide - wide) // 2, (outline.high - high) // 2
    return Box(left, bottom, left + wide, bottom + high)


def _set(way: Way, scale: int):
    """Marks, or None and how much height was wanting."""
    column, box = way.column, way.column.box
    marks: list[Mark] = []
    y = box.top
    if way.head:
        top = way.head.set(scale, y)
        if top is None:
            return None, UNKNOWN
        y -= top[0] + way.head.gap * scale // 100
        marks += top[1]
        way = replace(way, symbols=replace(way.symbols, top=y))
        wanting = block_size(way.codes, way.symbols.width, BLOCK_GAP)[1] - way.symbols.height
        if way.beside and wanting > 0:
            return None, wanting
    for place, piece in enumerate(way.pieces):
        y -= piece.gap * scale // 100 if place else 0
        put = piece.set(scale, y)
        if put is None:
            return None, UNKNOWN
        y -= put[0]
        marks += put[1]
    if y < box.bottom:
        return None, box.bottom - y
    spare = (y - box.bottom) // 2 if not way.head and (not way.codes or way.beside) else 0
    ink, ground = column.design.type["info"].colour, column.design.under
    symbols = _stack_of(way, ground, ink)
    return (*(shifted(mark, 0, -spare, column.board.dpi) for mark in marks), *symbols), 0


def _stack_of(way: Way, ground, ink) -> list[Mark]:
    """The symbols in rows under the words, or one above the other beside them, in the middle of their column."""
    if not way.beside:
        align = "left" if way.column.left_aligned else "centre"
        return rows_marks(way.codes, way.symbols, BLOCK_GAP, align, ground, ink)
    spare = way.symbols.height - block_size(way.codes, way.symbols.width, BLOCK_GAP)[1]
    box = replace(way.symbols, bottom=way.symbols.bottom + (spare if way.head else spare // 2))
    return rows_marks(way.codes, box, BLOCK_GAP, "centre", ground, ink)


def _finished(bare: Board, content: LabelContent, found: Found, fullest: list[Block], asked: Design | None) -> Placed:
    """The panel as it is drawn; ``asked`` is its design where it has an ornament for such a panel."""
    design, codes = bare.design, found.way.codes
    marks, drawn = dressed(Scene(content.kind, design, bare.outline, bare.bleed, found.marks, year=content.harvest))
    notes = (*_left_out(content, codes, fullest), *(left_out(drawn, asked) if asked else ()))
    tills = (block for block in codes if block.kind in ("till", "case"))
    low = [(block.symbol, block.bar_high) for block in tills if isinstance(block.symbol, Barcode) and _low(block)]
    if content.number and is_own_till_number(content.number) and any(block.kind == "till" for block in codes):
        notes += (CAUTION,)
    notes += tuple(
        f"The bars of {bars.text} are {high / 1000:.1f} mm high; the standard asks "
        f"{bars.kind.least_height.mm} mm, and lower ones must be held just so to the scanner."
        for bars, high in low
    )
    return Placed(
        content, design.name, bare.outline, marks, rows_of(content, marks, bare.outline, bare.inset), (), notes
    )


def _left_out(content: LabelContent, codes: list[Block], fullest: Sequence[Block]) -> Iterator[str]:
    """What of the symbols there was no room for, and which bars are turned."""
    kinds = [block.kind for block in codes]
    names = {"till": "the till number", "link": "the link", "bars": "the lot’s bars", "case": "the case’s bars"}
    for block in fullest:
        if block.kind not in kinds or kinds == ["case squares"]:
            yield f"There was no room for {names.get(block.kind, block.kind)}."
    for block in codes:
        if block.ladder:
            yield turned_note(content, block)
