"""Panels: a head, one big thing, facts, small print, symbols, in one column from the top; the symbols on the floor.

Sizes shrink together, each text down to its own least; then symbols give way; what still does not fit is refused with
the millimetres that are wanting.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.barcodes.instore import CAUTION, is_own_till_number
from labelkit.labels.content import Height, LabelContent
from labelkit.labels.design import Design, Type
from labelkit.labels.fit import even_lines
from labelkit.labels.fonts import Box, face_for
from labelkit.labels.heights import least_size
from labelkit.labels.marks import Mark, Shape, Text, line, shifted
from labelkit.labels.outline import Outline, Zone
from labelkit.labels.place.board import BLOCK_GAP, Board, board
from labelkit.labels.place.codes import (
    Block,
    block_size,
    rows_marks,
)
from labelkit.labels.place.flow import flow, paragraphs
from labelkit.labels.place.placed import Placed, rows_of

COMFORT = 77
GROWING = (165, 150, 136, 124, 112, 100, 92, 84, 77, 70, 64, 58, 53, 48, 44)
#: The largest rectangle in an ellipse is as wide and as high as the ellipse over the root of two.
INSCRIBED = 707


@dataclass(frozen=True)
class Piece:
    """One thing of the column: how high it is at a scale (in hundredths) and its marks below a top edge; None: no room."""

    set: Callable[[int, int], tuple[int, tuple[Mark, ...]] | None]
    gap: int


@dataclass(frozen=True)
class Recipe:
    """What a kind of panel holds: pieces from the top, which symbols in what order of need, how far sizes may go.

    ``silent`` names roles this kind does not say: the net quantity belongs on the front, a case says its lots in a list.
    """

    pieces: Callable[[Column], list[Piece | None]]
    codes: Callable[[LabelContent, Design, int], list[list[Block]]]
    scales: tuple[int, ...] = (100, 92, 84, 77, 70, 64, 58, 53, 48, 44)
    framed: bool = True
    silent: tuple[str, ...] = ()


@dataclass(frozen=True)
class Column:
    """The room of a panel and what is set into it."""

    board: Board
    box: Box
    content: LabelContent

    @property
    def design(self) -> Design:
        return self.board.design

    @property
    def left_aligned(self) -> bool:
        return self.board.align == "left"

    def line(self, role: str, text: str, held: Type, ideal: int, height: Height | None = None, lines: int = 2) -> Piece:
        """A text in one or more large lines."""
        cased = held.cased(text)
        face = face_for(held.face, cased)
        least = least_size(face, cased, height, 1700)

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            size = max(least, ideal * scale // 100)
            tracking = size * held.tracking // 1000
            for count in range(1, lines + 1):
                found = even_lines(cased, face, count)
                if found and all(face.width(one, size, tracking) <= self.box.width for one in found):
                    return self._stacked(role, found, face, size, tracking, held, top)
            return None

        return Piece(set_at, max(1400, ideal * 42 // 100))

    def _stacked(self, role, lines, face, size, tracking, held, top) -> tuple[int, tuple[Mark, ...]]:
        marks, y = [], top
        for place, one in enumerate(lines):
            ink = face.ink(one, size, tracking)
            y -= (size * 28 // 100 if place else 0) + max(face.extent("H", size)[1], ink.top)
            x = self.box.left if self.left_aligned else (self.box.left + self.box.right - ink.width) // 2
            marks.append(Text(face, size, one, x - ink.left, y, held.colour, tracking, role))
            y += min(0, ink.bottom)
        return top - y, tuple(marks)

    def rule(self) -> Piece:
        """A hair line across."""
        colour = (
            self.design.palette[-1]
            if self.design.prints == "black"
            else self.design.palette[1 % len(self.design.palette)]
        )

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]]:
            path = line(self.box.left, top - 80, self.box.right, top - 80)
            return 160, (Shape(path, stroke=colour, width=160, role="rule"),)

        return Piece(set_at, 2000)

    def facts(self, rows: Sequence[tuple[str, str]], ideal: int) -> Piece:
        """Labels on the left, values in bold on the right of them."""
        held, strong = self.design.type["info"], self.design.type["net"]

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            size = max(2000, ideal * scale // 100)
            column = (
                max(face_for(held.face, label).width(label, size * 80 // 100) for label, _ in rows) + size * 9 // 10
            )
            marks, y = [], top
            for place, (label, value) in enumerate(rows):
                face = face_for(strong.face, value)
                room = self.box.width - column
                lines = next(
                    (
                        found
                        for n in ((1,) if scale > 90 else (1, 2, 3))
                        if (found := even_lines(value, face, n)) and all(face.width(one, size) <= room for one in found)
                    ),
                    None,
                )
                if lines is None:
                    return None
                for extra, one in enumerate(lines):
                    y -= (size * (16 if extra else 46) // 100 if place or extra else 0) + face.extent(
                        "HÉ" if extra else "H", size
                    )[1]
                    if extra == 0:
                        small = face_for(held.face, label)
                        marks.append(Text(small, size * 80 // 100, label, self.box.left, y, held.colour, 0, "fact"))
                    marks.append(Text(face, size, one, self.box.left + column, y, strong.colour, 0, "fact"))
                    y += face.extent("g", size)[0]
            return top - y, tuple(marks)

        return Piece(set_at, ideal * 75 // 100)

    def small_print(self, ideal: int, without: Sequence[str] = ()) -> Piece | None:
        """Every paragraph of small print that is not said beside a symbol."""
        said = paragraphs(self.content, self.design, without, joined=not self.left_aligned)
        if not said:
            return None
        inks = self.design.type["info"].colour, self.design.type["caution"].colour
        zone = Zone(self.board.outline, Box(self.box.left, self.box.bottom, self.box.right, self.box.top), 0)
        align = "left" if self.left_aligned else "centre"

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            put = flow(said, zone.span, top, max(1900, ideal * scale // 100), align, self.content.lang, inks)
            return None if put is None else (top - put.bottom, put.marks)

        return Piece(set_at, ideal * 60 // 100)


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
    # A panel is read, not looked at: blocks of colour and pictures stay on the front.
    quiet = replace(design, base=None, side=None, band="none", frame=design.frame if recipe.framed else "none")
    bare = board(outline, quiet, bleed, dpi)
    choices = recipe.codes(content, quiet, dpi)
    column = Column(bare, _box(bare), content)
    ready = [(codes, _pieces(recipe, column, codes)) for codes in choices]
    short = 10**9
    # Symbols get lower and fewer before the words get small; only then do the words shrink to their least.
    for scales in ([s for s in recipe.scales if s >= COMFORT], [s for s in recipe.scales if s < COMFORT]):
        for codes, pieces in ready:
            for scale in scales:
                found, wanting = _set(column, pieces, codes, scale)
                if found is not None:
                    return _finished(bare, content.without(*recipe.silent), found, codes, choices[0])
                short = min(short, wanting)
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    said = (
        f"{short / 1000:.1f} mm of height are wanting at the least sizes"
        if short < 10**9
        else "one of its words is too long for a line"
    )
    raise LabelTooSmall(f"The {content.kind}", label, said, "Choose a larger label, or say less on this one.")


def _pieces(recipe: Recipe, column: Column, codes: list[Block]) -> list[Piece]:
    """The pieces of a column, less what the symbols say in their captions."""
    captioned = [block.words.role for block in codes if block.words]
    return [piece for piece in recipe.pieces(replace(column, content=column.content.without(*captioned))) if piece]


def _box(bare: Board) -> Box:
    outline, inset = bare.outline, bare.inset
    if outline.shape == "rectangle":
        return Box(inset, inset, outline.wide - inset, outline.high - inset)
    wide, high = (side * INSCRIBED // 1000 for side in (outline.wide - 2 * inset, outline.high - 2 * inset))
    left, bottom = (outline.wide - wide) // 2, (outline.high - high) // 2
    return Box(left, bottom, left + wide, bottom + high)


def _set(column: Column, pieces: list[Piece], codes: list[Block], scale: int):
    """Marks, or None and how much height was wanting."""
    box = column.box
    wide, high = block_size(codes, box.width, BLOCK_GAP)
    if wide > box.width:
        return None, 10**9
    floor = box.bottom + (high + BLOCK_GAP if codes else 0)
    marks: list[Mark] = []
    y = box.top
    for place, piece in enumerate(pieces):
        y -= piece.gap * scale // 100 if place else 0
        put = piece.set(scale, y)
        if put is None:
            return None, 10**9
        y -= put[0]
        marks += put[1]
    if y < floor:
        return None, floor - y
    spare = (y - floor) // 2 if not codes else 0
    ink, ground = column.design.type["info"].colour, column.design.under
    align = "left" if column.left_aligned else "centre"
    symbols = rows_marks(codes, box, BLOCK_GAP, align, ground, ink)
    return (*(shifted(mark, 0, -spare, column.board.dpi) for mark in marks), *symbols), 0


def _finished(bare: Board, content: LabelContent, found, codes: list[Block], fullest: list[Block]) -> Placed:
    design, (bx, by) = bare.design, bare.bleed
    ground = (
        (Shape(bare.outline.path(by, bx), fill=design.ground, behind=True, role="ground"),) if design.ground else ()
    )
    marks = (*ground, *(replace(mark, behind=True) for mark in bare.frame), *found)
    left_out = [block.kind for block in fullest if block.kind not in {code.kind for code in codes}]
    if [block.kind for block in codes] == ["case squares"]:
        left_out = ["case"]
    names = {"till": "the till number", "link": "the link", "bars": "the lot’s bars", "case": "the case’s bars"}
    notes = tuple(f"There was no room for {names.get(kind, kind)}." for kind in left_out)
    low = [
        block
        for block in codes
        if block.kind in ("till", "case") and block.bar_high < block.symbol.kind.least_height.um
    ]
    if content.number and is_own_till_number(content.number) and any(block.kind == "till" for block in codes):
        notes += (CAUTION,)
    notes += tuple(
        f"The bars of {block.symbol.text} are {block.bar_high / 1000:.1f} mm high; the standard asks {block.symbol.kind.least_height.mm} mm, "
        "and lower ones must be held just so to the scanner." for block in low
    )  # fmt: skip
    return Placed(
        content, design.name, bare.outline, marks, rows_of(content, marks, bare.outline, bare.inset), (), notes
    )
