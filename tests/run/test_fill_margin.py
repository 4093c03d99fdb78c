"""The fill margin: chances against outside formulas, habits learnt from past runs, and what a gram costs."""

import math
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.filling import NoPastRuns, SpreadUnclear
from labelkit.measures import Declared, Money
from labelkit.rules import market
from labelkit.run.check_weighing.chance import chance_of_passing
from labelkit.run.check_weighing.lot_test import LotTest, Stage
from labelkit.run.check_weighing.margin import Habit, PastRun, cost_of_a_gram, given_away, habit_of, margin_for
from labelkit.run.fill_test import terms

D = Decimal
DAY = date(2026, 11, 25)
HABIT = Habit(D(0), D(2), D(0), 120, 6)


def lot(market_code: str, declares: str, size: int, system: str | None = None) -> LotTest:
    return terms(Declared.read(declares, "en_US"), market(market_code, DAY), size, system=system)


@pytest.mark.parametrize("size", [2, 5, 12, 200, 800])
@pytest.mark.parametrize("above", [-1.0, 0.0, 0.7])
def test_the_chance_of_the_mean_is_the_noncentral_t_of_the_textbooks(size, above):
    nct = pytest.importorskip("scipy.stats").nct
    test, spread = lot("us", "1 lb", size), 2.0
    n, factor = test.mean_sample, float(test.factor)
    expected = nct.sf(-factor * math.sqrt(n), n - 1, above / spread * math.sqrt(n))
    assert chance_of_passing(test, above, spread).mean == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("spread", [4.0, 8.0, 12.0])
def test_the_chance_of_the_jars_is_binomial(spread):
    stats = pytest.importorskip("scipy.stats")
    test = LotTest("x", "average", "x", D(340), 80, 12, 12, D("0.86"), (Stage(12, 2, 3),), D("10.2"))
    short = stats.norm.cdf(-10.2 / spread)
    assert chance_of_passing(test, 0.0, spread).jars == pytest.approx(stats.binom.cdf(2, 12, short), abs=1e-9)


def test_a_second_stage_adds_what_the_first_left_open():
    stats = pytest.importorskip("scipy.stats")
    two = (Stage(30, 1, 3), Stage(60, 4, 5))
    test = LotTest("x", "average", "x", D(500), 300, 30, 30, D("0.503"), two, D(15))
    short = stats.norm.cdf(-15 / 7.5)
    first = stats.binom(30, short)
    expected = first.cdf(1) + first.pmf(2) * first.cdf(2)
    assert chance_of_passing(test, 0.0, 7.5).jars == pytest.approx(expected, abs=1e-9)


def test_very_short_jars_are_counted_apart():
    stats = pytest.importorskip("scipy.stats")
    test = LotTest("x", "average", "x", D(340), 60, 12, 12, D(0), (Stage(12, 1, 2),), D("10.2"), D("20.4"), 0)
    short, deep = stats.norm.cdf(-10.2 / 9), stats.norm.cdf(-20.4 / 9)
    expected = (1 - short) ** 12 + 12 * (short - deep) * (1 - short) ** 11
    assert chance_of_passing(test, 0.0, 9.0).jars == pytest.approx(expected, abs=1e-9)


def test_every_jar_at_least_the_label_needs_every_jar():
    normal = pytest.importorskip("scipy.stats").norm
    test = lot("uk", "340 g", 24, system="minimum")
    assert chance_of_passing(test, 5.0, 2.0).at_least == pytest.approx(normal.cdf(2.5) ** 24, abs=1e-9)


@pytest.mark.parametrize(("code", "size"), [("us", 200), ("uk", 24), ("uk", 300), ("ca", 60), ("nz", 60), ("au", 60)])
def test_a_margin_gives_the_chance_that_was_asked_for_and_no_gram_more(code, size):
    test = lot(code, "340 g", size)
    found = margin_for(test, HABIT, D("0.95"))
    assert found.chance.at_least >= 0.95
    less = chance_of_passing(test, float(found.above_label) - 0.1, 2.0, float(HABIT.to_come))
    assert found.above_label == 0 or less.at_least < 0.95


def test_a_habit_of_overfilling_lowers_the_aim_and_not_the_margin():
    test = lot("uk", "340 g", 24)
    plain, generous = (margin_for(test, Habit(D(h), D(2), D(0), 120, 6), D("0.95")) for h in ("0", "1.5"))
    assert plain.above_label == generous.above_label
    assert plain.aim - generous.aim == D("1.5")


def test_a_wider_spread_or_a_surer_wish_never_lowers_the_margin():
    test = lot("uk", "340 g", 24)
    margins = [
        margin_for(test, Habit(D(0), D(s), D(0), 99, 9), D(p)).above_label
        for s, p in (("1", "0.9"), ("2", "0.9"), ("2", "0.99"), ("3", "0.99"))
    ]
    assert margins == sorted(margins) and margins[0] < margins[-1]


