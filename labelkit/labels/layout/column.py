"""A column of a panel: lines, rules, facts and small print, each a piece that is set at a scale below what stands above it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from labelkit.labels.content import Height, LabelContent
from labelkit.labels.design import Design, Type
from labelkit.labels.heights import least_size
from labelkit.labels.layout.board import Board
from labelkit.labels.layout.flow import GUTTER, flow, paragraphs
from labelkit.paper.fonts import Box, face_for
from labelkit.paper.line_breaking import even_lines
from labelkit.paper.marks import Colour, Mark, Shape, Text, line

#: The kinds whose words stand on one left axis in every design.
RANGED = ("back", "tag", "case")
#: From line to line of a list of facts, in hundredths of its size, and the hair line between.
HAIR = 150


@dataclass(frozen=True)
class Piece:
    """One thing of the column: how high it is at a scale (in hundredths) and its marks below a top edge; None: no room."""

    set: Callable[[int, int], tuple[int, tuple[Mark, ...]] | None]
    gap: int


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
        return self.board.align == "left" or self.content.kind in RANGED

    def line(
        self, role: str, texts: Sequence[str], held: Type, ideal: int, height: Height | None = None, lines: int = 2
    ) -> Piece:
        """A text in one or more large lines; in several languages side by side, or one above the other."""
        cased = [held.cased(text) for text in texts]
        faces = [face_for(held.face, text) for text in cased]
        least = max(least_size(face, text, height, 1700) for face, text in zip(faces, cased, strict=True))

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            size = max(least, ideal * scale // 100)
            tracking = size * held.tracking // 1000
            for count in range(1, lines + 1):
                for columns in dict.fromkeys((len(texts), 1)):
                    room = (self.box.width - GUTTER * (columns - 1)) // columns
                    # A language of fewer words than lines keeps to one.
                    found = [even_lines(text, face, count) or (text,) for text, face in zip(cased, faces, strict=True)]
                    widths = (
                        face.width(one, size, tracking)
                        for face, those in zip(faces, found, strict=True)
                        for one in those
                    )
                    if max(widths) <= room:
                        return self._set(role, found, faces, size, tracking, held, top, columns, room)
            return None

        return Piece(set_at, max(1400, ideal * 42 // 100))

    def _set(self, role, texts, faces, size, tracking, held, top, columns, room) -> tuple[int, tuple[Mark, ...]]:
        marks, lowest, y = [], top, top
        for number, (lines, face) in enumerate(zip(texts, faces, strict=True)):
            left = self.box.left + (room + GUTTER) * (number if columns > 1 else 0)
            y = top if columns > 1 else y
            for one in lines:
                ink = face.ink(one, size, tracking)
                y -= (size * 28 // 100 if y != top else 0) + max(face.extent("H", size)[1], ink.top)
                x = left if self.left_aligned else left + (room - ink.width) // 2
                marks.append(Text(face, size, one, x - ink.left, y, held.colour, tracking, role))
                y += min(0, ink.bottom)
            lowest = min(lowest, y)
        return top - lowest, tuple(marks)

    def headline(self, capitals: int, beside: int) -> Piece | None:
        """The name on one line with capitals so high, and the maker in italics ranged right on the same baseline; None for
        a name in several languages."""
        name, maker = self.content.the("name"), self.content.the("maker")
        if len(name.all) > 1 or len(maker.all) > 1:
            return None
        held, soft = self.design.type["name"], self.design.type["line"]
        text, face = held.cased(name.text), face_for(held.face, name.text)
        other, italic = maker.text, face_for(soft.face, maker.text)
        least = least_size(face, text, name.height, 1700), least_size(italic, other, maker.height, 1700)
        ideal = capitals * face.units // face.extent("H", face.units)[1]

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            size, small = max(least[0], ideal * scale // 100), max(least[1], beside * scale // 100)
            ink, end = face.ink(text, size), italic.ink(other, small)
            if ink.width + end.width + 2 * small // 3 > self.box.width:
                return None
            y = top - max(face.extent("H", size)[1], ink.top)
            marks = (
                Text(face, size, text, self.box.left - ink.left, y, held.colour, 0, "name"),
                Text(italic, small, other, self.box.right - end.right, y, soft.colour, 0, "maker"),
            )
            return top - y - min(0, ink.bottom), marks

        return Piece(set_at, 2_600)

    def rule(self) -> Piece:
        """A hair line across."""
        colour = self._hair

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]]:
            path = line(self.box.left, top - 80, self.box.right, top - 80)
            return 160, (Shape(path, stroke=colour, width=160, role="rule"),)

        return Piece(set_at, 2000)

    @property
    def _hair(self) -> Colour:
        """The colour of hair lines."""
        palette = self.design.palette
        return palette[-1] if self.design.prints == "black" else palette[1 % len(palette)]

    def facts(self, rows: Sequence[tuple[str, str]], ideal: int) -> Piece:
        """Labels on the left, values in bold on the right of them."""
        held, strong = self.design.type["info"], self.design.type["net"]

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            size = max(2000, ideal * scale // 100)
            column = (
                max(face_for(held.face, label).width(label, size * 80 // 100) for label, _ in rows) + size * 9 // 10
            )
            marks: list[Mark] = []
            y = top
            for place, (label, value) in enumerate(rows):
                if place:
                    across = line(self.box.left, y - size * 32 // 100, self.box.right, y - size * 32 // 100)
                    marks.append(Shape(across, stroke=self._hair, width=HAIR, role="rule"))
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
                    y -= (size * (16 if extra else 64) // 100 if place or extra else 0) + face.extent(
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
        align = "left" if self.left_aligned else "centre"

        def room(low: int, high: int) -> tuple[int, int]:
            # As far down as it runs: how much is wanting is seen by whoever set the column.
            return self.box.left, self.box.right

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            put = flow(said, room, top, max(1900, ideal * scale // 100), align, self.content.spoken, inks)
            return None if put is None else (top - put.bottom, put.marks)

        return Piece(set_at, ideal * 60 // 100)
