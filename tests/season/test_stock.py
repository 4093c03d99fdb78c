"""What have I got: buckets, empties, filled jars; and a count against the record."""

from __future__ import annotations

import pytest

from labelkit.errors.sale import LotNotNamed, NothingToCount, ReasonMissing
from labelkit.measures import Declared, Money
from labelkit.record.verify import verify
from labelkit.sale.events import PriceSet
from labelkit.season import recall
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.stock import book_count, buy, count, stock
from labelkit.season.trace import trace_of
from labelkit.trace.recall import count_of
from tests.season.conftest import FILLING, HARVEST, MARKET, lb


def filled(season, jars: int = 12, day=FILLING):
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": jars}, broken={"one pound": 1}), day, "en_US").lot


def at_hand(season):
    with season.reading() as state:
        return stock(state, MARKET)


def test_runs_use_up_empties_and_what_the_honey_wants_is_to_be_ordered(season):
    with season.work() as work:
        buy(work, "one pound", 20, 18, HARVEST)
    filled(season)
    now = at_hand(season)
    # 12 filled and 1 broken of 20 jars and 18 lids.
    assert [(e.size, e.jars, e.lids) for e in now.empty] == [("one pound", 7, 5)]
    # 30 lb less 13 lb: the honey at hand fills 17 jars of a pound, 10 jars and 12 lids more than there are.
    assert [(o.size, o.jars, o.lids) for o in now.to_order] == [("one pound", 17 - 7, 17 - 5)]
    assert [(b.id, b.state) for b in now.buckets] == [("B1", "ready")]


def test_filled_jars_are_told_by_place_and_those_without_a_label(season):
    lot = filled(season)
    with season.work() as work:
        recall.hold(work, [lot], "waiting for the laboratory", MARKET)
    (jars,) = at_hand(season).filled
    assert (jars.lot, jars.in_stock, jars.on_hold, jars.at_stall, jars.unlabelled) == (lot, 0, 12, 0, 12)


def test_jars_missing_at_a_count_are_not_found_in_a_recall_and_not_destroyed(season):
    lot = filled(season)
    with season.reading() as state:
        looked = count(state, "one pound", 10)
    assert (looked.lot, looked.had, looked.found, looked.event) == (lot, 12, 10, None)
    with season.work() as work:
        book_count(work, "one pound", 10, "two are nowhere", MARKET, lot)
    assert at_hand(season).filled[0].in_stock == 10
    with season.work() as work:
        drill = recall.drill(work, MARKET, lot)
    assert (drill.count.missing, drill.count.destroyed, drill.count.in_stock) == (2, 0, 10)
    assert verify(season.record).clean


def test_jars_found_again_come_back_into_stock(season):
    lot = filled(season)
    for found in (10, 13):
        with season.work() as work:
            book_count(work, "one pound", found, "counted", MARKET, lot)
    assert at_hand(season).filled[0].in_stock == 13
    assert verify(season.record).clean
    with season.rehearsal() as work:
        found = recall.drill(work, MARKET, lot).count
    assert (found.jars_made, found.broken_or_sampled, found.surplus) == (12 + 1 + 1, 1, 1)
    assert (found.in_stock, found.missing, found.reachable) == (13, 0, 100)


def test_jars_found_beyond_what_was_filled_hide_none_that_are_missing(season):
    from labelkit.lots.intake import Intake
    from labelkit.season.weigh import weigh

    lot = filled(season)
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10")), HARVEST, "en_US")
        other = bottle(work, Bottling("B2", {"one pound": 5}), FILLING, "en_US").lot
        book_count(work, "one pound", 10, "two are nowhere", MARKET, lot)
        book_count(work, "one pound", 7, "counted", MARKET, other)
    with season.reading() as state:
        trace = trace_of(state, [lot, other])
    both = count_of(trace, (lot, other))
    assert (both.missing, both.surplus) == (2, 2)
    assert [trace.balance(each).jars_unaccounted for each in (lot, other)] == [2, 0]


def test_a_count_without_a_reason_of_a_strange_lot_or_of_several_is_refused(season):
    lot = filled(season)
    with pytest.raises(ReasonMissing), season.work() as work:
        book_count(work, "one pound", 10, " ", MARKET, lot)
    from labelkit.lots.intake import Intake
    from labelkit.season.weigh import weigh

    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10")), HARVEST, "en_US")
        other = bottle(work, Bottling("B2", {"one pound": 2}), FILLING, "en_US").lot
    with pytest.raises(LotNotNamed), season.reading() as state:
        count(state, "one pound", 3)
    with season.reading() as state:
        assert count(state, "one pound", 3, other).had == 2
    with season.work() as work:
        work.add(
            PriceSet(HARVEST, "half pound", Declared.read("8 oz", "en_US"), Money.of(7, "USD"), Money.of(1, "USD"))
        )
    with pytest.raises(NothingToCount), season.reading() as state:
        count(state, "half pound", 3, other)


def test_broken_empties_leave_their_lids_and_filled_jars_as_they_were(season):
    with season.work() as work:
        buy(work, "one pound", 100, 100, HARVEST)
    lot = filled(season)
    with season.work() as work:
        assert book_count(work, "one pound", 86, "one broke", MARKET).had == 87
    there = at_hand(season)
    assert [(e.jars, e.lids) for e in there.empty] == [(86, 87)]
    assert [(f.lot, f.in_stock) for f in there.filled] == [(lot, 12)]
    with season.work() as work:
        book_count(work, "one pound", 86, "the lids too", MARKET, lids=80)
    assert [(e.jars, e.lids) for e in at_hand(season).empty] == [(86, 80)]


def test_without_filled_jars_a_count_is_of_the_empty_ones(season):
    with season.work() as work:
        book_count(work, "one pound", 150, "found in the shed", HARVEST)
    assert [(e.jars, e.lids) for e in at_hand(season).empty] == [(150, 150)]


def test_jars_on_hold_are_counted_as_there_and_not_found_a_second_time(season):
    lot = filled(season)
    with season.work() as work:
        recall.hold(work, [lot], "a splinter", MARKET)
        counted = book_count(work, "one pound", 13, "counted", MARKET, lot)
        found = recall.drill(work, MARKET, lot).count
    assert counted.had == 12
    assert (found.surplus, found.on_hold + found.in_stock, found.missing) == (1, 13, 0)


def test_jars_missing_from_a_lot_wholly_on_hold_are_booked_by_a_count_and_stay_missing_in_its_recall(season):
    lot = filled(season)
    with season.work() as work:
        recall.hold(work, [lot], "a splinter", MARKET)
        counted = book_count(work, "one pound", 9, "three are nowhere", MARKET, lot)
        found = recall.drill(work, MARKET, lot).count
    assert (counted.had, counted.found) == (12, 9)
    assert (found.on_hold, found.missing, found.surplus) == (9, 3, 0)
    with season.work() as work:
        recall.release(work, [lot], "it was wax", MARKET)
    assert [(f.in_stock, f.on_hold) for f in at_hand(season).filled] == [(9, 0)]
