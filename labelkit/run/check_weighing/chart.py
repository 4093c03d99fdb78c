"""A control chart of the weights in the order they were weighed.

Centre line and limits are those of a chart of individuals: mean plus and minus three times the mean moving range over
1.128. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. A run of eight on one side of the middle is
a drift (same handbook, 6.3.2, after the Western Electric rules). Beside them stand the label and the market's limits.

Floating point appears here only as places on the picture.
"""

from __future__ import annotations

import itertools
import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures.division import GRAM, Division
from labelkit.measures.locales import show_number
from labelkit.paper.marks import WHITE, Colour
from labelkit.paper.sketch import Sketch
from labelkit.paper.svg import PIXEL, svg
from labelkit.run.check_weighing.judge import Verdict

_D2 = Decimal("1.128")  # mean range of two normal values, in standard deviations
_RUN = 8
_WIDE, _HIGH = 880, 440
_LEFT, _RIGHT, _TOP, _BOTTOM = 64, 168, 64, 52
_FAR, _FLOOR = _WIDE - _RIGHT, _HIGH - _BOTTOM
_INK, _QUIET, _AMBER = (47, 43, 38), (106, 99, 90), (138, 90, 0)
_GROUND, _GRID, _AXIS, _TRAIL, _LEAD = (
    (255, 253, 249),
    (231, 225, 216),
    (184, 175, 163),
    (185, 169, 143),
    (207, 198, 185),
)
_GREEN, _HONEY, _RED = (109, 127, 74), (201, 138, 27), (140, 29, 24)
_BADGES = {"pass": _GREEN, "fail": _RED, "ask": _HONEY}
_DOTS = {"good": _GREEN, "unusual": _HONEY, "short": (194, 80, 31), "deep": _RED}
_SHADES = {"short": (251, 238, 227), "deep": (246, 217, 211)}
_HEADINGS = {"pass": "The lot passes", "fail": "The lot fails", "ask": "Not decided yet"}


@dataclass(frozen=True, slots=True)
class _Line:
    """How a level line is drawn: its colour, width and dashes in pixels, and the colour of its words."""

    line: Colour
    words: Colour
    width: float = 1.4
    dash: tuple[float, ...] = ()


_LINES = {
    "mean": _Line(_INK, _INK),
    "label": _Line((176, 114, 18), _AMBER, 2),
    "control": _Line((143, 133, 118), (122, 113, 101), dash=(2, 4)),
    "short": _Line((180, 83, 42), (160, 67, 28), dash=(7, 4)),
    "deep": _Line(_RED, _RED, dash=(7, 4)),
}


@dataclass(frozen=True, slots=True)
class _Level:
    """A level line on the picture, and its words, moved apart where they would touch."""

    kind: str
    y: float
    text_y: float
    text: str


@dataclass(frozen=True, slots=True)
class ControlLimits:
    """Centre and limits of a chart of individuals, in grams."""

    centre: Decimal
    lower: Decimal
    upper: Decimal
    moving_range: Decimal


def control_limits(weights: Sequence[Decimal]) -> ControlLimits:
    """Centre line and limits from the moving range.

    >>> limits = control_limits([Decimal(g) for g in ("340", "342", "341", "343")])
    >>> limits.centre, round(limits.upper, 2)
    (Decimal('341.5'), Decimal('345.93'))
    """
    centre = statistics.mean(weights)
    moving = [abs(b - a) for a, b in itertools.pairwise(weights)]
    mean_range = statistics.mean(moving) if moving else Decimal(0)
    reach = 3 * mean_range / _D2
    return ControlLimits(centre, centre - reach, centre + reach, mean_range)


def drift(weights: Sequence[Decimal], centre: Decimal) -> tuple[int, int] | None:
    """The first run of eight or more weights on one side of the centre: first and last place, from 1.

    >>> drift([Decimal(1)] * 8 + [Decimal(9)], Decimal(2))
    (1, 8)
    """
    start, side = 0, 0
    for place, weight in enumerate([*weights, centre]):
        now = (weight > centre) - (weight < centre)
        if now != side:
            if side and place - start >= _RUN:
                return start + 1, place
            start, side = place, now
    return None


