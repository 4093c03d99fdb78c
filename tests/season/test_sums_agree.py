"""One way to share a bucket, and every jar counted where it belongs."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Mass
from labelkit.measures.rounding import apportion
from labelkit.plan.wishes import Planning
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.drain import drain
from labelkit.season.empties import empties
from labelkit.season.plan import basis_of_record, plan
from labelkit.season.result import result
from labelkit.season.run_result import run_result
from labelkit.season.stock import book_count, buy, stock
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh
from labelkit.trace.epcis import Names, epcis_document
from tests.season.conftest import FILLING, HARVEST, MARKET, lb
from tests.walks import examples


def test_trace_result_and_epcis_share_a_bucket_alike(season):
    # By hand: H1, H2 and H7 brought 10 lb each of 30; 3 lb of its cappings are 1 lb each; Mill has two of the three.
    mill, hill = Source("Mill", ("H1", "H2")), Source("Hill", ("H7",))
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("30"), sources=(mill, hill)), HARVEST, "en_US")
        drain(work, Intake("B2", net=lb("3")), FILLING, "en_US")
    with season.reading() as state:
        intakes = trace(state, TraceFrom("B2")).trace.intakes
        yards = {yard.yard: yard.mass for yard in run_result(state, MARKET).yards}
        document = epcis_document(state.story(["B2"]), Names("honey.example"), datetime.now(UTC))
    by_trace = {"Mill": Mass(0), "Hill": Mass(0)}
    for each in intakes:
        for source, share in zip(each.sources, each.shares, strict=True):
            by_trace[source.yard] += share
    assert abs((by_trace["Mill"] - lb("22")).mg) <= 2 and by_trace["Hill"] + by_trace["Mill"] == lb("30") + lb("3")
    assert yards["Hill"] == by_trace["Hill"] and yards["Mill"] == by_trace["Mill"]
    said = [each["ilmd"]["honey:sources"] for each in document["epcisBody"]["eventList"]]
    kilograms = sum(yard["honey:kilograms"] for sources in said for yard in sources if yard["honey:yard"] == "Mill")
    assert round(kilograms, 6) == float(by_trace["Mill"].kg)


@settings(max_examples=examples(60))
@given(st.integers(0, 10**12), st.lists(st.integers(0, 10**6), min_size=1, max_size=8))
def test_parts_are_the_whole_and_each_within_one_of_its_exact_share(whole, weights):
    parts, together = apportion(whole, weights), sum(weights) or len(weights)
    assert sum(parts) == whole
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - Fraction(whole * (weight if sum(weights) else 1), together)) < 1


def test_a_jar_broken_while_filling_is_a_loss_and_a_sample_is_counted_as_one(season):
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": 12}, {"one pound": 2}, {"one pound": 1}), FILLING, "en_US")
    with season.reading() as state:
        found = result(state, MARKET)
    assert found.whole.lost == 2 and [e.count for e in found.entries if e.what == "sample"] == [1]
    assert found.given_away_cost.amount == 3 * found.entries[0].cost.amount / 2


def test_what_was_said_to_be_filled_counts_as_given_away(season):
    full = Mass.of_grams(460)
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": 10}, fills={"one pound": full}), FILLING, "en_US")
    with season.reading() as state:
        (found,) = run_result(state, MARKET).outcomes
    label = found.fillings[0].label
    assert found.given_away == 10 * (full - label) and found.fillings[0].worth is not None


def test_jars_a_count_did_not_find_are_lost_in_the_result(season):
    with season.work() as work:
        bottle(work, Bottling("B1", {"one pound": 12}), FILLING, "en_US")
    with season.work() as work:
        book_count(work, "one pound", 11, "one is nowhere", MARKET)
    with season.reading() as state:
        assert result(state, MARKET).whole.lost == 1


def test_the_plan_takes_no_more_jars_than_are_kept_unless_told_otherwise(season):
    with season.work() as work:
        buy(work, "one pound", 7, 5, FILLING)
    with season.reading() as state:
        kept = plan(basis_of_record(state, FILLING), Planning())
        told = plan(basis_of_record(state, FILLING), Planning(stock={"one pound": 9}))
        (to_order,) = stock(state, FILLING).to_order
        assert empties(state)[0].to_fill == 5
    assert kept.plan.jars == {"one pound": 5} and kept.empties == {"one pound": 5}
    assert told.plan.jars == {"one pound": 9} and not told.empties
    assert (to_order.jars, to_order.lids) == (23, 25)  # 30 lb fill 30 jars


def test_a_size_nobody_counted_is_without_limit(season):
    with season.reading() as state:
        assert plan(basis_of_record(state, FILLING), Planning()).plan.jars == {"one pound": 30}