def test_runs_that_differ_from_each_other_ask_for_more():
    test = lot("uk", "340 g", 24)
    steady = margin_for(test, Habit(D(0), D(2), D(0), 120, 6), D("0.95")).above_label
    moody = margin_for(test, Habit(D(0), D(2), D(1), 120, 6), D("0.95")).above_label
    assert moody > steady


def test_a_least_margin_is_kept():
    assert margin_for(lot("us", "1 lb", 200), HABIT, D("0.5"), never_below=D("1.0")).above_label == D("1.0")


def test_past_runs_are_pooled_as_the_textbooks_pool_groups():
    # Two groups of 12: within 2.0; between, by one-way analysis of variance: (6 − 4) / 12, its root 0.408.
    habit = habit_of([PastRun(D("1.0"), D("2.0"), 12), PastRun(D("2.0"), D("2.0"), 12)])
    assert (habit.above_target, habit.spread, round(habit.between_runs, 3)) == (D("1.5"), D("2.0"), D("0.408"))
    assert habit_of([PastRun(D(1), D(1), 5), PastRun(D(1), D(3), 5)]).spread == D(5).sqrt()
    assert habit_of([PastRun(D(1), D(1), 5)]).between_runs == 0


def test_few_weighings_are_said_to_be_few():
    habit = habit_of([PastRun(D("1.0"), D("2.0"), 12)])
    assert any("Only 12 jars" in note for note in habit.notes)
    assert any("three runs" in note for note in habit.notes)


def test_nothing_to_learn_from_is_refused():
    with pytest.raises(NoPastRuns):
        habit_of([])
    with pytest.raises(NoPastRuns):
        habit_of([PastRun(D(1), D(0), 1)])


@pytest.mark.parametrize("wanted", ["0", "1", "1.5"])
def test_a_certain_pass_cannot_be_asked_for(wanted):
    with pytest.raises(SpreadUnclear):
        margin_for(lot("us", "1 lb", 200), HABIT, D(wanted))


def test_a_spread_below_zero_is_refused():
    with pytest.raises(SpreadUnclear):
        margin_for(lot("us", "1 lb", 200), Habit(D(0), D(-1), D(0), 9, 9), D("0.9"))


def test_what_a_gram_costs_over_a_run():
    # 120 jars, one gram each, honey at 24.00 a kilogram: 120 g, 2.88.
    assert cost_of_a_gram(120, Money.of("24.00", "USD")) == Money.of("2.88", "USD")
    assert given_away(D("2.5"), 120).g == 300


@given(st.floats(-3, 6), st.floats(0.2, 9))
def test_chances_are_chances_and_their_bounds_are_in_order(above, spread):
    for test in (lot("us", "1 lb", 200), lot("eu", "340 g", 300), lot("ca", "500 g", 60)):
        found = chance_of_passing(test, above, spread)
        assert -1e-9 <= found.at_least <= found.at_most + 1e-9 <= 1 + 1e-6
        assert chance_of_passing(test, above + 0.5, spread).at_least >= found.at_least - 1e-6


def test_no_spread_at_all_is_all_or_nothing():
    test = lot("uk", "340 g", 24)
    assert chance_of_passing(test, 0.1, 0.0).at_least == 1.0
    assert chance_of_passing(test, -0.1, 0.0).at_most == 0.0


def test_the_margin_by_hand():
    # A whole lot of 24 judged by its mean: 2/√24 = 0.408; the habit of 60 jars 2/√60 = 0.258; together 0.483.
    # 95 in 100 lie within 1.645 of that: 0.795, in tenths of a gram 0.8.
    found = margin_for(lot("uk", "340 g", 24), Habit(D(0), D(2), D(0), 60, 12), D("0.95"))
    assert found.above_label == D("0.8") and not found.notes


def test_a_habit_known_from_few_jars_asks_for_more_than_one_known_from_many():
    test = lot("uk", "340 g", 24)
    few, many = (margin_for(test, Habit(D(0), D(2), D(0), jars, 3), D("0.95")).above_label for jars in (6, 600))
    assert few > many


def test_the_next_run_strays_as_a_prediction_does():
    # Variance of a prediction: 0.36 between runs, a sixth of it for the mean of six, and 4/72 for its 72 jars.
    assert float(Habit(D(0), D(2), D("0.6"), 72, 6).to_come) == pytest.approx(
        math.sqrt(0.36 * 7 / 6 + 4 / 72), abs=1e-9
    )
    assert Habit(D(0), D(2), D("0.6"), 0, 0).to_come == D("0.6")