def control_chart(verdict: Verdict, title: str, locale: str, division: Division = GRAM) -> str:
    """The chart of a verdict as an SVG document, in the unit of the scale."""
    drawn = chart_sketch(verdict, title, locale, division)
    heading = f"{title}: {_HEADINGS[verdict.verdict]}"
    return svg(drawn.marks, drawn.um(_WIDE), drawn.um(_HIGH), heading, about=_told(verdict, locale, division))


def chart_sketch(verdict: Verdict, title: str, locale: str, division: Division = GRAM) -> Sketch:
    """The chart of a verdict, laid out; one unit is a pixel."""
    weights = [weight.g for weight in verdict.sample.weights]
    limits = control_limits(weights)
    scale = _Scale(verdict, limits, len(weights))
    sketch = Sketch(_HIGH, PIXEL)
    sketch.box(0, 0, _WIDE, _HIGH, fill=_GROUND, role="paper")
    sketch.disc(_LEFT - 22, 25, 7, fill=_BADGES[verdict.verdict], role="badge")
    sketch.text(_LEFT - 6, 31, 19, _HEADINGS[verdict.verdict], _INK, style="sans-Semibold")
    sketch.text(_WIDE - 16, 29, 12, title, _QUIET, anchor="end")
    sketch.text(_LEFT - 6, 50, 12, _told(verdict, locale, division), _QUIET)
    _draw_ground(sketch, scale, verdict, locale, division)
    # The median, since one stray jar pulls the mean away from all the others, and that is no drift of the fill.
    run = drift(weights, statistics.median(weights))
    if run:
        words = f"jars {run[0]} to {run[1]} all lie on one side of the middle: the fill drifts"
        sketch.text(_FAR, _FLOOR + 36, 12, words, _AMBER, anchor="end")
    for line in scale.lines(verdict, limits, locale, division):
        look = _LINES[line.kind]
        sketch.line([(_LEFT, line.y), (_FAR, line.y)], look.line, look.width, dash=tuple(map(sketch.um, look.dash)))
        sketch.line([(_FAR, line.y), (_FAR + 8, line.text_y)], _LEAD, 0.8)
        style = "sans-Semibold" if line.kind == "label" else "sans-Regular"
        sketch.text(_FAR + 11, line.text_y + 4, 12, line.text, look.words, style=style, role="word")
    sketch.line(
        [(scale.x(place), scale.y(grams)) for place, grams in enumerate(weights, 1)], _TRAIL, 1.2, round_ends=True
    )
    for place, (kind, grams) in enumerate(scale.points(verdict, limits), 1):
        sketch.disc(
            scale.x(place),
            scale.y(grams),
            4.2 if kind == "good" else 5.4,
            fill=_DOTS[kind],
            stroke=WHITE,
            width=sketch.um(1.2),
            role=f"dot {kind}",
            says=f"jar {place}",
        )
    return sketch


def _draw_ground(sketch: Sketch, scale: _Scale, verdict: Verdict, locale: str, division: Division) -> None:
    """Shaded where jars are short, darker where they may not be sold; weights at the left, jars along the foot."""
    for kind, edge in (("short", verdict.test.shortest), ("deep", verdict.test.deepest)):
        if edge is not None and edge != verdict.test.label and scale.low < float(edge) < scale.high:
            sketch.box(_LEFT, scale.y(edge), _FAR - _LEFT, _FLOOR - scale.y(edge), fill=_SHADES[kind], role="shade")
    one = division.in_unit(Decimal(1))
    for shown in scale.ticks(float(one)):
        y = scale.y(shown / one)
        sketch.line([(_LEFT, y), (_FAR, y)], _GRID, 1)
        sketch.text(_LEFT - 8, y + 4, 11.5, show_number(shown, locale), _QUIET, anchor="end")
    sketch.line([(_LEFT, _TOP), (_LEFT, _FLOOR), (_FAR, _FLOOR)], _AXIS, 1)
    every = max(1, math.ceil(scale.count / 24))
    for place in range(1, scale.count + 1):
        if place == 1 or place % every == 0:
            sketch.text(scale.x(place), _FLOOR + 17, 11.5, str(place), _QUIET, anchor="middle")
    sketch.text(_LEFT, _FLOOR + 36, 11.5, "jars in the order they were weighed", _QUIET)
    sketch.text(_LEFT - 8, _TOP - 3, 11.5, division.unit[-2:].strip(), _QUIET, anchor="end")


