"""A placed label: its marks, and the table of what was required and what was placed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.labels.content import LabelContent, Words
from labelkit.labels.heights import height_of
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box, around
from labelkit.paper.marks import Mark, Text

WHERE = {
    "name": "product name",
    "net": "net quantity",
    "maker": "maker",
    "address": "address",
    "lot": "lot mark",
    "best_before": "date mark",
    "caution": "infant caution",
    "origin": "origin",
    "ingredients": "ingredients",
    "grade": "grade",
    "wording": "prescribed wording",
    "storage": "storage",
    "story": "story",
    "line": "other words",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table of heights; millimetres. ``ok`` is False where the label falls short."""

    item: str
    text: str
    required: Decimal | None
    placed: Decimal
    measured: str
    where: str
    clause: str
    sure: str
    ok: bool

    def as_dict(self) -> dict:
        return {
            "item": self.item,
            "text": self.text,
            "required_mm": self.required,
            "placed_mm": self.placed,
            "measured_on": self.measured,
            "where": self.where,
            "clause": self.clause,
            "sure": self.sure,
            "ok": self.ok,
        }


@dataclass(frozen=True, slots=True)
class OnArtwork:
    """How the words stand on the maker's artwork: its least contrast and whose it is, where the words were put, how far
    the picture runs over the edges (at the sides, at top and bottom), and how many of its dots come to an inch."""

    name: str
    contrast: Decimal
    of: str
    boxes: tuple[Box, ...]
    over: tuple[int, int]
    dots: int


@dataclass(frozen=True)
class Placed:
    """One label, ready to draw. ``moved`` names what did not fit and belongs on another label of the set."""

    content: LabelContent
    design: str
    outline: Outline
    marks: tuple[Mark, ...]
    rows: tuple[Row, ...]
    moved: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    on: OnArtwork | None = None

    @property
    def ok(self) -> bool:
        return all(row.ok for row in self.rows)


def texts_of(marks: Sequence[Mark], role: str) -> list[Text]:
    """The lines that say a role; a line may say two, written ``grade+origin``."""
    return [mark for mark in marks if isinstance(mark, Text) and role in mark.role.split("+")]


def mm(um: int) -> Decimal:
    return Decimal(um) / 1000


def rows_of(content: LabelContent, marks: Sequence[Mark], outline: Outline, inset: int) -> tuple[Row, ...]:
    """The table of heights, from the marks as they stand."""
    rows = [row for words in content.words for row in _height_rows(words, marks, content.kind)]
    return (*rows, *_net_rows(content, marks, outline))


def _height_rows(words: Words, marks: Sequence[Mark], kind: str):
    set_lines = texts_of(marks, words.role)
    if not set_lines or (words.height is None and not words.must):
        return
    rule = words.height.measured if words.height else "letters"
    # A line may be shared, and then holds more than these words; a line of their own may be set in capitals.
    shared = any("+" in line.role for line in set_lines)
    # Another script may stand in another face, and is measured on letters of its own.
    placed = min(
        height_of(line.face, text, line.size, rule)
        for line in set_lines
        for text in (_measured(words, line, set_lines, shared),)
    )
    required = words.height.least.um if words.height else None
    yield Row(
        WHERE.get(words.role, words.role),
        " / ".join(words.all),
        None if required is None else mm(required),
        mm(placed),
        rule,
        kind,
        words.height.clause if words.height else "",
        words.height.sure if words.height else "",
        required is None or placed >= required,
    )


def _measured(words: Words, line: Text, lines: Sequence[Text], shared: bool) -> str:
    """The text whose letters are measured on a line: all that stands in its face and size."""
    if shared:
        return " ".join(text for text in words.all if line.face.covers(text)) or line.text
    return " ".join(other.text for other in lines if (other.face, other.size) == (line.face, line.size))


def net_box(marks: Sequence[Mark]) -> Box | None:
    lines = texts_of(marks, "net")
    return around(line.box for line in lines) if lines else None


def _net_rows(content: LabelContent, marks: Sequence[Mark], outline: Outline):
    """Place, clear space and proportion of the net quantity, where the market's law asks for them."""
    rule, box = content.net_rule, net_box(marks)
    if box is None:
        return
    lines = texts_of(marks, "net")
    text = lines[0].text
    if rule.bottom_share is not None:
        limit = int(outline.high * rule.bottom_share)
        yield Row(
            "net quantity, place",
            text,
            mm(limit),
            mm(box.top),
            "top of its letters above the lower edge, at most",
            "bottom of the label",
            rule.clause,
            rule.sure,
            box.top <= limit,
        )
    others = [
        mark.box
        for mark in marks
        if not getattr(mark, "behind", False) and getattr(mark, "role", "") not in ("net", "frame", "ornament")
    ]
    if rule.clear_heights:
        letter = height_of(lines[0].face, text, lines[0].size, "letters")
        needed = int(letter * rule.clear_heights)
        found = clear_above_and_below(box, others, outline)
        yield Row(
            "net quantity, clear above and below",
            text,
            mm(needed),
            mm(found),
            "to the nearest other words",
            "round the net quantity",
            rule.clause,
            rule.sure,
            found >= needed,
        )
    if rule.clear_n_widths:
        needed = int(rule.clear_n_widths * lines[0].face.letter_width("N") * lines[0].size / lines[0].face.units)
        found = clear_beside(box, others, outline)
        yield Row(
            "net quantity, clear left and right",
            text,
            mm(needed),
            mm(found),
            "to the nearest other words",
            "round the net quantity",
            rule.clause,
            rule.sure,
            found >= needed,
        )
    if rule.most_proportion is not None:
        worst = max(_proportion(line) for line in lines)
        yield Row(
            "net quantity, height to width",
            text,
            Decimal(rule.most_proportion),
            worst,
            "the narrowest of its letters, at most",
            "letters of the net quantity",
            rule.clause,
            rule.sure,
            worst <= rule.most_proportion,
        )


def clear_above_and_below(box: Box, others: Sequence[Box], outline: Outline) -> int:
    """The least distance upwards or downwards to other words that stand above or below; the label's height if none."""
    gaps = [outline.high]
    for other in others:
        if other.left < box.right and box.left < other.right:
            gaps.append(max(other.bottom - box.top, box.bottom - other.top))
    return min(gaps)


def clear_beside(box: Box, others: Sequence[Box], outline: Outline) -> int:
    """The least distance sideways to other words on the same height; the label's width if none."""
    gaps = [outline.wide]
    for other in others:
        if other.bottom < box.top and box.bottom < other.top:
            gaps.append(max(other.left - box.right, box.left - other.right))
    return min(gaps)


def _proportion(line: Text) -> Decimal:
    """Height over width of the narrowest letter that is not a bare stroke (I, l, i, j, t, f, r, 1)."""
    worst = Decimal(0)
    for sign in set(line.text):
        outline = line.face.outline(sign)
        if outline and sign.isalpha() and sign not in "IlijtfrJ":
            worst = max(worst, Decimal(outline[3] - max(0, outline[1])) / (outline[2] - outline[0]))
    return worst.quantize(Decimal("0.01"))
