"""A column of a panel: lines, rules, facts and small print, each a piece that is set at a scale below what stands above it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from labelkit.labels.content import Height, LabelContent
from labelkit.labels.design import Design, Type
from labelkit.labels.fit import even_lines
from labelkit.labels.fonts import Box, face_for
from labelkit.labels.heights import least_size
from labelkit.labels.marks import Mark, Shape, Text, line
from labelkit.labels.place.board import Board
from labelkit.labels.place.flow import flow, paragraphs


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
        align = "left" if self.left_aligned else "centre"

        def room(low: int, high: int) -> tuple[int, int]:
            # As far down as it runs: how much is wanting is seen by whoever set the column.
            return self.box.left, self.box.right

        def set_at(scale: int, top: int) -> tuple[int, tuple[Mark, ...]] | None:
            put = flow(said, room, top, max(1900, ideal * scale // 100), align, self.content.lang, inks)
            return None if put is None else (top - put.bottom, put.marks)

        return Piece(set_at, ideal * 60 // 100)
