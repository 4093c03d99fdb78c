"""Simulated lots against the chances labelkit predicts, for each market's test; and producers who fill by their past.

Run it by hand:  python -m tests.bench.filling [seed]

For each case 20,000 lots are filled from a normal distribution, sampled and judged by the market's own terms, with the
jars below the predicted bounds counted as they fall. A case is good when the simulated rate lies between the predicted
bounds, give or take three standard errors. The judge used here is written anew with numpy and knows nothing of ours;
a part of every case is also judged by labelkit's own judge, one lot after the other, and the two must agree.

The second table draws producers with a habit, a spread and runs that differ: each weighs some jars of some runs, fills
the next lots as told, and the lots filled then are judged. What was promised should hold on the average over
producers, give or take three standard errors and what so few runs can teach; where it does not, the line says by how much.
"""

from __future__ import annotations

import math
import sys
import time
from datetime import date
from decimal import Decimal

import numpy

from labelkit.measures import Declared, Mass
from labelkit.rules import market
from labelkit.run.check_weighing.chance import chance_of_passing
from labelkit.run.check_weighing.judge import judge
from labelkit.run.check_weighing.lot_test import LotTest
from labelkit.run.check_weighing.margin import PastRun
from labelkit.run.check_weighing.sample import Sample
from labelkit.run.fill_test import terms
from labelkit.run.next_fill import next_fill

LOTS = 20_000
BOTH = 400  # lots of each case that labelkit's own judge sees as well
DAY = date(2026, 11, 25)
# market, system, declared, jars in the lot, grams above the label, spread in grams
CASES = [
    ("us", None, "1 lb", 200, 0.0, 2.0),
    ("us", None, "1 lb", 200, -1.5, 2.0),
    ("us", None, "1 lb", 800, -0.8, 2.0),
    ("us", None, "1 lb", 200, 2.0, 8.0),
    ("us", None, "1 lb", 5, -1.0, 2.0),
    ("uk", None, "340 g", 24, 0.4, 2.0),
    ("uk", None, "340 g", 300, -0.8, 2.0),
    ("uk", None, "340 g", 300, 1.0, 6.0),
    ("eu", None, "500 g", 300, -1.0, 2.5),
    ("eu", None, "500 g", 300, 0.5, 7.0),
    ("eu", None, "500 g", 40, 1.0, 3.0),
    ("eu-de", None, "340 g", 60, 0.5, 3.0),
    ("ca", None, "500 g", 10, 0.5, 2.0),
    ("ca", None, "500 g", 60, -1.5, 2.0),
    ("ca", None, "500 g", 400, 0.0, 8.0),
    ("nz", None, "340 g", 30, -1.0, 2.0),
    ("nz", None, "340 g", 60, 0.5, 5.0),
    ("nz", None, "340 g", 200, -0.8, 3.0),
    ("au", None, "500 g", 60, 0.5, 2.0),
    ("au", None, "500 g", 60, 2.0, 9.0),
    ("au", "AQS", "500 g", 600, -0.6, 2.0),
    ("uk", "minimum", "340 g", 24, 5.0, 2.0),
    ("us-va", None, "12 oz", 36, -0.6, 2.5),
    ("uk", None, "227 g", 99, 0.2, 2.0),
    ("eu-de", None, "500 g", 300, -0.8, 2.0),
    ("codex", None, "500 g", 150, -0.6, 2.5),
    ("codex", None, "1.5 kg", 600, 3.0, 14.0),
]
# market, declared, jars in the lot, spread, habit, spread between runs, past runs, jars weighed of each
PRODUCERS = [
    ("uk", "340 g", 24, 2.0, 0.2, 0.0, 1, 12),
    ("uk", "340 g", 24, 2.0, 0.2, 0.0, 6, 12),
    ("uk", "340 g", 24, 2.0, -0.5, 0.6, 6, 12),
    ("uk", "340 g", 24, 2.0, -0.5, 0.6, 20, 12),
    ("eu", "500 g", 40, 3.0, 0.2, 0.5, 10, 20),
    ("us", "1 lb", 57, 8.0, 0.2, 1.0, 10, 12),
    ("ca", "500 g", 60, 9.0, 0.0, 1.0, 10, 15),
    ("nz", "340 g", 60, 5.0, 0.0, 0.5, 10, 12),
    ("au", "500 g", 60, 2.0, 0.2, 0.5, 10, 12),
]
DRAWN, NEXT_LOTS = 100, 20  # producers a case, and lots each fills afterwards


