"""The plan as a picture: each bucket a bar as long as its honey, divided into the jars it fills.

Honey that stays unbottled on purpose is hatched, honey poured over into a blend is dotted, and a blend is a bar of its
own below the buckets. One drawing for the screen (SVG, light and dark as the reader's screen is) and for the run sheet.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from labelkit.measures import NOTHING, show_metric
from labelkit.measures.wording import ENGLISH, Wording
from labelkit.paper.marks import WHITE, Colour, Mark, dotted, hatched
from labelkit.paper.sketch import Sketch, cut, width_of
from labelkit.paper.svg import PIXEL, svg
from labelkit.plan.outcome import JarPlan
from labelkit.plan.picture_content import KEPT, POURED, TINTS, Key, Part, Row, keys_of, rows_of
from labelkit.plan.request import JarSize, PlanRequest

#: The lines of the hatching, the rings of the dots.
_LINES: dict[Colour, Colour] = {KEPT: (230, 239, 242), POURED: (240, 230, 239)}
_ON_DARK: Colour = (255, 250, 240)
_ON_LIGHT: Colour = (51, 36, 15)
_INKS = {**dict.fromkeys(TINTS, _ON_LIGHT), **dict.fromkeys(TINTS[:2], _ON_DARK)}
_INKS |= {KEPT: (31, 53, 64), POURED: (77, 47, 78)}
_GROUND: Colour = (255, 253, 248)
_INK: Colour = (43, 33, 23)
_SOFT: Colour = (111, 99, 83)
_REST: Colour = (164, 147, 122)
_EDGE: Colour = (107, 83, 53)
NIGHT: Mapping[Colour, Colour] = {
    _GROUND: (31, 26, 20),
    _INK: (243, 233, 216),
    _SOFT: (185, 171, 149),
    _REST: (141, 126, 104),
    _INKS[KEPT]: (195, 219, 228),
    _INKS[POURED]: (226, 199, 225),
}
MOST_ROWS = 60
MOST_ON_PAPER = 12  # more would push the buckets themselves off the first page
WIDTH, MARGIN, KEYS_AT, KEY_ROW = 1080, 32, 100, 24
TYPE, SMALL = 14, 13


@dataclass(frozen=True, slots=True)
class _Look:
    """Where bars begin, how long the longest is, how high a bar and a row are; and the ground they lie on."""

    left: float
    wide: float
    bar: float
    row: float
    ground: Colour


_SCREEN = _Look(190, 760, 40, 62, _GROUND)


def plan_svg(request: PlanRequest, plan: JarPlan, locale: str, title: str = "") -> str:
    """The picture as SVG text. The first sixty buckets are drawn; the rest is counted in a line.

    >>> from labelkit.measures import Mass, Money
    >>> from labelkit.plan import JarSize, PlanBucket, jar_plan
    >>> weight = Mass.read("1 lb", "en_US")
    >>> pound = JarSize("one pound", "1 lb", weight, Money.of("12", "USD"), Money.of("1.35", "USD"))
    >>> asked = PlanRequest((PlanBucket("B1", Mass.read("20 lb", "en_US")),), (pound,), "USD")
    >>> "20 × one pound" in plan_svg(asked, jar_plan(asked), "en_US")
    True
    """
    rows, more = rows_of(plan, request.sizes, MOST_ROWS, locale)
    keys = _placed(keys_of(plan, request.sizes, locale), MARGIN, WIDTH - MARGIN)
    top = KEYS_AT + MARGIN + KEY_ROW * max((line for line, _, _ in keys), default=0)
    high = top + _SCREEN.row * len(rows) + (34 if more else 0) + 18
    sure = "proved: no plan brings more" if plan.proved else f"nothing can bring more than {plan.bound.show(locale)}"
    value, title = plan.value.show(locale), title or "The jar plan"
    sketch = Sketch(high, PIXEL)
    sketch.box(0, 0, WIDTH, high, fill=_GROUND, role="paper")
    sketch.text(MARGIN, 48, 26, title, _INK, style="serif-Semibold")
    sketch.text(WIDTH - MARGIN, 48, 26, value, _INK, style="serif-Semibold", anchor="end")
    sketch.text(WIDTH - MARGIN, 72, TYPE, sure, _SOFT, anchor="end")
    for line, x, key in keys:
        _draw_key(sketch, key, x, KEYS_AT + KEY_ROW * line)
    _draw_rows(sketch, _SCREEN, rows, top, locale)
    if more:
        sketch.text(_SCREEN.left, high - 22, TYPE, f"and {more} more buckets", _SOFT)
    return svg(sketch.marks, sketch.um(WIDTH), sketch.um(high), f"{title}: {value}, {sure}", night=NIGHT)


def plan_marks(
    plan: JarPlan, sizes: Sequence[JarSize], width: int, locale: str, words: Wording = ENGLISH
) -> tuple[list[Mark], int, int] | None:
    """Marks for a paper's column of that width, with width and height, all in micrometres; nothing where nothing is filled."""
    rows, _ = rows_of(plan, sizes, MOST_ON_PAPER, locale, filled=True, words=words)
    if not rows:
        return None
    unit = 207  # letters of 2.9 mm
    look = _Look(106, width / unit - 106 - 126, 29, 41.5, WHITE)
    high = look.row * (len(rows) + 1)
    sketch = Sketch(high, unit)
    _draw_rows(sketch, look, rows, 1, locale, words)
    keys = [Key(key.tint, key.name) for key in keys_of(plan, sizes, locale, words)]
    for line, x, key in _placed(keys, look.left, width / unit):
        if not line:
            _draw_key(sketch, key, x, high - 8)
    return sketch.marks, width, sketch.um(high)


