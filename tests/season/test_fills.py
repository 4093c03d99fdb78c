"""A bucket's name comes again once it is empty: what is in it then is another lot, in trace, codes, tags and corrections."""

from __future__ import annotations

from datetime import date

import pytest

from labelkit.errors.lots import BucketTwice, DrainUnlikely
from labelkit.lots.bucket import FINEST_STEP, Bucket, Source, WeighIn
from labelkit.lots.fill import fill_id, name_on
from labelkit.lots.intake import Intake
from labelkit.measures import Mass
from labelkit.record.verify import verify
from labelkit.season.blend import Blending, blend
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.drain import drain
from labelkit.season.put_right import put_right
from labelkit.season.recall import look
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh, weigh_all
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

AGAIN = date(2026, 7, 22)


def emptied(season) -> str:
    """Thirty jars out of the 30 lb of B1; their lot."""
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": 30}), FILLING, "en_US").lot


def refilled(season, net: str = "20", day: date = AGAIN, key: str | None = None) -> Bucket:
    with season.work(key) as work:
        return weigh(work, Intake("B1", net=lb(net), sources=(Source("Hill", ("H7",)),)), day, "en_US")


def test_a_name_comes_again_once_its_bucket_is_empty_and_is_another_lot(season):
    first = emptied(season)
    again = refilled(season)
    assert (again.id, again.fill, again.holds) == ("B1.2", 2, lb("20"))
    with season.work() as work:
        second = bottle(work, Bottling("B1", {"one pound": 20}), AGAIN, "en_US")
    assert second.run.bucket == "B1.2" and second.lot != first
    with season.reading() as state:
        assert trace(state, TraceFrom(first)).trace.buckets == ("B1",)
        assert trace(state, TraceFrom(second.lot)).trace.buckets == ("B1.2",)
        assert trace(state, TraceFrom("B1")).lots == (second.lot,), "the name alone means the last fill"
        assert trace(state, TraceFrom("B1.1")).lots == (first,)
        assert look(state, [first], "ferment").scope.lots == (first,), "a recall of one fill leaves the other alone"
        assert [bucket.id for bucket in state.buckets()] == ["B1", "B1.2"]
    assert refilled(season, day=MARKET).id == "B1.3"
    assert verify(season.record).clean


def test_a_bucket_with_honey_in_it_keeps_its_name(season):
    with pytest.raises(BucketTwice) as refusal:
        refilled(season)
    assert "still holds 13.608 kg (30 lb)" in refusal.value.what


def test_a_new_fill_begins_no_earlier_than_the_last_was_emptied(season):
    emptied(season)
    with pytest.raises(BucketTwice) as refusal:
        refilled(season, day=HARVEST)
    assert "was not empty before 2026-07-20" in refusal.value.what


def test_a_blend_may_have_the_name_of_an_emptied_one_and_takes_the_last_fill_of_its_parts(season):
    emptied(season)
    refilled(season)
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10")), AGAIN, "en_US")
        mixed = blend(work, Blending("M1", (("B1", lb("5")), ("B2", lb("5")))), AGAIN, "en_US")
        bottle(work, Bottling("M1", {"one pound": 10}), AGAIN, "en_US")
        again = blend(work, Blending("M1", (("B1", lb("2")), ("B2", lb("2")))), MARKET, "en_US")
    assert [part.bucket for part in mixed.parents] == ["B1.2", "B2"]
    assert (again.id, again.fill, again.holds) == ("M1.2", 2, lb("2") + lb("2"))


def test_a_file_of_buckets_begins_new_fills_too(season):
    emptied(season)
    with season.work() as work:
        came = weigh_all(work, [WeighIn("B1", AGAIN, lb("5")), WeighIn("B2", AGAIN, lb("5"))], "en_US")
    assert [bucket.id for bucket in came] == ["B1.2", "B2"]


def test_repeating_the_step_under_its_key_begins_no_third_fill(season):
    emptied(season)
    assert refilled(season, key="mine").id == refilled(season, key="mine").id == "B1.2"


def test_a_fill_is_corrected_and_undone_without_touching_the_other(season):
    first = emptied(season)
    refilled(season)
    with season.reading() as state:
        wrong = state.head().seq
    with season.work() as work:
        done = put_right(work, wrong, "25 on the scale", Changes(net=lb("25")), MARKET)
    with season.work() as work:
        assert work.bucket("B1.2").holds == lb("25")
        put_right(work, done.booked, "it was B2", Changes(), MARKET)
    with season.reading() as state:
        assert state.fills("B1") == ("B1",) and state.fill("B1") == "B1"
        assert trace(state, TraceFrom(first)).trace.buckets == ("B1",)
    assert refilled(season).id == "B1.2", "a struck fill frees its name"
    assert verify(season.record).clean


def test_another_bucket_of_that_very_name_is_not_taken_for_a_fill(season):
    emptied(season)
    with season.work() as work:
        weigh(work, Intake("B1.2", net=lb("5")), HARVEST, "en_US")
    assert refilled(season).id == "B1.3"
    with season.reading() as state:
        assert (state.fill("B1"), state.fill("B1.2")) == ("B1.3", "B1.2")


def test_cappings_honey_long_after_or_into_an_emptied_bucket_is_asked_about(season):
    late = Intake("B1", net=lb("1"))
    with pytest.raises(DrainUnlikely) as refusal, season.work() as work:
        drain(work, late, date(2026, 7, 23), "en_US")
    assert "11 days earlier" in refusal.value.what and refusal.value.field == "because"
    with season.work() as work:
        assert drain(work, late, date(2026, 7, 22), "en_US").bucket.id == "B1"
        said = drain(work, Intake("B1", net=lb("1"), because="from the freezer"), MARKET, "en_US")
    assert said.bucket.history[-1].because == "from the freezer"
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": 32}), MARKET, "en_US")
    with pytest.raises(DrainUnlikely) as refusal, season.work() as work:
        drain(work, late, MARKET, "en_US")
    assert "the bucket is empty" in refusal.value.what


@pytest.mark.parametrize("division", [None, "20 g"])
def test_a_bucket_emptied_to_within_its_scales_step_is_empty(season, division):
    step = Mass.read(division, "en_US") if division else FINEST_STEP
    rest = step - Mass(1)
    with season.work() as work:
        came = 10 * Mass(453_592) + rest
        weighed = Intake(
            "B7", gross=came + lb("2"), tare=lb("2"), division=Mass.read(division, "en_US") if division else None
        )
        assert not weigh(work, weighed, HARVEST, "en_US").is_empty
        bottle(work, Bottling("B7", {"one pound": 10}), FILLING, "en_US")
    with season.reading() as state:
        assert state.bucket("B7").holds == rest and state.bucket("B7").is_empty
        assert "B7" not in [bucket.id for bucket in state.buckets(full=True)]


def test_a_little_honey_nobody_took_from_is_honey():
    from labelkit.lots.bucket import bucket_of

    assert not bucket_of("B1", [WeighIn("B1", HARVEST, Mass(7))]).is_empty


@pytest.mark.parametrize("fill", [1, 2, 12])
def test_the_name_of_a_fill_leads_back_to_its_bucket(fill):
    made = WeighIn(fill_id("B1", fill), HARVEST, Mass(1), fill=fill)
    assert name_on(made) == "B1"
