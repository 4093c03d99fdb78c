"""What a producer may wish of a plan: each wish on a season small enough to reckon by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from labelkit.errors.plan import TogetherAboveHoney, UseFirstImpossible
from labelkit.measures import Declared, Mass, Money
from labelkit.plan import Goal, JarSize, Joining, Keep, PlanBucket, PlanRequest, Step, Wet, jar_plan
from tests.plan.counted import best_value


def usd(amount: str) -> Money:
    return Money.of(amount, "USD")


def grams(g: int) -> Mass:
    return Mass.of_grams(g)


KILO = JarSize("kilo", Declared.read("1 kg", "en_US"), grams(1000), usd("20"), usd("2"))
HALF = JarSize("half", Declared.read("500 g", "en_US"), grams(500), usd("11"), usd("1"))
B1, B2 = PlanBucket("B1", grams(10_400)), PlanBucket("B2", grams(5_700))
REQUEST = PlanRequest((B1, B2), (KILO, HALF), "USD")


def test_the_best_jar_for_its_honey_fills_every_bucket():
    # A half brings 10.00 for 500 g, a kilo 18.00: 20 halves in B1 and 11 in B2.
    plan = jar_plan(REQUEST)
    assert plan.jars == {"kilo": 0, "half": 31}
    assert [(b.id, b.filled.g, b.left.g) for b in plan.buckets] == [("B1", 10_000, 400), ("B2", 5_500, 200)]
    assert (plan.status, plan.value, plan.bound) == ("proved", usd("310.00"), usd("310.00"))


def test_the_document_is_the_one_of_the_command_contract():
    document = jar_plan(REQUEST).as_dict()
    assert list(document) == ["status", "value", "bound", "gap", "jars", "buckets"]
    assert document["value"] == "310.00"
    assert document["buckets"][1] == {
        "id": "B2",
        "usable_g": Decimal(5700),
        "jars": {"half": 11},
        "filled_g": Decimal(5500),
        "left_g": Decimal(200),
    }


def test_sixty_pounds_hold_sixty_one_pound_jars():
    # Down to the milligram on both sides, by the one rule of the measures.
    pound = JarSize("one pound", Declared.read("1 lb", "en_US"), Mass.read("1 lb", "en_US"), usd("12"), usd("1.35"))
    plan = jar_plan(PlanRequest((PlanBucket("B1", Mass.read("60 lb", "en_US")),), (pound,), "USD"))
    assert plan.jars == {"one pound": 60}
    assert plan.buckets[0].left < Mass(100)


def test_a_wet_bucket_is_left_out_and_named():
    wet = replace(B2, moisture=Decimal("19.2"), ceiling=Decimal("18.6"))
    plan = jar_plan(replace(REQUEST, buckets=(B1, wet)))
    assert plan.jars == {"kilo": 0, "half": 20}
    assert [(out.bucket, out.reason) for out in plan.left_out] == [
        ("B2", "moisture 19.2 % is over the limit of 18.6 %")
    ]
    allowed = jar_plan(replace(REQUEST, buckets=(B1, wet), wet=Wet.ALLOW))
    assert allowed.jars["half"] == 31
    assert not allowed.left_out


def test_a_bucket_at_its_ceiling_is_not_wet():
    assert not PlanBucket("B1", grams(1), Decimal("18.6"), Decimal("18.6")).is_wet
    assert not PlanBucket("B1", grams(1), None, Decimal("18.6")).is_wet


def test_empty_jars_at_hand_are_a_hard_limit_unless_more_may_be_bought():
    few = replace(HALF, in_stock=25)
    assert jar_plan(replace(REQUEST, sizes=(KILO, few))).jars == {"kilo": 3, "half": 25}
    plan = jar_plan(replace(REQUEST, sizes=(KILO, replace(few, may_buy=True, buy_pack=12))))
    assert plan.jars["half"] == 31
    assert plan.to_buy == {"half": 12}  # six are missing, and they come in twelves


def test_reserved_jars_are_filled_on_top_and_bring_nothing():
    plan = jar_plan(replace(REQUEST, sizes=(KILO, replace(HALF, reserve=4, at_most=6))))
    # The buckets hold 20 and 11 halves' worth. Eleven kilos leave nine, of which five sell; with ten kilos, six would.
    assert plan.jars == {"kilo": 11, "half": 9}
    assert plan.value.minor == 11 * 1800 + 5 * 1000 - 4 * 100
    assert plan.value.minor == best_value(replace(REQUEST, sizes=(KILO, replace(HALF, reserve=4, at_most=6))))


def test_only_whole_cases_are_filled():
    plan = jar_plan(replace(REQUEST, sizes=(replace(KILO, case=6), replace(HALF, case=12))))
    assert plan.jars["kilo"] % 6 == 0
    assert plan.jars["half"] % 12 == 0
    assert plan.proved


def test_a_falling_price_moves_the_next_jar_to_another_size():
    # From the eleventh half on it brings 7.00 - 1.00 for 500 g, less than half of a kilo's 18.00; of the 31 halves'
    # worth of honey eleven kilos leave nine.
    stepped = replace(HALF, steps=(Step(10, usd("7")),))
    request = replace(REQUEST, sizes=(KILO, stepped))
    plan = jar_plan(request)
    assert plan.value.minor == best_value(request)
    assert plan.jars == {"kilo": 11, "half": 9}


def test_honey_kept_stays_in_one_bucket():
    plan = jar_plan(replace(REQUEST, keep=(Keep("winter feed", grams(5_200)),)))
    # 16.1 kg less 5.2 kg: kept in B1 it leaves 5.2 + 5.7 kg for 10 + 11 halves; kept in B2, 10.4 + 0.5 for 20 + 1.
    assert plan.jars["half"] == 21
    (kept,) = plan.kept
    bucket = next(b for b in plan.buckets if b.id == kept.bucket)
    assert bucket.left >= kept.mass


def test_a_jar_is_filled_only_from_honey_it_may_hold():
    heather = replace(B2, tags=frozenset({"heather"}))
    plan = jar_plan(
        replace(REQUEST, buckets=(B1, heather), sizes=(KILO, replace(HALF, only_from=frozenset({"heather"}))))
    )
    assert plan.buckets[0].jars == {"kilo": 10}
    assert plan.buckets[1].jars == {"half": 11}


def test_a_bucket_to_be_used_first_is_emptied_before_any_other():
    # Ten halves sell. B2 is wetter: all ten come from B2, and what is left there is less than the smallest jar takes
    # where the jars suffice; with 11 halves wanted, B2 is emptied.
    sizes = (replace(HALF, at_most=12),)
    plan = jar_plan(replace(REQUEST, buckets=(B1, replace(B2, use_first=True)), sizes=sizes))
    assert plan.buckets[1].jars == {"half": 11}
    assert plan.jars == {"half": 12}


def test_where_jars_run_out_a_bucket_to_be_used_first_is_the_only_one_opened():
    sizes = (replace(HALF, at_most=7),)
    plan = jar_plan(replace(REQUEST, buckets=(B1, replace(B2, use_first=True)), sizes=sizes))
    assert plan.buckets[0].jars == {}
    assert plan.buckets[1].jars == {"half": 7}


def test_a_bucket_to_be_used_first_that_floors_keep_shut_is_told():
    # Seven halves sell, all of them heather; B2, to be used first, is lime and fits no other jar.
    b1, b2 = replace(B1, tags=frozenset({"heather"})), replace(B2, use_first=True)
    heather = replace(HALF, at_least=7, at_most=7, only_from=frozenset({"heather"}))
    with pytest.raises(UseFirstImpossible) as caught:
        jar_plan(replace(REQUEST, buckets=(b1, b2), sizes=(replace(KILO, at_most=1), heather)))
    assert "B2" in caught.value.what


def test_no_bucket_is_opened_for_jars_another_has_honey_for():
    # Seven halves sell, and either bucket holds them.
    plan = jar_plan(replace(REQUEST, sizes=(replace(HALF, at_most=7),)))
    assert sum(1 for bucket in plan.buckets if bucket.jars) == 1


def test_the_same_jars_are_filled_with_as_few_sizes_to_a_bucket_as_may_be():
    # Two buckets of ten kilos, ten kilo jars and twenty halves: one bucket fills the ones, the other the others.
    buckets = (PlanBucket("B1", grams(10_000)), PlanBucket("B2", grams(10_000)))
    plan = jar_plan(replace(REQUEST, buckets=buckets, sizes=(KILO, replace(HALF, at_most=20))))
    assert plan.jars == {"kilo": 10, "half": 20}
    assert sorted(tuple(bucket.jars) for bucket in plan.buckets) == [("half",), ("kilo",)]


def test_one_size_first_then_money():
    plan = jar_plan(replace(REQUEST, goal=Goal.SIZE_FIRST, first="kilo"))
    # Ten kilos from B1 and five from B2, then one half from what is left of B2 (0.7 kg).
    assert plan.jars == {"kilo": 15, "half": 1}
    assert [(s.goal, s.reached) for s in plan.stages] == [("one size first", 15), ("most money", 28_000)]
    assert plan.proved


def test_least_left_over_then_money():
    dear = replace(KILO, price=usd("40"))
    money = jar_plan(replace(REQUEST, sizes=(dear, HALF)))
    least = jar_plan(replace(REQUEST, sizes=(dear, HALF), goal=Goal.LEAST_LEFT))
    assert least.left == grams(600)  # 400 g in B1 and 200 g in B2
    assert least.left <= money.left
    assert least.value <= money.value


def test_the_wished_mix_is_met_as_nearly_as_whole_jars_allow():
    plan = jar_plan(replace(REQUEST, goal=Goal.MIX, mix=(("kilo", Decimal(1)), ("half", Decimal(1)))))
    # 16.1 kg make 10.73 of each, so ten of each is the wish; ten kilos and ten halves fit.
    assert plan.jars == {"kilo": 10, "half": 10}
    assert plan.stages[0].reached == 0
    assert plan.proved


def test_the_smallest_shortfall_is_named_line_by_line():
    with pytest.raises(TogetherAboveHoney) as caught:
        jar_plan(replace(REQUEST, sizes=(replace(KILO, at_least=14), replace(HALF, at_least=6))))
    assert "“half” 3 short (3 of 6 can be filled)" in caught.value.what
    assert "kilo" not in caught.value.what


TAILS = (
    PlanBucket("B1", grams(10_400), hives=3),
    PlanBucket("B2", grams(5_700), hives=2),
    PlanBucket("B3", grams(4_300), hives=4, tags=frozenset({"heather"})),
)


def test_tails_are_not_joined_unless_it_was_allowed():
    assert jar_plan(replace(REQUEST, buckets=TAILS, sizes=(KILO,))).blends == ()


def test_joined_tails_say_what_they_gain_and_whom_a_recall_reaches():
    plan = jar_plan(replace(REQUEST, buckets=TAILS, sizes=(KILO,), joining=Joining(effort=usd("1.50"))))
    (blend,) = plan.blends
    # 400 g of B1 and 700 g of B2 make one kilo more; the heather in B3 keeps apart.
    assert blend.parts == (("B2", grams(700)), ("B1", grams(400)))
    assert blend.jars == {"kilo": 1}
    assert blend.gain == usd("15.00")  # 18.00 less twice 1.50
    assert blend.hives == 5
    assert blend.left == grams(100)
    assert plan.jars == {"kilo": 10 + 5 + 4 + 1}
    assert plan.value == usd("360.00")
    assert plan.bound >= plan.value


def test_tails_not_worth_the_effort_stay_where_they_are():
    plan = jar_plan(replace(REQUEST, buckets=TAILS, sizes=(KILO,), joining=Joining(effort=usd("9.00"))))
    assert plan.blends == ()
    assert plan.proved


def test_every_wish_at_once_still_recounts():
    sizes = (
        replace(KILO, reserve=1, case=2, in_stock=6, may_buy=True, buy_pack=10, steps=(Step(2, usd("15")),)),
        replace(HALF, at_least=3, at_most=14, only_from=frozenset({"clover"})),
    )
    buckets = (replace(B1, tags=frozenset({"clover"}), use_first=True), replace(B2, tags=frozenset({"lime", "clover"})))
    request = replace(REQUEST, buckets=buckets, sizes=sizes, keep=(Keep("show", grams(300)),), joining=Joining())
    for goal in (Goal.MONEY, Goal.LEAST_LEFT, Goal.SIZE_FIRST):
        plan = jar_plan(replace(request, goal=goal, first="kilo"))
        assert plan.jars["kilo"] % 2 == 0
        assert 3 <= plan.jars["half"] <= 14
