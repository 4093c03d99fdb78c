"""Small print: paragraphs that fill their room from the top down.

What is said in several languages stands in as many columns where the room is wide enough, each line beside its twin;
one language above the other where it is not. All are of one size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from labelkit.labels.content import Height, LabelContent, Words
from labelkit.labels.design import Design
from labelkit.labels.heights import least_size
from labelkit.paper.fonts import face_for
from labelkit.paper.kept_together import kept_together
from labelkit.paper.line_breaking import DOT, Room, evened, filled
from labelkit.paper.marks import Colour, Mark, Text

INFO_ROLES = (
    "caution",
    "wording",
    "grade",
    "origin",
    "ingredients",
    "storage",
    "story",
    "address",
    "best_before",
    "lot",
)
HOUSE_LEAST = 1900
#: The least width of a language's column, the room between two, and how many times its size small print wants across.
#: Our own eye, no source.
LEAST_COLUMN, GUTTER, COLUMN_SIZES = 22_000, 2_200, 10
#: What had rather stand in one line.
WHOLE_LINES = ("best_before", "lot", "origin")
#: Neighbours with no gap between: one group.
GROUPED = {("best_before", "lot")}
SIZES = (4400, 3900, 3500, 3150, 2850, 2550, 2300, 2100, 1900)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph of small print: what it says and the least size it may be set in."""

    roles: str
    text: str
    face_key: str
    height: Height | None
    also: tuple[str, ...] = ()
    apart: bool = False  # what stands between two dots has a line of its own

    @property
    def texts(self) -> tuple[str, ...]:
        return (self.text, *self.also)

    def least(self) -> int:
        return max(least_size(face_for(self.face_key, text), text, self.height, HOUSE_LEAST) for text in self.texts)


@dataclass(frozen=True)
class Flow:
    """Small print as placed; ``bottom`` is where its ink ends."""

    marks: tuple[Mark, ...]
    top: int
    bottom: int


def paragraphs(
    content: LabelContent, design: Design, without: Sequence[str] = (), joined: bool = False, apart: bool = False
) -> list[Paragraph]:
    """The small print of a label, in reading order; ``joined`` puts short neighbours on one line, ``apart`` each part of
    the address on a line of its own."""
    held: list[Paragraph] = []
    for role in INFO_ROLES:
        if role in without:
            continue
        for words in content.every(role):
            held.append(_paragraph(role, words, design))
    return _joined(held) if joined else [replace(one, apart=apart and one.roles == "address") for one in held]


def lines_of(one: Paragraph) -> list[str]:
    """What of a paragraph each begins on a line of its own."""
    return [part for text in one.texts for part in (text.split(f" {DOT} ") if one.apart else (text,))]


def natural_width(held: Sequence[Paragraph], size: int) -> int:
    """The narrowest column in which nothing parts that is said in one line: an address's lines, a date, a lot."""
    return max(
        (
            face_for(one.face_key, part).width(part, max(size, one.least()))
            for one in held
            for text in lines_of(one)
            for part in ((text,) if one.apart or one.roles in WHOLE_LINES else kept_together(text))
        ),
        default=0,
    )


def _paragraph(role: str, words: Words, design: Design) -> Paragraph:
    style = design.type["caution" if role in ("caution", "wording") else "info"]
    return Paragraph(role, style.cased(words.text), style.face, words.height, tuple(map(style.cased, words.also)))


def _joined(held: list[Paragraph]) -> list[Paragraph]:
    """Short neighbours of one face and one height, with a centred dot between."""
    found: list[Paragraph] = []
    for one in held:
        last = found[-1] if found else None
        same = last and (last.face_key, last.height, len(last.also)) == (one.face_key, one.height, len(one.also))
        if last and same and len(last.text) + len(one.text) <= 62 and "address" not in (last.roles, one.roles):
            texts = [f"{before} · {after}" for before, after in zip(last.texts, one.texts, strict=True)]
            found[-1] = Paragraph(f"{last.roles}+{one.roles}", texts[0], one.face_key, one.height, tuple(texts[1:]))
        else:
            found.append(one)
    return found


