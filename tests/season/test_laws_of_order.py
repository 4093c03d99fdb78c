"""No honey from nowhere, no day that has not been, no weight a container cannot hold, unless a person says why."""

from __future__ import annotations

import pytest

from labelkit.errors.lots import BucketImplausible, ContainerOverfilled
from labelkit.errors.run import MostIsMissing, RestHeavierThanBucket, RunTakesTooMuch
from labelkit.lots.intake import Intake
from labelkit.measures import read_volume
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.put_right import put_right
from labelkit.season.result import result
from labelkit.season.run_result import run_result
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb


def filled(season, jars: int, **more):
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": jars}, **more), FILLING, "en_US")


def head(season) -> int:
    with season.reading() as state:
        return state.head().seq


@pytest.mark.parametrize(
    ("jars", "left", "refusal"),
    [
        (12, "28", RunTakesTooMuch),  # 12 + 28 lb out of 30
        (12, "31", RestHeavierThanBucket),
        (31, None, RunTakesTooMuch),
        (3, "3", MostIsMissing),  # 27 lb left the bucket, 3 of them in jars
    ],
)
def test_a_run_against_the_balance_is_refused_and_nothing_is_booked(season, jars, left, refusal):
    before = head(season)
    with pytest.raises(refusal) as asked:
        filled(season, jars, left=lb(left) if left else None)
    assert head(season) == before and asked.value.asks is (refusal is not RestHeavierThanBucket)


def test_the_step_of_the_scale_and_two_in_a_hundred_are_no_reason_to_ask(season):
    # 12 jars and 18.5 lb out of 30: half a pound more, where 0.6 lb are two in a hundred.
    assert filled(season, 12, left=lb("18.5")).run.because == ""


def test_said_why_the_run_is_booked_and_marked_for_good_wherever_it_is_told(season):
    done = filled(season, 12, left=lb("28"), because="weighed twice")
    with season.reading() as state:
        assert state.bucket("B1").holds == lb("28")
        (told,) = trace(state, TraceFrom(done.lot)).trace.runs
        (found,) = run_result(state, MARKET).outcomes
        (marked,) = result(state, MARKET).asked_about
    assert told.because == found.run.because == marked.because == "weighed twice"
    assert "weighed twice" in done.run.describe("en_US") and done.run.unexplained.mg < 0


def test_a_correction_by_which_more_came_out_than_in_marks_the_run_with_its_words(season):
    run = filled(season, 12, left=lb("18"))
    with season.work() as work:
        done = put_right(work, 2, "30 typed for 20", Changes(net=lb("20")), MARKET)
    with season.reading() as state:
        again = state.event(done.runs[0][1]).event
    assert again.lot == run.lot and again.because == "30 typed for 20"
    assert again.unexplained - run.run.unexplained == lb("20") - lb("30")


def test_a_weight_no_bucket_can_hold_is_asked_about_and_one_its_container_cannot_hold_is_refused(season):
    tonnes = Intake("B2", net=lb("4409"))
    with pytest.raises(BucketImplausible), season.work() as work:
        weigh(work, tonnes, HARVEST, "en_US")
    with season.work() as work:
        said = Intake("B2", net=lb("4409"), because="the tank of the cooperative")
        assert weigh(work, said, HARVEST, "en_US").history[0].because == "the tank of the cooperative"
    pail = Intake("B3", net=lb("221"), container_ml=read_volume("5 gal", "en_US"), because="it fits")
    with pytest.raises(ContainerOverfilled, match=r"22\.1 lb"), season.work() as work:
        weigh(work, pail, HARVEST, "en_US")
