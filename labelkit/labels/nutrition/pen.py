"""Type and lines of a panel, set from the top down. Micrometres; y is 0 at the top edge and falls.

A line of type of size s takes s of height; its baseline lies four fifths of s below its top, so that the space between
lines, which the law gives in points, is the space between those bodies of type.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil

from labelkit.paper.fonts import Box, Face, face
from labelkit.paper.line_breaking import filled
from labelkit.paper.marks import BLACK, WHITE, Mark, Shape, Text, rectangle, shifted
from labelkit.rules.figures.nutrition_displays import TypeSizes

REGULAR, BOLD, BLACK_FACE = "Regular", "Bold", "Black"


def um(mm: Decimal, percent: int = 100) -> int:
    """Whole micrometres, rounded up, so that type is never smaller than asked.

    >>> um(Decimal("2.8222222"))
    2823
    """
    return ceil(mm * 10 * percent)


@dataclass(frozen=True, slots=True)
class Sizes:
    """Type sizes and lines of one panel in micrometres: the law's least, or all of them larger by the same measure."""

    calories: int
    number: int
    servings: int
    serving: int
    nutrients: int
    notes: int
    between_nutrients: int
    between_others: int
    box: int
    heavy: int
    medium: int
    hair: int
    margin: int

    @classmethod
    def of(cls, least: TypeSizes, percent: int = 100) -> Sizes:
        type_ = (least.calories, least.number, least.servings, least.serving, least.nutrients, least.notes)
        space = (least.between_nutrients, least.between_others)
        lines = (um(least.lines[name]) for name in ("box", "heavy", "medium", "hair", "margin"))
        return cls(*(um(mm, percent) for mm in (*type_, *space)), *lines)


@dataclass(frozen=True)
class Laid:
    """A panel as laid out: marks from its lower left corner, and how large it is with its box."""

    marks: tuple[Mark, ...]
    wide: int
    high: int

    def at(self, x: int, y: int) -> tuple[Mark, ...]:
        return tuple(shifted(mark, x, y, 600) for mark in self.marks)


@dataclass
class Pen:
    """Sets type and lines between two edges; ``y`` is where the next thing begins."""

    family: str
    sizes: Sizes
    left: int
    right: int
    y: int = 0

    def __post_init__(self) -> None:
        self.marks: list[Mark] = []

    @property
    def width(self) -> int:
        return self.right - self.left

    def face(self, style: str) -> Face:
        return face(f"{self.family}-{style}")

    def wide(self, text: str, style: str, size: int) -> int:
        return self.face(style).width(text, size) if text else 0

    def size_to_fill(self, text: str, style: str) -> int:
        """The size at which the ink of a text is as wide as the room."""
        large = 10**6
        return self.width * large // self.face(style).ink(text, large).width

    def column(self, left: int, right: int) -> Pen:
        """Another pen beside this one, beginning at the same height and setting onto the same panel."""
        other = replace(self, left=left, right=right)
        other.marks = self.marks
        return other

    def put(self, x: int, baseline: int, text: str, style: str, size: int, role: str) -> int:
        """A text from x on; returns where it ends."""
        if not text:
            return x
        self.marks.append(Text(self.face(style), size, text, x, baseline, BLACK, 0, role))
        return x + self.wide(text, style, size)

    def put_right(self, x: int, baseline: int, text: str, style: str, size: int, role: str) -> None:
        """A text that ends at x."""
        if text:
            self.put(x - self.face(style).ink(text, size).right, baseline, text, style, size, role)

    def body(self, size: int) -> int:
        """Take the height of a line of type; returns its baseline."""
        baseline = self.y - size * 4 // 5
        self.y -= size
        return baseline

    def rule(self, weight: int, indent: int = 0) -> None:
        """A line across at this height."""
        box = Box(self.left + indent, self.y - weight, self.right, self.y)
        self.marks.append(Shape(rectangle(box), fill=BLACK, role="rule"))
        self.y -= weight

    def paragraph(self, text: str, style: str, size: int, role: str) -> None:
        """A text in as many lines as it needs, a point or more between them."""
        step = size + self.sizes.between_others
        lines = filled(text, self.face(style), size, 0, step, lambda low, high: (self.left, self.right), "en")
        for line, left, _, _ in lines or ():
            self.put(left, self.body(size), line.text, style, size, role)
            self.y -= self.sizes.between_others
        self.y += self.sizes.between_others

    def notes(self, notes: Sequence[str]) -> None:
        """Footnotes, one under another."""
        for place, note in enumerate(notes):
            self.y -= self.sizes.between_others * 2 if place else 0
            self.paragraph(note, REGULAR, self.sizes.notes, "facts_note")

    def run(self, pieces: Sequence[str], style: str, size: int, role: str) -> None:
        """Pieces that are not to be broken, as many to a line as fit."""
        line = ""
        for piece in (*pieces, None):
            longer = f"{line} {piece}".strip() if piece else ""
            if line and (piece is None or self.wide(longer, style, size) > self.width):
                self.put(self.left, self.body(size), line, style, size, role)
                self.y -= self.sizes.between_others
                longer = piece or ""
            line = longer
        self.y += self.sizes.between_others


def boxed(marks: Sequence[Mark], wide: int, high: int, sizes: Sizes) -> Laid:
    """Marks whose top edge is 0, in their box on white, from the lower left corner."""
    half = sizes.box // 2
    edge = rectangle(Box(half, half, wide - half, high - half))
    ground = Shape(rectangle(Box(0, 0, wide, high)), fill=WHITE, behind=True, role="ground")
    frame = Shape(edge, stroke=BLACK, width=sizes.box, behind=True, role="panel")
    return Laid((ground, frame, *(shifted(mark, 0, high, 600) for mark in marks)), wide, high)
