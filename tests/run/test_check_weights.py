"""Check weights kept, what they say of a run, honey by hive, and how to fill next."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.filling import NoPastRuns, WeightsKeptAlready
from labelkit.lots.bucket import Drain, Source, WeighIn
from labelkit.measures import Declared, Mass, Money, total
from labelkit.rules import market
from labelkit.run import Filled, Run
from labelkit.run.check_weighing.margin import PastRun, habit_of
from labelkit.run.fill_test import terms
from labelkit.run.hive_yields import hive_yields
from labelkit.run.next_fill import next_fill
from labelkit.run.outcome import outcome
from labelkit.run.weighed import CheckWeighed, as_they_stand, refuse_twice, together
from tests.run.judging import stage
from tests.walks import examples

D = Decimal
DAY = date(2026, 7, 14)
LOT = "L26195AXR"


def g(text: str) -> Mass:
    return Mass.of_grams(D(text))


def check(*grams: str, **given) -> CheckWeighed:
    return CheckWeighed(DAY, LOT, "pound", Declared.read("1 lb", "en_US"), tuple(g(each) for each in grams), **given)


def test_gross_and_net_weighings_of_one_lot_are_one_sample():
    found = together([check("667.9", "666.5", tare=g("212.7")), check("455.2")])[LOT, "pound"]
    assert [mass.g for mass in found.jars.weights] == [D("455.2"), D("453.8"), D("455.2")]


def test_the_last_aim_that_was_written_down_holds():
    found = together([check("455", aimed=g("454")), check("456", aimed=g("455")), check("457")])[LOT, "pound"]
    assert found.aimed == g("455") and found.as_past_run.above_target == 1


def test_a_run_nobody_wrote_an_aim_for_teaches_its_spread_and_no_habit():
    past = together([check("455", "457", "459")])[LOT, "pound"].as_past_run
    assert (past.above_target, past.stdev, past.jars) == (None, 2, 3)
    habit = habit_of([past])
    assert (habit.above_target, habit.spread, habit.between_runs) == (0, 2, 0)
    assert any("What those runs were filled to is not known" in note for note in habit.notes)


def test_a_run_without_an_aim_does_not_water_down_the_habit_of_the_others():
    aimed = [PastRun(D(2), D(1), 10), PastRun(D(4), D(1), 10)]
    habit, mixed = habit_of(aimed), habit_of([*aimed, PastRun(None, D(1), 50)])
    assert (
        (mixed.above_target, mixed.between_runs) == (habit.above_target, habit.between_runs) == (3, habit.between_runs)
    )
    assert mixed.jars == 70


def test_after_topping_up_the_new_weights_speak_of_the_jars_and_the_first_of_the_filling():
    first, more = check("448", "452", aimed=g("453.6")), check("450")
    anew, later = check("454", "456", anew=True), check("455")
    found = together([first, more, anew, later])[LOT, "pound"]
    assert [mass.g for mass in found.jars.weights] == [454, 456, 455]
    assert found.as_past_run.jars == 3 and found.as_past_run.above_target == D("-3.6")
    assert as_they_stand([first, more, anew, later]) == [anew, later]
    assert as_they_stand([first, more]) == [first, more] and as_they_stand([]) == []


def test_the_same_list_twice_is_a_slip():
    kept = [check("455.1", "454.9", "455.4")]
    with pytest.raises(WeightsKeptAlready) as refused:
        refuse_twice(check("455.1", "454.9", "455.4"), kept)
    assert "3 weights of pound, lot L26195AXR" in refused.value.what
    refuse_twice(check("455.1", "454.9"), kept)
    refuse_twice(check("455.1", "454.9"), [check("455.1", "454.9")])


# --- what a run came to -----------------------------------------------------------------------------------------------


def ran(count: int = 57, left: str = "1200", weighed: bool = True) -> Run:
    pound = Filled("pound", Declared.read("1 lb", "en_US"), count, g("453.592"))
    return Run(LOT, DAY, "B1", g("27300"), (pound,), left=g(left), left_was_weighed=weighed)


def result(run: Run, *grams: str, hives: int = 0):
    weighed = together([check(*grams)]) if grams else {}
    return outcome(run, weighed, {"pound": g("453.592")}, {"pound": Money.of("10.65", "USD")}, hives)


def test_give_away_is_the_mean_above_the_label_times_the_jars():
    # By hand: mean 455.592 is 2 g above 453.592; 57 jars give 114 g; 114 / 453.592 of 10.65 is 2.68.
    found = result(ran(), "455.192", "455.992")
    assert (found.given_away.g, found.fillings[0].worth.amount) == (114, D("2.68"))


def test_what_the_jars_hold_beyond_what_was_booked_is_no_longer_unexplained():
    # 27300 - 1200 - 57 x 453.592 = 245.256 unexplained, of which 57 x 2 g are in the jars.
    found = result(ran(), "455.192", "455.992")
    assert found.run.unexplained.g == D("245.256")
    assert (found.found_in_jars.g, found.still_unexplained.g) == (114, D("131.256"))


def test_jars_under_their_label_give_nothing_away_and_leave_more_unexplained():
    found = result(ran(), "451.592", "453.592")
    assert (found.given_away.g, found.found_in_jars.g) == (0, -57)
    assert found.still_unexplained == found.run.unexplained + g("57")


def test_a_rest_that_was_not_weighed_leaves_nothing_to_explain():
    found = result(ran(left="1445.256", weighed=False), "455.592", "455.592")
    assert found.still_unexplained.g == 0 and found.found_in_jars.g == 114


def test_a_filling_nobody_weighed_says_nothing_of_give_away():
    found = result(ran())
    assert found.fillings[0].above is None and found.fillings[0].worth is None


def test_what_a_run_took_by_hive():
    assert result(ran(), hives=3).per_hive.g == 8700
    assert result(ran()).per_hive is None


# --- honey by yard and hive -------------------------------------------------------------------------------------------


def weighed_in(bucket: str, grams: int, *sources: Source) -> WeighIn:
    return WeighIn(bucket, DAY, Mass.of_grams(grams), sources=sources)


def test_a_bucket_of_several_hives_is_shared_out_equally_and_marked():
    # By hand: 30 kg of H1, H2 and H7 give each 10; H7 has 20 more of its own.
    yards = hive_yields(
        [
            weighed_in("B1", 30_000, Source("Mill", ("H1", "H2")), Source("Hill", ("H7",))),
            weighed_in("B2", 20_000, Source("Hill", ("H7",))),
        ]
    )
    hill, mill = yards
    assert (hill.mass.kg, mill.mass.kg, hill.shared.kg, hill.per_hive.kg) == (30, 20, 10, 30)
    assert (hill.hives[0].alone.kg, hill.hives[0].shared.kg) == (20, 10)
    assert mill.per_hive.kg == 10


def test_cappings_honey_goes_where_the_honey_of_its_bucket_went():
    drained = Drain("B1", DAY, Mass.of_grams(1_000))
    (hill,) = hive_yields([weighed_in("B1", 9_000, Source("Hill", ("H7",))), drained])
    assert hill.hives[0].alone.kg == 10


def test_where_no_hive_is_named_nobody_says_what_a_hive_gave():
    (hill,) = hive_yields([weighed_in("B1", 9_000, Source("Hill", ("H7",))), weighed_in("B2", 9_000, Source("Hill"))])
    assert (hill.named, hill.per_hive) == (1, None)
    (unnamed,) = hive_yields([weighed_in("B1", 9_000)])
    assert (unnamed.yard, unnamed.mass.kg, unnamed.per_hive) == ("", 9, None)


SOURCES = st.lists(
    st.builds(Source, st.sampled_from("abc"), st.lists(st.sampled_from(["H1", "H2", "H3"]), unique=True).map(tuple)),
    max_size=3,
    unique_by=lambda source: source.yard,
).map(tuple)
INTAKE = st.lists(
    st.builds(WeighIn, st.sampled_from(["B1", "B2"]), st.just(DAY), st.integers(1, 10**9).map(Mass), sources=SOURCES)
    | st.builds(Drain, st.sampled_from(["B1", "B2"]), st.just(DAY), st.integers(1, 10**9).map(Mass), sources=SOURCES),
    max_size=8,
)


@given(INTAKE)
def test_yields_add_up_to_what_came_in_to_the_milligram(intake):
    assert total(yard.mass for yard in hive_yields(intake)) == total(each.net for each in intake)


# --- how to fill next -------------------------------------------------------------------------------------------------


def next_of(code: str, runs: list[PastRun], lots: list[int], typed: str = "340 g", wanted: str = "0.95"):
    place, declares = market(code, DAY), Declared.read(typed, "en_US")
    return next_fill("jar", declares, declares.mass, runs, lambda lot: [terms(declares, place, lot)], lots, D(wanted))


def test_a_habit_of_running_over_is_taken_off_the_aim_and_stays_in_the_jar():
    even = next_of("uk", [PastRun(D(0), D(2), 60)] * 3, [24])
    over = next_of("uk", [PastRun(D("0.5"), D(2), 60)] * 3, [24])
    assert over.aim.g == even.aim.g - D("0.5")
    assert over.takes == even.takes


def test_nobody_is_told_to_aim_below_the_label():
    found = next_of("uk", [PastRun(D(9), D(2), 60)] * 3, [24])
    assert (found.aim.g, found.takes.g, found.margin.g) == (340, 349, 0)


def test_a_habit_of_underfilling_raises_the_aim_and_not_what_a_jar_takes():
    found = next_of("uk", [PastRun(D(-2), D(2), 60)] * 3, [24])
    even = next_of("uk", [PastRun(D(0), D(2), 60)] * 3, [24])
    assert found.aim.g == even.aim.g + 2 and found.takes == even.takes


def test_the_margin_is_safe_for_every_lot_size_and_market_that_was_asked_about():
    runs = [PastRun(D(0), D(3), 40)] * 3
    alone = [next_of("uk", runs, [size]).takes for size in (12, 24, 90)]
    assert next_of("uk", runs, [12, 24, 90]).takes == max(alone)


def test_no_margin_helps_where_the_sample_rests_on_no_plan():
    # Australia's usual way asks for lots of twelve and more.
    found = next_of("au", [PastRun(D(0), D(2), 40)] * 3, [5])
    assert any("prints no plan" in note for note in found.notes)


def test_without_two_jars_of_one_run_nothing_is_learnt():
    with pytest.raises(NoPastRuns):
        next_of("uk", [PastRun(D(0), D(0), 1)], [24])


def test_each_gram_costs_what_the_honey_would_have_brought():
    # 60 g of honey in jars of 453.592 g that bring 10.65 each: 1.41.
    found = next_of("us", [PastRun(D(0), D(2), 40)], [60], "1 lb")
    assert found.each_gram(60, Money.of("10.65", "USD")).amount == D("1.41")


@settings(deadline=None, max_examples=examples(25))
@given(
    st.sampled_from(["us", "uk", "ca", "nz"]),
    st.integers(-30, 30).map(lambda n: D(n) / 10),
    st.integers(1, 40).map(lambda n: D(n) / 10),
    st.integers(12, 400),
)
def test_a_jar_takes_at_least_what_it_owes_and_a_lot_passes_as_asked(code, habit, spread, lot):
    found = next_of(code, [PastRun(habit, spread, 40)] * 3, [lot])
    assert found.aim >= found.owes and found.takes >= found.owes
    assert found.chance >= 0.9499


def test_weights_the_record_keeps_are_judged_as_typed_ones_are():
    from labelkit.reading.weight_list import of_options
    from tests.run.judging import fill_test

    gross = ["666.2", "664.1", "667.0", "665.9", "663.8", "665.3", "668.1", "664.7", "666.4", "665.0", "665.6", "666.0"]
    place = market("us", DAY)
    typed = fill_test(Declared.read("1 lb", "en_US"), place, 200, of_options(gross), tare="212.7 g")
    kept = stage.fill_test(
        Declared.read("1 lb", "en_US"), place, 200, tuple(g(each) for each in gross), tare=g("212.7"), locale="en_US"
    )
    assert kept.verdict == typed.verdict
    assert kept.verdict.average_error == D("-0.625")  # the handbook's way, worked by hand
