"""Bars: one picture for the screen (SVG) and for paper, laid out once in whole tenths of a millimetre."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.paper.document_style import ACCENT, HAIR, INK, QUIET
from labelkit.paper.fonts import Box, face_for
from labelkit.paper.marks import Mark, Shape, Text, rectangle
from labelkit.shipped import render

TENTH = 100  # micrometres
NAMES, VALUES, ROW, BAR, HEAD = 380, 300, 78, 46, 110
TONES = {"bar": ACCENT, "rest": HAIR, "ink": INK, "quiet": QUIET}


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: a name, how long it is, how long it would be at most (None: no more than it is), and what it says."""

    name: str
    value: int
    says: str
    whole: int | None = None


@dataclass(frozen=True, slots=True)
class Laid:
    """A rectangle, y downwards."""

    x: int
    y: int
    wide: int
    high: int
    tone: str


@dataclass(frozen=True, slots=True)
class Word:
    """A word at a place on its baseline."""

    x: int
    y: int
    size: int
    anchor: str
    text: str
    tone: str = "ink"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything placed."""

    title: str
    wide: int
    high: int
    boxes: tuple[Laid, ...]
    words: tuple[Word, ...]


def picture(title: str, bars: Sequence[Bar], wide: int = 1700) -> Picture:
    """Bars under a title, the longest as long as there is room; values below nothing have no bar, only their figure.

    >>> one = picture("Sold", [Bar("one pound", 50, "50"), Bar("two pound", 25, "25")])
    >>> [box.wide for box in one.boxes]
    [1000, 500]
    """
    room = wide - NAMES - VALUES - 20
    longest = max((max(bar.value, bar.whole or 0) for bar in bars), default=0) or 1
    boxes, words = [], [Word(0, 52, 44, "start", title, strong=True)]
    for place, bar in enumerate(bars):
        y = HEAD + place * ROW
        if bar.whole and bar.whole > 0:
            boxes.append(Laid(NAMES, y, max(bar.whole * room // longest, 2), BAR, "rest"))
        if bar.value > 0:
            boxes.append(Laid(NAMES, y, max(bar.value * room // longest, 2), BAR, "bar"))
        words.append(Word(NAMES - 20, y + 36, 36, "end", short(bar.name)))
        words.append(Word(wide, y + 36, 36, "end", bar.says, strong=True))
    return Picture(title, wide, HEAD + len(bars) * ROW, tuple(boxes), tuple(words))


def short(name: str, most: int = 22) -> str:
    """A name cut to so many signs, with an ellipsis where something is missing.

    >>> short("Mill square market", 12)
    'Mill square…'
    """
    return name if len(name) <= most else f"{name[: most - 1].rstrip()}…"


def svg(drawn: Picture) -> str:
    """The picture as SVG, whole in itself."""
    colours = {tone: "#{:02x}{:02x}{:02x}".format(*colour) for tone, colour in TONES.items()}
    return render(
        "sale/bars.svg",
        title=drawn.title,
        wide=drawn.wide,
        high=drawn.high,
        boxes=drawn.boxes,
        words=drawn.words,
        colours=colours,
    )


def marks(drawn: Picture) -> tuple[list[Mark], int, int]:
    """The picture as marks for paper, and its width and height in micrometres."""
    high = drawn.high * TENTH
    made: list[Mark] = [
        Shape(
            rectangle(Box(b.x * TENTH, high - (b.y + b.high) * TENTH, (b.x + b.wide) * TENTH, high - b.y * TENTH)),
            fill=TONES[b.tone],
        )
        for b in drawn.boxes
    ]
    for word in drawn.words:
        face = face_for("sans-Semibold" if word.strong else "sans-Regular", word.text)
        size = word.size * TENTH
        shift = face.width(word.text, size) if word.anchor == "end" else 0
        made.append(Text(face, size, word.text, word.x * TENTH - shift, high - word.y * TENTH, TONES[word.tone]))
    return made, drawn.wide * TENTH, high
