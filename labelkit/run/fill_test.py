"""The fill test of a lot, whole: from a declared weight and the weights of jars to a verdict and what to do.

This is the door the command line and the page go through; the terms come from the market's packs
(:mod:`labelkit.run.check_weighing.law`), the judgement from :mod:`labelkit.run.check_weighing.judge`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures import Declared, Mass
from labelkit.measures.division import GRAM, UNITS, Division
from labelkit.measures.locales import show_number
from labelkit.measures.rounding import DOWN, plain
from labelkit.rules.figures import net_weight
from labelkit.rules.findings import CHECK_LOCAL, law_lines
from labelkit.rules.market import Market
from labelkit.run.check_weighing.advice import Advice, advise
from labelkit.run.check_weighing.gross import net_of_gross, unit_of_measure
from labelkit.run.check_weighing.judge import Verdict, judge
from labelkit.run.check_weighing.law import lot_test
from labelkit.run.check_weighing.lot_test import LotTest
from labelkit.run.check_weighing.sample import Sample
from labelkit.run.check_weighing.tolerances import tolerances_of

SCALE_CAUTION = "Use a scale that is legal for trade, levelled and zeroed; a kitchen scale is not one."
_TENTH = Decimal("0.1")


@dataclass(frozen=True)
class FillTest:
    """A verdict with everything a producer needs beside it."""

    declares: Declared
    verdict: Verdict
    advice: Advice
    is_variation: bool
    notes: tuple[str, ...]
    shown_in: Division = GRAM  # the scale in whose unit its figures are said

    @property
    def test(self) -> LotTest:
        """The terms it was judged by."""
        return self.verdict.test

    @property
    def law(self) -> str:
        """Where the terms are written, and how sure that is."""
        return law_lines(self.test.laws) if self.test.laws else CHECK_LOCAL


def terms(
    declares: Declared,
    market: Market,
    lot: int,
    *,
    system: str | None = None,
    weighed: int | None = None,
    destructive: bool = False,
) -> LotTest:
    """The terms of a lot before anything is weighed: how many jars to weigh, and what will be asked of them."""
    label = enforced(declares, market)
    return lot_test(
        market,
        label,
        lot,
        tolerances_of(market, declares),
        system=system,
        weighed=weighed,
        destructive=destructive,
    )


def enforced(declares: Declared, market: Market) -> Mass:
    """The declared weight that is enforced, in whole milligrams: the larger of two figures that differ."""
    return Mass.of_grams(net_weight.net_quantity(declares, market).fill_at_least_g)


def fill_test(
    declares: Declared,
    market: Market,
    lot: int,
    masses: tuple[Mass, ...],
    *,
    system: str | None = None,
    destructive: bool = False,
    tare: Mass | None = None,
    division: Division | None = None,
    shown_in: Division | None = None,
    locale: str,
    notes: tuple[str, ...] = (),
) -> FillTest:
    """Judge a lot of jars by its market's own test.

    The masses are gross ones where a tare is given. ``division`` is the step the scale counts in; where it is not given
    it is taken from the masses. ``shown_in`` is the unit figures are said in where no division is given. ``notes`` say how the weights were understood and go before all others. Raises the
    refusals of :mod:`labelkit.errors.filling` and of rules.
    """
    label = enforced(declares, market)
    step = division or _step_of(masses, shown_in)
    shown = division or shown_in or GRAM
    if tare is not None and masses:
        unit = unit_of_measure(step.step) * UNITS[step.unit] if step else _TENTH
        masses = net_of_gross(masses, label.g, tare, unit if step and step.customary else min(unit, Decimal(1)))
    tolerances = tolerances_of(market, declares)
    test = lot_test(market, label, lot, tolerances, system=system, weighed=len(masses), destructive=destructive)
    verdict = judge(Sample(masses), test)

    def retest(other: Mass) -> LotTest:
        return lot_test(
            market,
            other,
            lot,
            tolerances_of(market, Declared.of_grams(other.g)),
            system=test.system,
            weighed=len(masses),
            destructive=destructive,
        )

    notes = (
        *notes,
        *_scale_notes(test, step, division is not None, locale),
        *_more_than_asked(verdict),
        *_whole_lot(verdict),
    )
    return FillTest(
        declares, verdict, advise(verdict, retest, shown, locale=locale), tolerances.is_variation, notes, shown
    )


def _step_of(masses: tuple[Mass, ...], typed: Division | None) -> Division | None:
    """The step the weights themselves show, where there are enough of them to tell; ounces as they were typed."""
    if typed and typed.customary and all(map(typed.can_show, masses)):
        return typed
    if len(set(masses)) < 3:
        return None
    return Division.of(Mass(math.gcd(*(mass.mg for mass in masses))))


def _scale_notes(test: LotTest, step: Division | None, given: bool, locale: str) -> tuple[str, ...]:
    notes = [SCALE_CAUTION]
    coarsest = test.coarsest_step()
    if test.step_share and coarsest is not None and step is not None and step.g > coarsest:
        source = "The scale counts" if given else "The weights all go"
        part = f"{plain(Decimal(test.step_share.numerator))}/{test.step_share.denominator}"
        most = step.show(coarsest, locale, DOWN)
        notes.insert(
            0,
            f"{source} in steps of {step.show(step.g, locale)}: too coarse for this test, which bears at most "
            f"{most} ({part} of what one jar may be short).",
        )
    return tuple(notes)


def _more_than_asked(verdict: Verdict) -> tuple[str, ...]:
    """More weights than the plan's know more than the plan allows for; a pass that rests on that is told."""
    test, mean = verdict.test, verdict.sample.mean
    if verdict.verdict != "pass" or test.stricter is None or mean >= test.label - test.stricter * verdict.sample.stdev:
        return ()
    return (
        Sentence(
            "You weighed {n} jars where the plan takes {planned} for the mean; with the plan's own factor for as many "
            "({factor}) the mean would be too low. Fill higher.",
            n=len(verdict.sample),
            planned=test.mean_sample,
            factor=Figure(show_number, test.stricter),
        ),
    )


def _whole_lot(verdict: Verdict) -> tuple[str, ...]:
    if len(verdict.sample) == verdict.test.lot > 1 and verdict.verdict == "pass" and verdict.average_error < 0:
        return ("Every jar was weighed, so it is certain that the lot holds less than its label on average.",)
    return ()