def _placed(keys: Sequence[Key], left: float, right: float) -> list[tuple[int, float, Key]]:
    """On which line each entry of the legend is, and where it begins."""
    placed, line, x = [], 0, left
    for key in keys:
        # A fifth more than the letters take, for a screen that has a wider typeface.
        wide = 21 + width_of(key.text, TYPE) * 1.2
        if x > left and x + wide > right:
            line, x = line + 1, left
        placed.append((line, x, key))
        x += wide + 24
    return placed


def _draw_key(sketch: Sketch, key: Key, x: float, y: float) -> None:
    _fill(sketch, x, y - 12, TYPE, TYPE, key.tint, "key")
    sketch.box(x, y - 12, TYPE, TYPE, radius=3, stroke=_EDGE, width=sketch.um(0.5), role="key edge")
    sketch.text(x + 21, y, TYPE, key.text, _INK)


def _draw_rows(
    sketch: Sketch, look: _Look, rows: Sequence[Row], top: float, locale: str, words: Wording = ENGLISH
) -> None:
    longest = max((row.holds.mg for row in rows), default=1) or 1
    for place, row in enumerate(rows):
        y = top + look.row * place
        _draw_names(sketch, look, row, y)
        x, used = look.left, NOTHING
        for part in row.parts:
            wide = part.mass.mg * look.wide / longest
            _draw_part(sketch, look, part, x, y, wide)
            x, used = x + wide, used + part.mass
        left = row.holds - used if row.holds.mg > used.mg else NOTHING
        rest = left.mg * look.wide / longest
        dash = (sketch.um(3), sketch.um(2))
        box = (x, y + 0.75, max(rest, 1.5), look.bar - 1.5)
        sketch.box(*box, stroke=_REST, width=sketch.um(1), dash=dash, role="rest")
        sketch.text(x + rest + 10, _line(look, y), SMALL, words("{mass} left", mass=show_metric(left, locale)), _SOFT)


def _draw_names(sketch: Sketch, look: _Look, row: Row, y: float) -> None:
    """A bucket's name, and what it holds below it where the row has room for two lines."""
    right, room = look.left - 16, look.left - 24
    two = look.bar > 35
    style = "sans-Semibold" if two else "sans-Regular"
    size = 16 if two else TYPE
    base = y + 18 if two else _line(look, y)
    sketch.text(right, base, size, cut(row.name, size, room, style), _INK, style=style, anchor="end")
    if two:
        sketch.text(right, y + 35, SMALL, cut(row.below, SMALL, room), _SOFT, anchor="end")


def _draw_part(sketch: Sketch, look: _Look, part: Part, x: float, y: float, wide: float) -> None:
    _fill(sketch, x, y, wide, look.bar, part.tint, "stretch")
    sketch.box(x, y, wide, look.bar, stroke=look.ground, width=sketch.um(1.5), role="gap")
    words = next((w for w in part.words if width_of(w, TYPE) * 1.2 < wide - 4), "")
    if not words:
        return
    middle = x + wide / 2
    if part.tint in _LINES:  # letters on a pattern have a plate of their own
        plate = width_of(words, TYPE) * 1.2 + 8
        sketch.box(middle - plate / 2, _line(look, y) - 15, plate, 20, radius=3, fill=look.ground, role="plate")
    sketch.text(middle, _line(look, y), TYPE, words, _INKS[part.tint], anchor="middle")


def _fill(sketch: Sketch, x: float, y: float, wide: float, high: float, tint: Colour, role: str) -> None:
    """A field in a tint; hatched for honey kept, dotted for honey poured over."""
    box = sketch.area(x, y, wide, high)
    if tint == KEPT:
        sketch.marks.append(hatched(box, tint, _LINES[tint], sketch.um(9.9), sketch.um(2.4), role=f"{role} kept"))
    elif tint == POURED:
        sketch.marks.append(dotted(box, tint, _LINES[tint], sketch.um(8), sketch.um(1.3), role=f"{role} poured"))
    else:
        sketch.box(x, y, wide, high, fill=tint, role=role)


def _line(look: _Look, y: float) -> float:
    """The baseline of words in the middle of a bar."""
    return y + (look.bar + TYPE) / 2 - 2
