"""A plan that was kept is followed: by run sheet, bottling, order list; and what changed since is said with its figures."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelkit.errors.plan import NothingToKeep
from labelkit.lots.intake import Intake
from labelkit.measures import Mass, Money
from labelkit.plan.wishes import Planning
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.drain import drain
from labelkit.season.kept_plan import beside_plan, follow, keep_plan, same_wishes
from labelkit.season.price import SizePrice, set_price
from labelkit.season.run_sheet import FillingDay, run_sheet, runs_ahead
from labelkit.season.stock import buy, stock
from labelkit.season.weigh import weigh
from tests.season.test_plan import DAY, usd
from tests.season.test_plan import season as two_buckets  # noqa: F401
from tests.walks import examples

THIRTY = Planning(at_most={"one pound": 30})


@pytest.fixture
def kept(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        planned, event = keep_plan(work, THIRTY, DAY)
    return two_buckets, planned, event


def words(followed) -> str:
    return " ".join(change.words("en_US") for change in followed.changes)


def test_without_wishes_everything_follows_the_kept_plan(kept):
    season, planned, event = kept
    with season.reading() as state:
        followed = follow(state, DAY)
        sheet = run_sheet(followed, FillingDay(), "en_US").sheet
    assert (followed.event, followed.whole.jars) == (event, planned.plan.jars) == (event, {"one pound": 30})
    assert sum(line.count for bucket in sheet.buckets for line in bucket.lines) == 30
    assert followed.plan.buckets == planned.plan.buckets and followed.plan.value == planned.plan.value


def test_other_wishes_are_another_plan_and_the_same_ones_are_the_kept_one(kept):
    season, _, event = kept
    with season.reading() as state:
        assert follow(state, DAY, THIRTY).event == event
        assert follow(state, DAY, Planning(at_most={"one pound": 5})).whole.jars == {"one pound": 5}


def test_what_was_filled_stands_beside_what_was_planned_and_the_rest_is_still_to_fill(kept):
    season, planned, _ = kept
    first = next(bucket for bucket in planned.plan.buckets if bucket.id == "B1")
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": first.jars["one pound"] - 2}, samples={"one pound": 1}), DAY, "en_US")
    with season.reading() as state:
        followed, beside = follow(state, DAY), beside_plan(state, "B1")
    assert beside.filled == {"one pound": first.jars["one pound"] - 1}
    assert [bucket.jars for bucket in followed.plan.buckets if bucket.id == "B1"] == [{"one pound": 1}]
    assert followed.whole.jars == {"one pound": 30} and not followed.changes


def test_the_sheet_names_the_lot_code_the_run_will_get(kept):
    season, _, _ = kept
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": 5}), DAY, "en_US")
        codes = runs_ahead(work, follow(work, DAY), DAY).lots
        assert bottle(work, Bottling("B1", {"one pound": 1}), DAY, "en_US").lot == codes["B1"]


def test_a_plan_wholly_filled_is_over(kept):
    season, planned, _ = kept
    with season.work() as work:
        for bucket in planned.plan.buckets:
            if bucket.jars:
                bottle(work, Bottling(bucket.id, bucket.jars), DAY, "en_US")
        assert follow(work, DAY).kept is None


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            lambda work: drain(work, Intake("B1", net=Mass.of_grams(1_000)), DAY, "en_US"),
            "B1 holds 1 kg (2 lb 3.3 oz) more",
        ),
        (lambda work: weigh(work, Intake("B3", net=Mass.of_grams(4_000)), DAY, "en_US"), "B3 is not in the kept plan"),
        (lambda work: set_price(work, SizePrice("one pound", usd("13.00")), DAY), "$13.00 now; it was $12.00"),
        (lambda work: set_price(work, SizePrice("one pound", usd("12.00"), cost=usd("2.00")), DAY), "it was $1.35"),
        (
            lambda work: bottle(
                work, Bottling("B1", {"one pound": 1}, left=Mass.of_grams(500), because="it leaked"), DAY, "en_US"
            ),
            "are missing",
        ),
    ],
)
def test_what_changed_is_said_with_its_figures_and_planned_again_with_the_same_wishes(kept, change, says):
    season, _, event = kept
    with season.work() as work:
        change(work)
        followed = follow(work, DAY)
    assert says in words(followed) and followed.event is None and followed.kept.seq == event
    assert followed.asked == THIRTY and followed.against is not None


def test_the_new_plan_is_kept_with_the_same_wishes(kept):
    season, _, _ = kept
    with season.work() as work:
        drain(work, Intake("B1", net=Mass.of_grams(1_000)), DAY, "en_US")
        assert same_wishes(work, DAY) == THIRTY
        _, event = keep_plan(work, same_wishes(work, DAY), DAY)
        assert follow(work, DAY).event == event


def test_a_wish_for_a_bucket_that_is_gone_is_dropped_and_said(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        keep_plan(work, Planning(use_first=("B2",), at_most={"one pound": 25}), DAY)
        bottle(work, Bottling("B2", {"one pound": 1}, left=Mass.of_grams(1), because="it leaked"), DAY, "en_US")
        followed = follow(work, DAY)
        assert followed.plan.jars["one pound"] <= 25


def test_the_order_list_is_of_the_kept_plan(kept):
    season, _, _ = kept
    with season.work() as work:
        buy(work, "one pound", 10, 12, DAY)
        order = stock(work, DAY).to_order
    assert [(each.jars, each.lids) for each in order] == [(20, 18)]


def test_a_plan_of_no_jar_is_not_kept(two_buckets):  # noqa: F811
    with pytest.raises(NothingToKeep), two_buckets.work() as work:
        keep_plan(work, Planning(at_most={"one pound": 0}), DAY)


def test_a_kept_plan_that_was_taken_back_is_followed_no_more(kept):
    season, _, event = kept
    with season.work() as work:
        work.correct(event, "not that one")
        assert follow(work, DAY).kept is None


@settings(max_examples=examples(40), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(done=st.integers(1, 20), most=st.integers(1, 33))
def test_planned_and_filled_always_add_up(two_buckets, done, most):  # noqa: F811
    with two_buckets.rehearsal() as work:
        asked = replace(THIRTY, at_most={"one pound": most})
        planned, _ = keep_plan(work, asked, DAY)
        here = next(bucket.jars.get("one pound", 0) for bucket in planned.plan.buckets if bucket.id == "B1")
        bottle(work, Bottling("B1", {"one pound": done}), DAY, "en_US")
        followed = follow(work, DAY)
        if followed.event:
            rest = sum(bucket.jars.get("one pound", 0) for bucket in followed.plan.buckets)
            assert rest + min(done, here) == most
            assert followed.plan.value == Money.of("10.65", "USD") * rest
