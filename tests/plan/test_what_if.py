"""Why this many, what if, and how to be safe: each against plans reckoned by hand or counted out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.lots import BucketUnknown
from labelkit.errors.plan import NumberImpossible, SizeNotHere
from labelkit.measures import Declared, Mass, Money
from labelkit.plan import Goal, JarSize, PlanBucket, PlanRequest, Step, jar_plan
from labelkit.plan.safety import Safety, with_safety
from labelkit.plan.what_if import changed, difference
from labelkit.plan.why import kilogram_worth, reasons
from tests.plan.counted import best_value


def usd(amount: str) -> Money:
    return Money.of(amount, "USD")


KILO = JarSize("kilo", Declared.read("1 kg", "en_US"), Mass.of_grams(1000), usd("20"), usd("2"))
HALF = JarSize("half", Declared.read("500 g", "en_US"), Mass.of_grams(500), usd("11"), usd("1"), in_stock=21)
REQUEST = PlanRequest(
    (PlanBucket("B1", Mass.of_grams(10_400)), PlanBucket("B2", Mass.of_grams(5_700))), (KILO, HALF), "USD"
)


def test_one_more_and_one_less_are_the_true_difference():
    # 31 halves' worth of honey: 21 halves and five kilos bring 300.00.
    plan = jar_plan(REQUEST)
    assert (plan.jars, plan.value) == ({"kilo": 5, "half": 21}, usd("300.00"))
    kilo, half = reasons(REQUEST, plan)
    # A sixth kilo takes two halves away: 18.00 - 20.00. One kilo less leaves honey for which there are no empty halves.
    assert (kilo.one_more, kilo.one_less) == (usd("-2.00"), usd("-18.00"))
    # With 22 halves in stock one would be left over, for the honey makes an odd number: 23 would pay, 22 does not.
    assert half.limit == "in_stock"
    assert half.one_more == usd("-8.00")
    # With at most 20 halves, 19 and a sixth kilo are better than 20: 190.00 + 108.00.
    assert half.one_less == usd("-2.00")
    assert kilo.sure
    assert half.sure
    assert half.words("en_US").startswith("half: 21, every empty jar there is. One more would bring $8.00 less")


def test_the_true_differences_agree_with_counting_everything():
    sizes = (
        KILO,
        HALF,
        JarSize("third", Declared.read("1 lb", "en_US"), Mass(333_000), usd("7.30"), usd("0.80"), at_most=4),
    )
    request = replace(
        REQUEST, sizes=sizes, buckets=(PlanBucket("B1", Mass.of_grams(3_900)), PlanBucket("B2", Mass.of_grams(2_300)))
    )
    plan = jar_plan(request)
    for size, reason in zip(sizes, reasons(request, plan), strict=True):
        count = plan.jars[size.id]
        forced = replace(
            size,
            at_least=count + 1,
            at_most=max(size.at_most or 0, count + 1),
            in_stock=max(size.in_stock or 0, count + 1),
        )
        more = best_value(replace(request, sizes=tuple(forced if s is size else s for s in sizes)))
        assert reason.one_more == (None if more is None else Money(more - plan.value.minor, "USD"))
        if count:
            capped = replace(size, at_most=count - 1)
            less = best_value(replace(request, sizes=tuple(capped if s is size else s for s in sizes)))
            assert reason.one_less == Money(less - plan.value.minor, "USD")


def test_of_many_buckets_the_differences_are_called_estimates():
    many = replace(
        REQUEST,
        buckets=tuple(PlanBucket(f"B{n}", Mass.of_grams(10_000 + 7 * n)) for n in range(80)),
        sizes=(KILO, replace(HALF, in_stock=100)),
    )
    kilo, half = reasons(many, jar_plan(many))
    assert not kilo.sure
    assert "about" in half.words("en_US")
    # The last gram goes into kilos, 18.00 each, so a half more, 10.00, would take 9.00 from them.
    assert kilogram_worth(many) == usd("18.00")
    assert half.one_more == usd("1.00")


def test_of_a_proved_plan_no_estimate_says_that_one_more_of_a_free_size_pays():
    many = replace(
        REQUEST,
        buckets=tuple(PlanBucket(f"B{n}", Mass.of_grams(9_000 + 13 * n)) for n in range(80)),
        sizes=(KILO, replace(HALF, in_stock=None)),
    )
    plan = jar_plan(many)
    assert plan.proved
    assert all(reason.one_more.minor <= 0 for reason in reasons(many, plan))
    assert all(reason.one_less is None or reason.one_less.minor <= 0 for reason in reasons(many, plan))


def test_a_size_filled_only_because_it_was_asked_for_says_so():
    asked = replace(REQUEST, sizes=(replace(KILO, at_least=6), HALF))
    kilo, _ = reasons(asked, jar_plan(asked))
    assert kilo.words("en_US").startswith("kilo: 6, the least that was asked for. One more would bring $2.00 less")
    assert kilo.one_less is None


def test_a_goal_that_is_not_money_is_answered_in_its_own_terms():
    first = replace(REQUEST, goal=Goal.SIZE_FIRST, first="kilo")
    kilo, half = reasons(first, jar_plan(first))
    # Ten kilos from B1 and five from B2; 700 g of B2 make one half, and a second costs a kilo.
    assert kilo.words("en_US").startswith("kilo: 15. One more cannot be filled: there is not the honey for it")
    assert half.words("en_US") == "half: 1. One more would cost 1 of kilo, which comes first."


def test_what_if_a_bucket_were_not_there():
    before = jar_plan(REQUEST)
    after = jar_plan(changed(REQUEST, without=("B2",)))
    found = difference(before, after)
    # Twenty halves' worth of honey instead of 31: 20 halves bring 200.00.
    assert found.value == usd("-100.00")
    assert found.jars == {"kilo": -5, "half": -1}
    assert found.went == ("B2",)
    assert found.sure


def test_what_if_a_price_changed_drops_steps_that_would_rise():
    request = changed(
        replace(REQUEST, sizes=(replace(KILO, steps=(Step(3, usd("15")),)), HALF)), prices={"kilo": usd("14")}
    )
    assert request.sizes[0].steps == ()
    assert jar_plan(request).proved


def test_what_if_of_something_unknown_is_refused():
    with pytest.raises(BucketUnknown):
        changed(REQUEST, without=("B9",))
    with pytest.raises(SizeNotHere):
        changed(REQUEST, at_most={"quart": 3})


def test_nothing_changed_is_no_difference():
    plan = jar_plan(REQUEST)
    found = difference(plan, jar_plan(changed(REQUEST)))
    assert (found.value.minor, found.jars, found.buckets, found.came, found.went) == (0, {}, {}, (), ())


@given(
    st.integers(1, 60),
    st.integers(1, 5),
    st.integers(0, 200),
    st.lists(st.integers(-100, 100), min_size=120, max_size=120),
)
def test_a_safe_plan_can_be_filled_however_the_scales_err(bucket_step, jar_step, hang_up, errors):
    # Each reading is off by up to half a step; a jar takes its fill, read on a scale whose tare reading was off as well.
    safe = Safety(Mass.of_grams(bucket_step), Mass.of_grams(jar_step), Mass.of_grams(hang_up))
    plan = jar_plan(with_safety(REQUEST, safe))
    fills = {size.id: size.fill.mg for size in REQUEST.sizes}
    off = iter(errors)
    for bucket in REQUEST.buckets:
        half_step = bucket_step * 1000 // 2
        truly = bucket.usable.mg - abs(next(off)) * half_step // 100 - abs(next(off)) * half_step // 100
        jars = next(b.jars for b in plan.buckets if b.id == bucket.id)
        taken = sum(
            fills[name] + (jar_step * 1000 // 2) * (abs(next(off)) + abs(next(off))) // 100
            for name, count in jars.items()
            for _ in range(count)
        )
        assert taken <= truly - hang_up * 1000


def test_a_margin_below_nothing_is_refused():
    with pytest.raises(NumberImpossible):
        with_safety(REQUEST, Safety(jar_division=Mass(-1)))
