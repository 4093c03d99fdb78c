"""The chance that a lot passes its market's test, when jars are filled with a known mean and spread.

Fills are taken as normally distributed. The chance that the mean passes is exact for that (the mean and the spread of
a normal sample are independent; the spread is integrated over its chi distribution), and so is the chance that no more
jars than allowed are short. The two go together in a way that has no closed form, so the chance of both is given as
what it surely is at least and at most; a simulation in the bench holds both bounds against 20,000 lots a case.

Floating point is used here and only here in this room: a chance is advice about the next filling, not a legal figure.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

from labelkit.run.check_weighing.lot_test import LotTest, Stage

_NORMAL = NormalDist()
_STEPS = 400  # of the integral over the spread; the error is far below a thousandth
_OFFSETS = 41  # of the mean from run to run


@dataclass(frozen=True, slots=True)
class Chance:
    """The chance that a lot passes: at least, at most; and of its parts."""

    at_least: float
    at_most: float
    mean: float
    jars: float


def chance_of_passing(test: LotTest, above_label: float, spread: float, between_runs: float = 0.0) -> Chance:
    """The chance for jars filled ``above_label`` grams above the label on average, with a spread in grams.

    ``between_runs`` is the spread of that average from one run to the next.

    >>> lot = LotTest("x", "average", "x", 340, 24, 24, 24, 0, (Stage(24, 0, 1),), 10)
    >>> round(chance_of_passing(lot, 0.0, 2.0).mean, 3), round(chance_of_passing(lot, 1.0, 2.0).at_least, 3)
    (0.5, 0.993)
    """
    if not between_runs:
        return _chance(test, above_label, spread)
    found = [_chance(test, above_label + offset, spread) for offset in _offsets(between_runs)]
    return Chance(*(math.fsum(getattr(c, name) for c in found) / len(found) for name in Chance.__slots__))


def _offsets(between_runs: float) -> Iterator[float]:
    return (between_runs * _NORMAL.inv_cdf((i + 0.5) / _OFFSETS) for i in range(_OFFSETS))


def _chance(test: LotTest, above_label: float, spread: float) -> Chance:
    mean = _mean_passes(test, above_label, spread)
    jars = _jars_pass(test, above_label, spread)
    return Chance(max(mean + jars - 1, 0.0), min(mean, jars), mean, jars)


def _mean_passes(test: LotTest, above: float, spread: float) -> float:
    """P(mean + factor · s >= label)."""
    if test.factor is None:
        return 1.0
    weighed, factor = test.mean_sample, float(test.factor)
    if not spread:
        return float(above >= 0)
    root = math.sqrt(weighed)
    if not factor or weighed < 2:
        return _NORMAL.cdf(root * above / spread)
    # The normal distribution by its error function, since it is asked for some hundred times for one chance.
    at, slope = root * above / spread / math.sqrt(2), root * factor / math.sqrt(2)
    return math.fsum(weight * (1 + math.erf(at + slope * s)) for s, weight in _chi(weighed - 1)) / 2


@lru_cache(maxsize=64)
def _chi(freedom: int) -> list[tuple[float, float]]:
    """Points s/sigma and their weights for the spread of a normal sample, by the midpoint rule."""
    high = 1 + 8 / math.sqrt(2 * freedom)
    constant = math.log(2) + freedom / 2 * math.log(freedom / 2) - math.lgamma(freedom / 2)
    width = high / _STEPS
    points = []
    for step in range(_STEPS):
        s = (step + 0.5) * width
        points.append((s, width * math.exp(constant + (freedom - 1) * math.log(s) - freedom * s * s / 2)))
    return points


def _jars_pass(test: LotTest, above: float, spread: float) -> float:
    """P(no more short jars than a stage allows, and no more very short ones than may be)."""
    short = _share_below(float(test.tolerance) + above, spread)
    deep = _share_below(float(test.deep) + above, spread) if test.deep is not None else 0.0
    first = test.stages[0]
    passes = _few(first.sample, first.allowed, test.deep_allowed, short, deep)
    for later in test.stages[1:]:
        passes += _passes_later(first, later, test.deep_allowed, short, deep)
    return min(passes, 1.0)


def _share_below(distance: float, spread: float) -> float:
    if not spread:
        return float(distance < 0)
    return _NORMAL.cdf(-distance / spread)


def _few(jars: int, most_short: int, most_deep: int, short: float, deep: float) -> float:
    return math.fsum(_exactly(jars, k, most_deep, short, deep) for k in range(most_short + 1))


def _exactly(jars: int, k: int, most_deep: int, short: float, deep: float) -> float:
    """P(exactly k of the jars short, no more than ``most_deep`` of those very short)."""
    chance = math.comb(jars, k) * short**k * (1 - short) ** (jars - k)
    if not k or not deep or most_deep >= k:
        return chance
    share = min(deep / short, 1.0)
    return chance * math.fsum(math.comb(k, j) * share**j * (1 - share) ** (k - j) for j in range(most_deep + 1))


def _passes_later(first: Stage, later: Stage, most_deep: int, short: float, deep: float) -> float:
    """P(undecided after the first stage, passed after the later one); very short jars counted in each stage alone."""
    more = later.sample - first.sample
    undecided = range(first.allowed + 1, min(first.reject, later.allowed + 1))
    return math.fsum(
        _exactly(first.sample, k, most_deep, short, deep) * _few(more, later.allowed - k, most_deep, short, deep)
        for k in undecided
    )