def _told(verdict: Verdict, locale: str, division: Division) -> str:
    mean, spread = division.show(verdict.sample.mean, locale), division.finer().show(verdict.sample.stdev, locale)
    return (
        f"{len(verdict.sample)} of {verdict.test.lot} jars weighed · mean {mean} · spread {spread} · "
        f"{len(verdict.short) or 'none'} short, {verdict.allowed or 'none'} may be · {verdict.test.name}"
    )


class _Scale:
    """Grams and places of jars onto the picture."""

    def __init__(self, verdict: Verdict, limits: ControlLimits, count: int) -> None:
        self.count = count
        test = verdict.test
        values = [w.g for w in verdict.sample.weights] + [test.label, limits.centre, limits.upper, limits.lower]
        low, high = float(min(values)), float(max(values))
        reach = max(high - low, 1.0)
        # The market's limits are drawn where they are near; a limit far below would flatten the picture.
        for edge in (test.shortest, test.deepest):
            if edge is not None and float(edge) > low - 0.9 * reach:
                low = min(low, float(edge))
        room = (high - low) * 0.06 or 1.0
        self.low, self.high = low - room, high + room

    def x(self, place: int) -> float:
        """The middle of the jar at a place, from 1."""
        wide = _WIDE - _RIGHT - _LEFT
        return _LEFT + wide * (place - 0.5) / max(self.count, 1)

    def y(self, grams: Decimal | float) -> float:
        """The height of a weight."""
        tall = _HIGH - _BOTTOM - _TOP
        return _TOP + tall * (self.high - float(grams)) / (self.high - self.low)

    def lines(self, verdict: Verdict, limits: ControlLimits, locale: str, division: Division) -> list[_Level]:
        """Level lines with their words, words moved apart where they would touch."""
        test = verdict.test
        level = [("mean", "mean", limits.centre), ("label", "label", test.label)]
        if limits.moving_range:
            level += [("control", "usual, upper", limits.upper), ("control", "usual, lower", limits.lower)]
        if test.tolerance:
            level.append(("short", "short below", test.shortest))
        if test.deepest is not None:
            level.append(("deep", "not for sale below", test.deepest))
        shown = [(kind, words, grams) for kind, words, grams in level if self.low <= float(grams) <= self.high]
        placed, above = [], -math.inf
        for kind, words, grams in sorted(shown, key=lambda line: -line[2]):
            y = self.y(grams)
            above = max(y, above + 15)
            placed.append(_Level(kind, y, above, f"{words} {division.show(grams, locale)}"))
        return placed

    def ticks(self, one: float) -> list[Decimal]:
        """Round weights at the left edge, in the unit of which a gram is ``one``."""
        low, high = self.low * one, self.high * one
        step = _nice((high - low) / 6)
        first, last = math.ceil(low / step), math.floor(high / step)
        return [Decimal(str(step)) * number for number in range(first, last + 1)]

    def points(self, verdict: Verdict, limits: ControlLimits) -> list[tuple[str, Decimal]]:
        """Each jar: of which kind it is, and its weight."""
        found = []
        for place, weight in enumerate(verdict.sample.weights, 1):
            unusual = not limits.lower <= weight.g <= limits.upper
            kind = "deep" if place in verdict.deep else "short" if place in verdict.short else ""
            found.append((kind or ("unusual" if unusual else "good"), weight.g))
        return found


def _nice(raw: float) -> float:
    """The next larger of 1, 2, 5 times a power of ten.

    >>> _nice(0.7), _nice(3.2), _nice(12)
    (1.0, 5.0, 20.0)
    """
    power = 10.0 ** math.floor(math.log10(raw))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= raw)
