"""A control chart of the weights in the order they were weighed, as SVG.

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
from typing import Any

from labelkit.measures.locales import DEFAULT_LOCALE, show_number
from labelkit.measures.rounding import HALF_UP, to_step
from labelkit.run.check_weighing.judge import Verdict

_D2 = Decimal("1.128")  # mean range of two normal values, in standard deviations
_RUN = 8
_WIDE, _HIGH = 880, 440
_LEFT, _RIGHT, _TOP, _BOTTOM = 64, 168, 64, 52
_HEADINGS = {"pass": "The lot passes", "fail": "The lot fails", "ask": "Not decided yet"}


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


def control_chart(verdict: Verdict, title: str, locale: str = DEFAULT_LOCALE) -> str:
    """The chart of a verdict as an SVG document."""
    from labelkit.shipped import render

    weights = [weight.g for weight in verdict.sample.weights]
    limits = control_limits(weights)
    scale = _Scale(verdict, limits, len(weights))
    # The median, since one stray jar pulls the mean away from all the others, and that is no drift of the fill.
    run = drift(weights, statistics.median(weights))
    return render(
        "run/control_chart.svg",
        wide=_WIDE,
        high=_HIGH,
        left=_LEFT,
        right=_WIDE - _RIGHT,
        top=_TOP,
        bottom=_HIGH - _BOTTOM,
        title=title,
        heading=_HEADINGS[verdict.verdict],
        verdict=verdict.verdict,
        told=_told(verdict, locale),
        drift=f"jars {run[0]} to {run[1]} all lie on one side of the middle: the fill drifts" if run else "",
        lines=scale.lines(verdict, limits, locale),
        ticks=scale.ticks(locale),
        places=scale.places(),
        points=scale.points(verdict, limits),
        shades=scale.shades(verdict),
        trail=" ".join(f"{x:.1f},{y:.1f}" for x, y in scale.trail(weights)),
    )


def _told(verdict: Verdict, locale: str) -> str:
    mean = show_number(_tenth(verdict.sample.mean), locale, digits=1)
    spread = show_number(to_step(verdict.sample.stdev, Decimal("0.01"), HALF_UP), locale, digits=2)
    return (
        f"{len(verdict.sample)} of {verdict.test.lot} jars weighed · mean {mean} g · spread {spread} g · "
        f"{len(verdict.short) or 'none'} short, {verdict.allowed or 'none'} may be · {verdict.test.name}"
    )


def _tenth(grams: Decimal) -> Decimal:
    return to_step(grams, Decimal("0.1"), HALF_UP)


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

    def lines(self, verdict: Verdict, limits: ControlLimits, locale: str) -> list[dict[str, Any]]:
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
            text = f"{words} {show_number(_tenth(grams), locale, digits=1)} g"
            placed.append({"kind": kind, "y": round(y, 1), "text_y": round(above, 1), "text": text})
        return placed

    def ticks(self, locale: str) -> list[dict[str, Any]]:
        """Round weights at the left edge."""
        step = _nice((self.high - self.low) / 6)
        first = math.ceil(self.low / step)
        found = []
        for number in range(first, math.floor(self.high / step) + 1):
            grams = Decimal(str(step)) * number
            found.append({"y": round(self.y(grams), 1), "text": show_number(grams, locale)})
        return found

    def places(self) -> list[dict[str, Any]]:
        """Numbers of jars along the foot."""
        every = max(1, math.ceil(self.count / 24))
        return [
            {"x": round(self.x(place), 1), "text": str(place)}
            for place in range(1, self.count + 1)
            if place == 1 or place % every == 0
        ]

    def points(self, verdict: Verdict, limits: ControlLimits) -> list[dict[str, Any]]:
        """A dot for each jar, of the kind it is."""
        found = []
        for place, weight in enumerate(verdict.sample.weights, 1):
            unusual = not limits.lower <= weight.g <= limits.upper
            kind = "deep" if place in verdict.deep else "short" if place in verdict.short else ""
            kind = kind or ("unusual" if unusual else "good")
            found.append({"x": round(self.x(place), 1), "y": round(self.y(weight.g), 1), "kind": kind, "place": place})
        return found

    def trail(self, weights: Sequence[Decimal]) -> list[tuple[float, float]]:
        """The line through the dots."""
        return [(self.x(place), self.y(grams)) for place, grams in enumerate(weights, 1)]

    def shades(self, verdict: Verdict) -> list[dict[str, Any]]:
        """The ground under the label: shaded where jars are short, darker where they may not be sold."""
        floor = _HIGH - _BOTTOM
        edges = [("short", verdict.test.shortest), ("deep", verdict.test.deepest)]
        return [
            {"kind": kind, "y": round(self.y(edge), 1), "high": round(floor - self.y(edge), 1)}
            for kind, edge in edges
            if edge is not None and edge != verdict.test.label and self.low < float(edge) < self.high
        ]


def _nice(raw: float) -> float:
    """The next larger of 1, 2, 5 times a power of ten.

    >>> _nice(0.7), _nice(3.2), _nice(12)
    (1.0, 5.0, 20.0)
    """
    power = 10.0 ** math.floor(math.log10(raw))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= raw)