def simulate(
    test: LotTest, above: float, spread: float, random, lots: int = LOTS
) -> tuple[float, list[str], numpy.ndarray]:
    """The rate of lots that pass, by stages; the verdicts of the first lots, and their weights."""
    jars = max(stage.sample for stage in test.stages)
    # In whole milligrams, as a mass is kept; what a scale shows is coarser still.
    weights = numpy.round(random.normal(float(test.label) + above, spread, size=(lots, jars)), 3)
    means, spreads = weights[:, : test.mean_sample].mean(axis=1), numpy.zeros(lots)
    if test.mean_sample > 1:
        spreads = weights[:, : test.mean_sample].std(axis=1, ddof=1)
    holds = numpy.ones(lots, bool) if test.factor is None else means >= float(test.label) - float(test.factor) * spreads
    passed, open_ = numpy.zeros(lots, bool), numpy.ones(lots, bool)
    for number, stage in enumerate(test.stages):
        seen = weights[:, : stage.sample]
        short = (seen < float(test.shortest)).sum(axis=1)
        deep = (seen < float(test.deepest)).sum(axis=1) if test.deepest is not None else numpy.zeros(lots, int)
        fine = open_ & (short <= stage.allowed) & (deep <= test.deep_allowed)
        passed |= fine
        open_ &= ~fine & (short < stage.reject) & (deep <= test.deep_allowed)
        if number == len(test.stages) - 1:
            break
    passed &= holds
    return passed.mean(), ["pass" if p else "fail" for p in passed[:BOTH]], weights[:BOTH]


def our_verdict(test: LotTest, weights) -> str:
    """Labelkit's judge on one lot, weighing on where a stage asks for it."""
    masses = [Mass(round(float(w) * 1000)) for w in weights]
    mean_only = Sample(tuple(masses[: test.mean_sample]))
    for stage in test.stages:
        found = judge(Sample(tuple(masses[: max(stage.sample, test.mean_sample)])), test)
        if found.verdict != "ask":
            break
    if test.factor is not None and found.verdict != "fail":
        # The mean is judged on its own sample; a longer one would judge it more often than the plan does.
        limit = test.label - test.factor * mean_only.stdev
        return "pass" if mean_only.mean >= limit else "fail"
    return found.verdict


def learnt(case: tuple, random) -> tuple[float, float, float]:
    """The mean rate of lots that pass, its standard error over producers, and the mean grams above the label."""
    code, typed, size, spread, habit, between, runs, jars = case
    place, declares = market(code, DAY), Declared.read(typed, "en_US")
    label = declares.mass
    test = terms(declares, place, size)
    rates, above = [], []
    for _ in range(DRAWN):
        past = []
        for mean in habit + between * random.standard_normal(runs):
            weights = random.normal(mean, spread, jars)
            past.append(PastRun(Decimal(f"{weights.mean():.4f}"), Decimal(f"{weights.std(ddof=1):.4f}"), jars))
        told = next_fill("jar", declares, label, past, lambda lot: [terms(declares, place, lot)], [size])
        really = float(told.aim.g) + habit - float(test.label)
        runs_to_come = really + between * random.standard_normal(NEXT_LOTS)
        rates.append(numpy.mean([simulate(test, mean, spread, random, 200)[0] for mean in runs_to_come]))
        above.append(really)
    return float(numpy.mean(rates)), float(numpy.std(rates) / math.sqrt(DRAWN)), float(numpy.mean(above))


def producers(random) -> None:
    """Print one line a case: what was promised, and what came of it."""
    print(
        f"\n{DRAWN} producers a case, each told how to fill for a chance of 95 %, {NEXT_LOTS} runs of 200 lots afterwards"
    )
    for case in PRODUCERS:
        code, declares, size, spread, habit, between, runs, jars = case
        rate, error, above = learnt(case, random)
        short = 100 * (0.95 - rate - 3 * error)
        print(
            f"{code:6}{declares:>6} {size:>3} jars, spread {spread:3.1f}, habit {habit:+4.1f}, between runs {between:3.1f}, "
            f"{runs:>2} runs of {jars} weighed: {100 * rate:6.2f} ± {100 * error:4.2f}, {above:+5.2f} g above the label"
            f"{f'  {short:.1f} short of the promise' if short > 0 else ''}"
        )


def main(seed: int) -> int:
    """Print one line a case; the number of cases outside their bounds."""
    random = numpy.random.default_rng(seed)
    print(f"seed {seed}, {LOTS:,} lots a case; rate in %, predicted at least / at most, judges that differ")
    bad = 0
    for code, system, declares, size, above, spread in CASES:
        test = terms(Declared.read(declares, "en_US"), market(code, DAY), size, system=system)
        began = time.perf_counter()
        found = chance_of_passing(test, above, spread)
        reckoned = time.perf_counter() - began
        rate, verdicts, weights = simulate(test, above, spread, random)
        error = 3 * math.sqrt(max(rate * (1 - rate), 1e-4) / LOTS)
        within = found.at_least - error <= rate <= found.at_most + error
        differ = sum(verdict != our_verdict(test, row) for verdict, row in zip(verdicts, weights, strict=True))
        bad += not within or bool(differ)
        print(
            f"{code:6}{system or 'average':9}{declares:>6} {size:>4} jars {above:+5.1f} g, spread {spread:3.1f}: "
            f"{100 * rate:6.2f}  {100 * found.at_least:6.2f} / {100 * found.at_most:6.2f}  {differ:3d}  "
            f"{'' if within else 'OUTSIDE'} {1000 * reckoned:5.1f} ms"
        )
    print("all within their bounds" if not bad else f"{bad} cases outside")
    producers(random)
    return bad


if __name__ == "__main__":
    sys.exit(1 if main(int(sys.argv[1]) if len(sys.argv) > 1 else 20260714) else 0)
