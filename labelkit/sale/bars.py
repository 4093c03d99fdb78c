"""Bars: one picture for the screen (SVG) and for paper, laid out in tenths of a millimetre."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.paper.document_style import ACCENT, HAIR, INK
from labelkit.paper.fonts import Box
from labelkit.paper.marks import WHITE, Mark, Shape, rectangle
from labelkit.paper.sketch import Sketch
from labelkit.paper.svg import svg

TENTH = 100  # micrometres
NAMES, VALUES, ROW, BAR, HEAD = 380, 300, 78, 46, 110


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: a name, how long it is, how long it would be at most (None: no more than it is), and what it says."""

    name: str
    value: int
    says: str
    whole: int | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """Bars as marks, on a page of that size in micrometres."""

    title: str
    marks: tuple[Mark, ...]
    wide: int
    high: int


def picture(title: str, bars: Sequence[Bar], wide: int = 1700) -> Picture:
    """Bars under a title, the longest as long as there is room; values below nothing have no bar, only their figure.

    >>> one = picture("Sold", [Bar("one pound", 50, "50"), Bar("two pound", 25, "25")])
    >>> [mark.box.width for mark in one.marks if mark.role == "bar"]
    [100000, 50000]
    """
    return pictures_together(title, [("", bars)], wide)


def pictures_together(title: str, groups: Sequence[tuple[str, Sequence[Bar]]], wide: int = 1700) -> Picture:
    """Several groups of bars under one title, each under its own heading and to a length of its own.

    >>> both = pictures_together("Years", [("Sold", [Bar("2025", 5, "5")]), ("Given", [Bar("2025", 1, "1")])])
    >>> [mark.box.width for mark in both.marks if mark.role == "bar"], both.high
    ([100000, 100000], 42200)
    """
    high = HEAD + sum(len(bars) * ROW + (ROW if name else 0) for name, bars in groups)
    sketch = Sketch(high, TENTH)
    sketch.text(0, 52, 44, title, INK, style="sans-Semibold")
    y = HEAD
    for name, bars in groups:
        if name:
            sketch.text(0, y + 36, 36, name, INK, style="sans-Semibold")
            y += ROW
        _rows(sketch, y, bars, wide)
        y += len(bars) * ROW
    return Picture(title, tuple(sketch.marks), wide * TENTH, high * TENTH)


def _rows(sketch: Sketch, top: int, bars: Sequence[Bar], wide: int) -> None:
    room = wide - NAMES - VALUES - 20
    longest = max((max(bar.value, bar.whole or 0) for bar in bars), default=0) or 1
    for place, bar in enumerate(bars):
        y = top + place * ROW
        for length, tone in ((bar.whole or 0, HAIR), (bar.value, ACCENT)):
            if length > 0:
                sketch.box(NAMES, y, max(length * room // longest, 2), BAR, fill=tone, role="bar")
        sketch.text(NAMES - 20, y + 36, 36, short(bar.name), INK, anchor="end")
        sketch.text(wide, y + 36, 36, bar.says, INK, style="sans-Semibold", anchor="end")


def short(name: str, most: int = 22) -> str:
    """A name cut to so many signs, with an ellipsis where something is missing.

    >>> short("Mill square market", 12)
    'Mill square…'
    """
    return name if len(name) <= most else f"{name[: most - 1].rstrip()}…"


def bars_svg(drawn: Picture) -> str:
    """The picture as SVG, whole in itself."""
    ground = Shape(rectangle(Box(0, 0, drawn.wide, drawn.high)), fill=WHITE)
    return svg([ground, *drawn.marks], drawn.wide, drawn.high, drawn.title, pixel=TENTH)