def sizes_for(held: Sequence[Paragraph], most: int) -> list[int]:
    """Common sizes to try, the most comfortable first; the last is the least any paragraph allows."""
    least = max((one.least() for one in held), default=HOUSE_LEAST)
    return [size for size in SIZES if least < size <= most] + [least]


def flow(
    held: Sequence[Paragraph],
    room: Room,
    top: int,
    size: int,
    align: str,
    langs: Sequence[str],
    inks: tuple[Colour, Colour],
    columns: bool = True,
) -> Flow | None:
    """Set the paragraphs from ``top`` downwards; None when a line finds no room. ``inks``: plain, caution.

    ``columns`` tells that the room is as wide below as it is at the top, so that languages may stand side by side.
    """
    count = max((len(one.texts) for one in held), default=1)
    if columns and count > 1 and wide_enough(held, room, top, size):
        put = _flow(held, room, top, size, align, langs, inks, count)
        if put is not None:
            return put
    return _flow(held, room, top, size, align, langs, inks, 1)


def wide_enough(held: Sequence[Paragraph], room: Room, top: int, size: int) -> bool:
    """Whether every language gets a column no word is too long for."""
    count = max(len(one.texts) for one in held)
    span = room(top - size, top)
    if span is None:
        return False
    wide = _column(span, 0, count)
    longest = max(
        face_for(one.face_key, text).width(word, max(size, one.least()))
        for one in held
        for text in (one.texts if len(one.texts) == count else ())
        for word in kept_together(text)
    )
    return wide[1] - wide[0] >= max(LEAST_COLUMN, size * COLUMN_SIZES, longest)


def _column(span: tuple[int, int], place: int, count: int) -> tuple[int, int]:
    """The limits of one of so many columns.

    >>> _column((0, 50_000), 0, 2), _column((0, 50_000), 1, 2)
    ((0, 23900), (26100, 50000))
    """
    share = (span[1] - span[0] - GUTTER * (count - 1)) // count
    left = span[0] + place * (share + GUTTER)
    return left, left + share


def _flow(held, room: Room, top: int, size: int, align: str, langs, inks, columns: int) -> Flow | None:
    marks: list[Mark] = []
    cursor, bottom = top, top
    for place, one in enumerate(held):
        set_size = max(size, one.least())
        if place and (held[place - 1].roles, one.roles) not in GROUPED:
            cursor -= set_size * 45 // 100
        beside = columns if len(one.texts) == columns else 1
        ends: list[int] = []
        for number, text in enumerate(one.texts):
            start = cursor if beside > 1 or not number else ends[-1] - set_size * 12 // 100
            own = _column_of(room, number, beside)
            put = _paragraph_at(one, text, own, start, set_size, align, langs[min(number, len(langs) - 1)], inks)
            if put is None:
                return None
            marks += put.marks
            bottom = min(bottom, put.bottom)
            ends.append(put.top)
        cursor = min(ends)
    return Flow(tuple(marks), top, bottom)


def _column_of(room: Room, place: int, count: int) -> Room:
    """The room of one column."""
    if count == 1:
        return room

    def own(low: int, high: int) -> tuple[int, int] | None:
        span = room(low, high)
        return None if span is None else _column(span, place, count)

    return own


def _paragraph_at(one: Paragraph, text: str, room: Room, cursor: int, size: int, align: str, lang: str, inks):
    """One paragraph in one language; ``top`` of what comes back is where the next one may begin."""
    face = face_for(one.face_key, text)
    leading = size * 120 // 100
    low, high = face.extent("dpgÉH", size)
    set_lines, start = [], cursor
    for part in text.split(f" {DOT} ") if one.apart else (text,):
        lines = filled(part, face, size, start, leading, room, lang)
        if lines is None:
            return None
        set_lines += evened(part, lines)
        start = set_lines[-1][3] + high - leading
    strong = one.roles in ("caution", "wording")
    marks, bottom = [], cursor
    for line, left, right, baseline in set_lines:
        ink = line.ink
        x = left - ink.left if align == "left" else (left + right - ink.width) // 2 - ink.left
        marks.append(Text(face, size, line.text, x, baseline, inks[strong], 0, one.roles))
        bottom = min(bottom, baseline + min(0, ink.bottom))
    after = min(set_lines[-1][3] + high - leading, set_lines[-1][3] + low)
    return Flow(tuple(marks), after, bottom)
