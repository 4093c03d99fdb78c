"""The lines of nutrients: name and amount on the left, percentage on the right, a hair line between two of them.

With a second column each amount stands under its heading, the percentage at the right of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.labels.nutrition.pen import BOLD, REGULAR, Pen
from labelkit.labels.nutrition.words import Line


@dataclass(frozen=True, slots=True)
class Columns:
    """Where a second column makes columns of the first: how wide the names are, and one column of figures."""

    names: int
    figures: int

    @property
    def least(self) -> int:
        return self.names + 2 * self.figures


def columns(pen: Pen, lines: Sequence[Line], heads: Sequence[tuple[str, int]]) -> Columns:
    """Widths of names and figures; ``heads`` are texts over a column of figures with their sizes, set in bold."""
    size, gap = pen.sizes.nutrients, _gap(pen)
    names = max(_indent(pen, line) + pen.wide(line.name, _style(line), size) for line in lines)
    amounts = max(pen.wide(text, REGULAR, size) for line in lines for text in (line.amount, line.jar_amount))
    percents = max(pen.wide(text, BOLD, size) for line in lines for text in (line.percent, line.jar_percent))
    head = max(pen.wide(text, BOLD, head_size) for text, head_size in heads)
    return Columns(names + gap, max(amounts + gap + percents, head) + gap * 3 // 2)


def least_width(pen: Pen, lines: Sequence[Line]) -> int:
    """The least width of lines with one column of figures."""
    return max(
        (
            _end(pen, line) + (_gap(pen) + pen.wide(line.percent, BOLD, pen.sizes.nutrients) if line.percent else 0)
            for line in lines
        ),
        default=0,
    )


def set_lines(pen: Pen, lines: Sequence[Line], *, first_rule: bool = True, held: Columns | None = None) -> None:
    """Set nutrients downwards from the pen, with a hair line above each (the first only if wished)."""
    for place, line in enumerate(lines):
        if place or first_rule:
            # Over a line set in twice the rule is set in as well: that line is part of the one above it.
            pen.rule(pen.sizes.hair, _indent(pen, line) if line.level > 1 else 0)
        half = (pen.sizes.between_nutrients - pen.sizes.hair) // 2
        pen.y -= half
        baseline = pen.body(pen.sizes.nutrients)
        pen.y -= pen.sizes.between_nutrients - pen.sizes.hair - half
        _set(pen, line, baseline, held)


def _set(pen: Pen, line: Line, baseline: int, held: Columns | None) -> None:
    size, role = pen.sizes.nutrients, "facts_nutrient"
    end = pen.put(pen.left + _indent(pen, line), baseline, line.name, _style(line), size, role)
    if held is None:
        pen.put(end + (pen.wide(" ", REGULAR, size) if line.name else 0), baseline, line.amount, REGULAR, size, role)
        pen.put_right(pen.right, baseline, line.percent, BOLD, size, role)
        return
    gap = _gap(pen)
    for number, (amount, percent) in enumerate(((line.amount, line.percent), (line.jar_amount, line.jar_percent))):
        right = pen.right - held.figures * (1 - number)
        pen.put(right - held.figures + gap, baseline, amount, REGULAR, size, role)
        pen.put_right(right - (gap // 2 if not number else 0), baseline, percent, BOLD, size, role)


def _end(pen: Pen, line: Line) -> int:
    size = pen.sizes.nutrients
    amount = pen.wide(f" {line.amount}", REGULAR, size) if line.amount else 0
    return _indent(pen, line) + pen.wide(line.name, _style(line), size) + amount


def _style(line: Line) -> str:
    return BOLD if line.strong else REGULAR


def _indent(pen: Pen, line: Line) -> int:
    return line.level * pen.sizes.nutrients


def _gap(pen: Pen) -> int:
    return pen.sizes.nutrients * 3 // 4
