"""The picture of a trace: a band for each flow, as wide as its honey is heavy, from the yards to the jars.

One list of marks for the screen (SVG) and for paper.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from labelkit.measures.wording import Wording
from labelkit.paper.fonts import Box, screen_face
from labelkit.paper.marks import WHITE, Colour, Mark, Path, Shape, Text, rectangle
from labelkit.paper.svg import PIXEL, svg
from labelkit.trace.follow import Trace
from labelkit.trace.layout import Layout, Placed, Ribbon, layout
from labelkit.trace.terms import asked

#: From a place of the layout to a place on the page.
At = Callable[[float, float], tuple[int, int]]
COLOURS: dict[str, Colour] = {
    "yard": (111, 143, 78),
    "supplier": (122, 98, 150),
    "bucket": (224, 160, 33),
    "blend": (196, 120, 26),
    "lot": (143, 74, 23),
    "place": (63, 102, 115),
    "held": (179, 64, 31),
    "gone": (194, 90, 74),
}
_SIDE: Colour = (185, 174, 151)
_INK: Colour = (43, 36, 24)
_QUIET: Colour = (117, 105, 79)
_HEAD: Colour = (139, 125, 94)
_PAPER: Colour = (255, 253, 247)
_LEFT, _FOOT = 44, 62  # units of the layout


@dataclass(frozen=True, slots=True)
class _Sizes:
    """Micrometres: one unit of the layout, and the type of names, of notes and of the heads of columns."""

    unit: float
    name: int
    note: int
    ground: Colour

    def of_points(self, units: float) -> int:
        return round(units * self.unit)


def picture(trace: Trace, locale: str, words: Wording) -> str:
    """The trace as one SVG document, the same bytes for the same trace."""
    page = layout(trace, locale, words)
    sizes = _Sizes(PIXEL, round(15 * PIXEL), round(12.5 * PIXEL), _PAPER)
    wide, high = sizes.of_points(page.width), sizes.of_points(page.bottom + _FOOT)
    title = asked(trace, words)
    left = sizes.of_points(_LEFT)
    marks = [
        Shape(rectangle(Box(0, 0, wide, high)), fill=_PAPER, role="paper"),
        _line("sans-Bold", title, left, high - sizes.of_points(50), sizes.of_points(27), _INK),
        _line("sans-Regular", _subtitle(trace, words), left, high - sizes.of_points(75), sizes.of_points(15), _QUIET),
        *_flow(page, sizes, high),
        _line("sans-Regular", _key(page, words), left, sizes.of_points(22), sizes.note, _QUIET),
    ]
    return svg(marks, wide, high, words("{title}: from the yards to the jars", title=title))


def flow_marks(trace: Trace, wide: int, locale: str, words: Wording) -> tuple[list[Mark], int]:
    """The bands alone, for a paper with room for so many micrometres across; and how high they came out."""
    page = layout(trace, locale, words)
    sizes = _Sizes(wide / page.width, 3_000, 2_500, WHITE)
    above = page.top - 26
    return _flow(page, sizes, sizes.of_points(page.bottom + 26)), sizes.of_points(page.bottom + 26 - above)


def _flow(page: Layout, sizes: _Sizes, high: int) -> list[Mark]:
    """Bands, the heads of the columns, and bars with their names; ``high`` is where the layout's first line is."""

    def at(x: float, y: float) -> tuple[int, int]:
        return sizes.of_points(x), high - sizes.of_points(y)

    # What matters less lies below, and the wide below the narrow.
    marks: list[Mark] = [_band(band, at) for band in sorted(page.ribbons, key=lambda r: (not r.side, -r.thick))]
    for x, head in page.heads:
        marks.append(
            _line("sans-Semibold", head.upper(), *at(x, page.top - 20), sizes.note, _HEAD, tracking=sizes.note // 12)
        )
    for placed in page.nodes:
        marks += _node(placed, page, sizes, at)
    return marks


def _band(band: Ribbon, at: At) -> Shape:
    mid = (band.x1 + band.x2) / 2
    low1, low2 = band.y1 + band.thick, band.y2 + band.thick
    outline: Path = (
        ("M", *at(band.x1, band.y1)),
        ("C", *at(mid, band.y1), *at(mid, band.y2), *at(band.x2, band.y2)),
        ("L", *at(band.x2, low2)),
        ("C", *at(mid, low2), *at(mid, low1), *at(band.x1, low1)),
        ("Z",),
    )
    strength = 16 if band.side else 42 if band.weighed else 26
    return Shape(outline, fill=COLOURS[band.sort], opacity=strength, behind=True, role="band", says=band.says)


def _node(placed: Placed, page: Layout, sizes: _Sizes, at: At) -> list[Mark]:
    node, right = placed.node, placed.x + page.bar
    marks: list[Mark] = [
        _box(at, placed, page.bar, 0, 2.5, sizes, fill=_SIDE if node.side else COLOURS[node.sort], role="bar")
    ]
    if node.asked:
        marks.append(_box(at, placed, page.bar, 4, 5, sizes, stroke=_INK, width=sizes.of_points(1.6), role="asked"))
    note = f"{placed.weight} · {node.note}" if node.note else placed.weight
    says = node.name if placed.name != node.name else ""
    x, y = at(right + 9, placed.middle - 1)
    marks.append(_line("sans-Semibold", placed.name, x, y, sizes.name, _INK, halo=sizes.ground, says=says))
    marks.append(_line("sans-Regular", note, x, y - round(sizes.note * 1.28), sizes.note, _QUIET, halo=sizes.ground))
    return marks


def _box(at: At, placed: Placed, bar: float, grown: float, radius: float, sizes: _Sizes, **look: Any) -> Shape:
    left, top = at(placed.x - grown, placed.y - grown)
    right, bottom = at(placed.x + bar + grown, placed.y + placed.height + grown)
    return Shape(rectangle(Box(left, bottom, right, top), sizes.of_points(radius)), **look)


def _line(style: str, text: str, x: int, y: int, size: int, colour: Colour, **look: Any) -> Text:
    return Text(screen_face(style, text), size, text, x, y, colour, **look)


def _subtitle(trace: Trace, words: Wording) -> str:
    made = sum(balance.jars_under_code for balance in trace.balances)
    bought = sum(each.receipt is not None for each in trace.intakes)
    own = len(trace.intakes) - bought
    says = [words.count("{n} jar lot", "{n} jar lots", len(trace.lots)), words.count("{n} jar", "{n} jars", made)]
    if own or not bought:
        says.append(words.count("{n} weighing from the hives", "{n} weighings from the hives", own))
    if bought:
        says.append(words("{n} bought in", n=bought))
    return " · ".join(says)


def _key(page: Layout, words: Wording) -> str:
    says = [words("Each band is as wide as its honey is heavy.")]
    if page.sisters:
        says.append(words("Grey: sister lots from the same buckets, not asked for."))
    if page.shared:
        says.append(words("Pale: yards not weighed apart, drawn in equal parts; what drained later, as its bucket."))
    return " ".join(says)
