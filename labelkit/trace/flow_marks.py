"""The same picture as marks for paper: bars, ribbons and names in micrometres, y upwards."""

from __future__ import annotations

from collections.abc import Callable

from labelkit.paper.fonts import face_for
from labelkit.paper.marks import WHITE, Colour, Mark, Path, Shape, Text
from labelkit.trace.follow import Trace
from labelkit.trace.layout import Layout, Placed, Ribbon, layout

COLOURS: dict[str, Colour] = {
    "yard": (111, 143, 78),
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
_NAME, _NOTE = 3_000, 2_500  # type sizes in micrometres
_Place = Callable[[float, float], tuple[int, int]]  # from the picture's units to micrometres on paper
_ROOM = 26.0  # over the picture for the headings, in its own units


def flow_marks(trace: Trace, wide: int, locale: str) -> tuple[list[Mark], int]:
    """The picture of a trace that many micrometres wide, and how high it came out."""
    page = layout(trace, locale)
    unit = wide / page.width
    high = round((page.bottom - page.top + 2 * _ROOM) * unit)

    def at(x: float, y: float) -> tuple[int, int]:
        return round(x * unit), high - round((y - page.top + _ROOM) * unit)

    marks: list[Mark] = []
    # Nothing shines through on paper, so what matters less lies below, and the wide below the narrow.
    for ribbon in sorted(page.ribbons, key=lambda r: (not r.side, -r.thick)):
        marks.append(Shape(_outline(ribbon, at), fill=_tint(ribbon), stroke=WHITE, width=280, behind=True))
    for x, head in page.heads:
        marks.append(_words(head, at(x, page.top - 10), _NOTE, "sans-Semibold", _QUIET))
    for placed in page.nodes:
        marks += _node(placed, page, at)
    return marks, high


def _outline(ribbon: Ribbon, at: _Place) -> Path:
    mid = (ribbon.x1 + ribbon.x2) / 2
    low1, low2 = ribbon.y1 + ribbon.thick, ribbon.y2 + ribbon.thick
    return (
        ("M", *at(ribbon.x1, ribbon.y1)),
        ("C", *at(mid, ribbon.y1), *at(mid, ribbon.y2), *at(ribbon.x2, ribbon.y2)),
        ("L", *at(ribbon.x2, low2)),
        ("C", *at(mid, low2), *at(mid, low1), *at(ribbon.x1, low1)),
        ("Z",),
    )


def _tint(ribbon: Ribbon) -> Colour:
    strength = 16 if ribbon.side else 42 if ribbon.weighed else 26
    red, green, blue = (255 - (255 - part) * strength // 100 for part in COLOURS[ribbon.sort])
    return red, green, blue


def _node(placed: Placed, page: Layout, at: _Place) -> list[Mark]:
    node = placed.node
    colour = _SIDE if node.side else COLOURS[node.sort]
    left, right = placed.x, placed.x + page.bar
    marks: list[Mark] = [Shape(_box(at, left, placed.y, right, placed.y + placed.height), fill=colour)]
    if node.asked:
        around = _box(at, left - 4, placed.y - 4, right + 4, placed.y + placed.height + 4)
        marks.append(Shape(around, stroke=_INK, width=250))
    note = f"{placed.weight} · {node.note}" if node.note else placed.weight
    marks.append(_words(placed.name, at(right + 8, placed.middle - 1), _NAME, "sans-Semibold", _INK))
    marks.append(_words(note, at(right + 8, placed.middle + 14), _NOTE, "sans-Regular", _QUIET))
    return marks


def _box(at: _Place, left: float, top: float, right: float, bottom: float) -> Path:
    return (("M", *at(left, top)), ("L", *at(right, top)), ("L", *at(right, bottom)), ("L", *at(left, bottom)), ("Z",))


def _words(text: str, where: tuple[int, int], size: int, style: str, colour: Colour) -> Text:
    return Text(face_for(style, text), size, text, *where, colour)
