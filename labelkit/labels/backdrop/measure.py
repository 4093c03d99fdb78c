"""What really lies behind the letters of a label: its page drawn without them, and measured.

Contrast is that of the Web Content Accessibility Guidelines 2.2 (relative luminance), held by every spot behind and
between the letters of a line. What stands out from the ground of a text by 3 to 1 (the same, 1.4.11, the least for
what must be seen beside words) counts as print that the net quantity has to keep clear of.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from labelkit.labels.design import LEAST_CONTRAST, luminance, ratio
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Colour, Mark, Text
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import page_picture

if TYPE_CHECKING:
    import numpy as np

#: Spots to a millimetre: one is as wide as the stroke of the smallest letters.
PER_MM = 5
#: How far round the ink of a line its ground is measured, micrometres.
ROUND = 250
SEEN = 3
#: The least field worth trying, millimetres across and up.
LEAST_FIELD = (12, 6)


@dataclass(frozen=True, eq=False)
class Ground:
    """The luminance of every spot of a label, rows from the top; nothing of its letters."""

    outline: Outline
    light: np.ndarray

    def under(self, box: Box) -> np.ndarray:
        """The spots of a box, as far as they lie on the label."""
        high, wide = self.light.shape
        across, up = wide / self.outline.wide, high / self.outline.high
        left, right = max(0, int(box.left * across)), min(wide, -int(-box.right * across // 1))
        top, bottom = max(0, int(high - box.top * up)), min(high, -int(-(high - box.bottom * up) // 1))
        return self.light[min(top, high - 1) : max(bottom, top + 1), min(left, wide - 1) : max(right, left + 1)]

    def contrast(self, text: Text) -> float:
        """By how much the letters of a line stand out from the spot behind them that is nearest to their colour."""
        ink, under = luminance(text.colour), self.under(text.box.grown(ROUND))
        return min(ratio(ink, float(under.min())), ratio(ink, float(under.max()))) if _beyond(ink, under) else 1.0

    def clear(self, box: Box, beside: bool, within: Box) -> int:
        """How far a box is from what stands out of its own ground, above and below or beside, micrometres; as far as the
        label goes where nothing does. ``within`` is the ground it stands on: the label, or one of its own."""
        import numpy as np

        own = float(np.median(self.under(box)))
        room = (
            replace(box, left=within.left, right=within.right)
            if beside
            else replace(box, bottom=within.bottom, top=within.top)
        )
        lines = self.under(room)
        seen = (np.maximum(lines, own) + 0.05) / (np.minimum(lines, own) + 0.05) >= SEEN
        places = np.flatnonzero(seen.any(axis=0 if beside else 1))
        long = within.width if beside else within.height
        spot = long / lines.shape[1 if beside else 0]
        low, high = (
            (box.left - within.left, box.right - within.left)
            if beside
            else (within.top - box.top, within.top - box.bottom)
        )
        gaps = [max(0, int(place * spot) - high, low - int((place + 1) * spot)) for place in places]
        return min(gaps, default=self.outline.wide if beside else self.outline.high)


def _beyond(ink: float, under: np.ndarray) -> bool:
    """Whether all spots are on one side of the ink: all lighter or all darker."""
    return bool(under.min() >= ink or under.max() <= ink)


def ground_of(marks: Iterable[Mark], outline: Outline, dpi: int = 600) -> Ground:
    """Everything of a label but its letters and the lines that part them, drawn as it prints and measured, on white paper."""
    writer = PdfWriter("ground", dpi=dpi)
    writer.page(outline.wide, outline.high)
    writer.draw([mark for mark in marks if not isinstance(mark, Text) and mark.role != "frame"])
    return measured(page_picture(writer.finish(), 1, PER_MM * 25.4), outline)


def measured(picture, outline: Outline) -> Ground:
    """The luminance of a picture of a label."""
    import numpy as np

    parts = np.asarray(picture.convert("RGB"), dtype=np.float32) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return Ground(outline, linear @ np.array([0.2126, 0.7152, 0.0722], dtype=np.float32))


def calm_fields(ground: Ground, inks: Iterable[Colour], margin: int) -> list[tuple[int, Box]]:
    """The rectangles on which one of the inks can be read all over, the largest first, with the
    area in square millimetres."""
    import numpy as np

    rows, columns = (side // PER_MM for side in ground.light.shape)
    cells = ground.light[: rows * PER_MM, : columns * PER_MM].reshape(rows, PER_MM, columns, PER_MM)
    low, high = cells.min(axis=(1, 3)), cells.max(axis=(1, 3))
    places = [_cell(ground, row, column) for row in range(rows) for column in range(columns)]
    inside = np.array([ground.outline.holds(cell, margin) for cell in places]).reshape(rows, columns)
    found: dict[Box, int] = {}
    for ink in map(luminance, inks):
        lighter = (low + 0.05) / (ink + 0.05) >= LEAST_CONTRAST
        darker = (ink + 0.05) / (high + 0.05) >= LEAST_CONTRAST
        for left, top, right, bottom in _rectangles((lighter | darker) & inside):
            wide, tall = right - left, bottom - top
            if wide >= LEAST_FIELD[0] and tall >= LEAST_FIELD[1]:
                corners = _cell(ground, bottom - 1, left), _cell(ground, top, right - 1)
                found[Box(corners[0].left, corners[0].bottom, corners[1].right, corners[1].top)] = wide * tall
    return sorted(
        ((area, box) for box, area in found.items()), key=lambda pair: (-pair[0], pair[1].bottom, pair[1].left)
    )


def _cell(ground: Ground, row: int, column: int) -> Box:
    """A square millimetre of a label, counted from its left and upper edge."""
    top = ground.outline.high - row * 1000
    return Box(column * 1000, top - 1000, (column + 1) * 1000, top)


def _rectangles(free: np.ndarray) -> set[tuple[int, int, int, int]]:
    """The rectangles of free cells that cannot grow: first column and row, and those after the last. By histograms."""
    rows, columns = free.shape
    heights, found = [0] * columns, set()
    for row in range(rows):
        heights = [heights[column] + 1 if free[row, column] else 0 for column in range(columns)]
        stack: list[tuple[int, int]] = []
        for column, height in enumerate([*heights, 0]):
            start = column
            while stack and stack[-1][1] >= height:
                start, high = stack.pop()
                if high > height:
                    found.add((start, row + 1 - high, column, row + 1))
            if height:
                stack.append((start, height))
    return found
