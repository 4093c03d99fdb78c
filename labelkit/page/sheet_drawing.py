"""A sheet of labels drawn to scale, its places to be tapped off: a table whose cells are as wide and high as on paper."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from labelkit.labels.sheets import Sheet

#: So wide a page is drawn where its labels are large enough to be hit, in CSS pixels; and the least side of a place
#: (WCAG 2.2, 2.5.8 Target Size: 24 pixels). A telephone is at least MOST wide within its margins.
USUAL, LEAST, MOST = 190, 24, 330


@dataclass(frozen=True)
class SheetDrawing:
    """Widths of the columns and heights of the rows in pixels; a place's number at odd indices, bare paper between."""

    columns: tuple[int, ...]
    rows: tuple[int, ...]
    across: int
    shape: str

    def place(self, row: int, column: int) -> int:
        """The number of the place in a cell; nought where there is bare paper.

        >>> from labelkit.labels.sheets import sheet
        >>> drawing = sheet_drawing(sheet("letter-2x5-102x51"))
        >>> [drawing.place(row, column) for row, column in ((0, 1), (1, 1), (1, 3), (9, 3))]
        [0, 1, 2, 10]
        """
        return (row // 2) * self.across + column // 2 + 1 if row % 2 and column % 2 else 0


def sheet_drawing(paper: Sheet) -> SheetDrawing:
    """Draw a sheet: as on paper, larger where its labels would be too small to hit.

    >>> from labelkit.labels.sheets import sheet
    >>> drawing = sheet_drawing(sheet("letter-2x5-102x51"))
    >>> drawing.columns, sum(drawing.columns), sum(drawing.rows)
    ((3, 90, 4, 90, 3), 190, 246)
    """
    scale = max(USUAL / paper.page_wide, LEAST / min(paper.wide, paper.high))
    scale = min(scale, MOST / paper.page_wide)
    across = _edges(paper.left, paper.wide, paper.gap_x, paper.across, paper.page_wide)
    down = _edges(paper.top, paper.high, paper.gap_y, paper.down, paper.page_high)
    return SheetDrawing(_cells(across, scale), _cells(down, scale), paper.across, paper.shape)


def _edges(first: int, long: int, gap: int, count: int, page: int) -> list[int]:
    """Where each strip of bare paper and each label ends, in micrometres."""
    begins = [first + n * (long + gap) for n in range(count)]
    return [edge for begin in begins for edge in (begin, begin + long)] + [page]


def _cells(edges: list[int], scale: float) -> tuple[int, ...]:
    at = [0, *(round(edge * scale) for edge in edges)]
    return tuple(after - before for before, after in pairwise(at))
