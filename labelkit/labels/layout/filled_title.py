"""A title of type alone: maker, name and line each fill one measure exactly, the name's last line knocked out of a bar.

Each line is set in the face that fills the measure at a height that fits: a wide one for short words, a tall one for long
words. What a capped height leaves of the measure is filled by letters set apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from labelkit.labels.content import LabelContent, Words
from labelkit.labels.design import Design, Type
from labelkit.labels.heights import least_size, upper
from labelkit.labels.outline import Zone
from labelkit.paper.fonts import Face, face_for
from labelkit.paper.kept_together import kept_together
from labelkit.paper.line_breaking import even_lines
from labelkit.paper.marks import Text

#: Between lines, above and below the letters in the bar, and how far letters are set apart at the most, in thousandths.
GAP, PAD, SPREAD, LINE_SPREAD = 1_550, 2_000, 250, 300
#: The most of the label's height a line of the name takes, in hundredths; how finely less is tried.
CAPPED, STEP = 29, 94
#: The name in a wide face up to so many letters.
WIDE_FACE, SHORT = "block-Regular", 6


@dataclass(frozen=True)
class Filled:
    """The lines as placed, the size of the name's largest line, and how far down they reach."""

    marks: tuple[Text, ...]
    size: int
    bottom: int


def filled_title(content: LabelContent, design: Design, zone: Zone, least: int) -> Filled | None:
    """The title as high as its room lets it be; None where the name comes out under its least size, or speaks two
    languages, or a logo stands over it."""
    name = content.the("name")
    if name.also or content.logo is not None or zone.outline.shape != "rectangle":
        return None
    cap = zone.outline.high * CAPPED // 100
    while cap > 2_000:
        for rows in _divided(upper(name.text), design.type["name"]):
            found = _at(content, design, zone, rows, cap, least)
            if found is not None:
                return found
        cap = cap * STEP // 100
    return None


def _divided(text: str, held: Type) -> Iterator[tuple[tuple[str, str], ...]]:
    """Ways to set the name: its last word alone in the bar, the others on one line or two; each row with its face."""
    words = kept_together(text)
    last = words[-1]
    heads: list[tuple[str, ...]] = [()] if len(words) == 1 else [(" ".join(words[:-1]),)]
    if len(words) > 3:
        split = even_lines(heads[0][0], face_for(held.face, text), 2)
        heads += [split] if split else []
    for head in heads:
        rows = tuple((row, held.face) for row in head)
        yield (*rows, (last, held.face))
        if len(last) <= SHORT:
            yield (*rows, (last, WIDE_FACE))


def _row(text: str, face: Face, measure: int, cap: int, spread: int) -> tuple[int, int]:
    """Size and tracking of a line that fills the measure, its capitals no higher than ``cap``."""
    size = min(measure * face.units // max(1, face.span(text)), cap * face.units // face.extent("H", face.units)[1])
    rest = measure - face.ink(text, size).width
    tracking = min(max(0, rest // max(1, len(text) - 1)), size * spread // 1000)
    return size, tracking


def _at(content: LabelContent, design: Design, zone: Zone, rows, cap: int, least: int) -> Filled | None:
    measure, y = zone.box.width, zone.box.top
    marks: list[Text] = []
    for words in content.every("maker"):
        y = _line(marks, zone, y, words, design.type["maker"], SPREAD)
    held, largest = design.type["name"], 0
    barred = design.base is not None
    for place, (text, key) in enumerate(rows):
        face, in_bar = face_for(key, text), barred and place == len(rows) - 1
        size, tracking = _row(text, face, measure - (2 * PAD if in_bar else 0), cap, SPREAD)
        ink = face.ink(text, size, tracking)
        filled = ink.width >= (measure - (2 * PAD if in_bar else 0)) * 90 // 100
        if size < least or (not filled and len(text) > 3):
            return None
        y -= (GAP if marks else 0) + (PAD if in_bar else 0) + max(face.extent("H", size)[1], ink.top)
        x = zone.box.left + (measure - ink.width) // 2 - ink.left
        colour = held.on_base if in_bar and held.on_base else held.colour
        marks.append(Text(face, size, text, x, y, colour, tracking, "name"))
        y -= (PAD if in_bar else 0) + max(0, -ink.bottom if ink.bottom < -size // 20 else 0)
        largest = max(largest, size)
    for words in content.every("line"):
        y = _line(marks, zone, y, words, design.type["line"], LINE_SPREAD)
    return Filled(tuple(marks), largest, y) if y >= zone.box.bottom else None


def _line(marks: list[Text], zone: Zone, y: int, words: Words, held: Type, spread: int) -> int:
    """A line of the maker or of the maker's own words, filled out to the measure; where the next may begin: nowhere, if
    it is too long for the measure."""
    text = held.cased(" · ".join(words.all))
    face, measure = face_for(held.face, text), zone.box.width
    least = least_size(face, text, words.height, 1_700)
    most = max(least, min(5_200, zone.outline.high * 8 // 100))
    size, tracking = _row(text, face, measure, face.extent("H", most)[1], spread)
    size = max(size, least)
    if face.width(text, size) > measure:
        return zone.box.bottom - 1
    ink = face.ink(text, size, tracking)
    y -= (GAP if marks else 0) + max(face.extent("H", size)[1], ink.top)
    marks.append(Text(face, size, text, zone.box.left - ink.left, y, held.colour, tracking, words.role))
    return y
