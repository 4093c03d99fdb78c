"""Small print: paragraphs that fill their room from the top down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.labels.content import Height, LabelContent, Words
from labelkit.labels.design import Design
from labelkit.labels.fit import Room, evened, filled
from labelkit.labels.fonts import face_for
from labelkit.labels.heights import least_size
from labelkit.labels.marks import Colour, Mark, Text

INFO_ROLES = ("caution", "wording", "grade", "origin", "ingredients", "storage", "address", "best_before", "lot")
HOUSE_LEAST = 1900
SIZES = (4400, 3900, 3500, 3150, 2850, 2550, 2300, 2100, 1900)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph of small print: what it says and the least size it may be set in."""

    roles: str
    text: str
    face_key: str
    height: Height | None

    def least(self) -> int:
        return least_size(face_for(self.face_key, self.text), self.text, self.height, HOUSE_LEAST)


@dataclass(frozen=True)
class Flow:
    """Small print as placed; ``bottom`` is where its ink ends."""

    marks: tuple[Mark, ...]
    top: int
    bottom: int


def paragraphs(
    content: LabelContent, design: Design, without: Sequence[str] = (), joined: bool = False
) -> list[Paragraph]:
    """The small print of a label, in reading order; ``joined`` puts short neighbours on one line."""
    held: list[Paragraph] = []
    for role in INFO_ROLES:
        if role in without:
            continue
        for words in content.every(role):
            held.append(_paragraph(role, words, design))
    return _joined(held) if joined else held


def _paragraph(role: str, words: Words, design: Design) -> Paragraph:
    style = design.type["caution" if role in ("caution", "wording") else "info"]
    return Paragraph(role, style.cased(" / ".join(words.all)), style.face, words.height)


def _joined(held: list[Paragraph]) -> list[Paragraph]:
    """Short neighbours of one face and one height, with a centred dot between."""
    found: list[Paragraph] = []
    for one in held:
        last = found[-1] if found else None
        same = last and (last.face_key, last.height) == (one.face_key, one.height)
        if same and len(last.text) + len(one.text) <= 62 and "address" not in (last.roles, one.roles):
            found[-1] = Paragraph(f"{last.roles}+{one.roles}", f"{last.text} · {one.text}", one.face_key, one.height)
        else:
            found.append(one)
    return found


def sizes_for(held: Sequence[Paragraph], most: int) -> list[int]:
    """Common sizes to try, the most comfortable first; the last is the least any paragraph allows."""
    least = max((one.least() for one in held), default=HOUSE_LEAST)
    return [size for size in SIZES if least < size <= most] + [least]


def flow(
    held: Sequence[Paragraph], room: Room, top: int, size: int, align: str, lang: str, inks: tuple[Colour, Colour]
) -> Flow | None:
    """Set the paragraphs from ``top`` downwards; None when a line finds no room. ``inks``: plain, caution."""
    marks: list[Mark] = []
    cursor, bottom = top, top
    for place, one in enumerate(held):
        face = face_for(one.face_key, one.text)
        set_size = max(size, one.least())
        leading = set_size * 122 // 100
        if place:
            cursor -= set_size * 30 // 100
        lines = filled(one.text, face, set_size, cursor, leading, room, lang)
        if lines is None:
            return None
        strong = one.roles in ("caution", "wording")
        for line, left, right, baseline in evened(one.text, lines):
            ink = line.ink
            x = left - ink.left if align == "left" else (left + right - ink.width) // 2 - ink.left
            marks.append(Text(face, set_size, line.text, x, baseline, inks[strong], 0, one.roles))
            bottom = min(bottom, baseline + min(0, ink.bottom))
        low, high = face.extent("dpgÉH", set_size)
        cursor = lines[-1][3] + high - leading
        cursor = min(cursor, lines[-1][3] + low)
    return Flow(tuple(marks), top, bottom)
