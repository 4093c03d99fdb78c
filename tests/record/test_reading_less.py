"""A long season is asked for its newest and its full without being read whole, and answers the same."""

from __future__ import annotations

from datetime import timedelta
from itertools import islice

from hypothesis import HealthCheck, given, settings

from labelkit.record import open_record
from tests.record.season import LATER, LOT, book_season
from tests.record.seasons_at_random import live, verbs
from tests.walks import examples


@given(season=verbs)
@settings(max_examples=examples(25), deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_full_buckets_are_those_of_all_that_hold_honey(tmp_path_factory, season):
    with open_record(tmp_path_factory.mktemp("full") / "season.labelkit", create=True) as record:
        live(record, season)
        full = {bucket.id: bucket for bucket in record.buckets(full=True)}
        assert full == {bucket.id: bucket for bucket in record.buckets() if bucket.holds}


def test_the_newest_events_come_first_and_of_the_kinds_asked_for(tmp_path):
    with book_season(tmp_path / "season.labelkit") as record, record.reading() as state:
        every = list(state.events())
        assert [each.seq for each in state.latest()] == [each.seq for each in reversed(every)]
        weighed = [each.seq for each in every if each.kind == "weigh"]
        assert [each.seq for each in state.latest(("weigh",))] == weighed[::-1]
        assert [each.seq for each in islice(state.latest(("weigh",)), 1)] == weighed[-1:]
        assert {each.seq for each in state.latest(since=LATER)} == {each.seq for each in every if each.day >= LATER}
        assert not list(state.latest(since=LATER + timedelta(days=999)))


def test_what_stands_is_counted(tmp_path):
    with book_season(tmp_path / "season.labelkit") as record, record.reading() as state:
        for kinds in (("weigh",), ("weigh", "blend"), ("sell",), ("nothing",)):
            assert state.counted(*kinds) == sum(each.stands for each in state.events(kinds))


def test_events_about_a_lot_can_be_asked_for_by_kind(tmp_path):
    with book_season(tmp_path / "season.labelkit") as record, record.reading() as state:
        about = state.events_about([LOT])
        for kind in {each.kind for each in about}:
            assert state.events_about([LOT], (kind,)) == tuple(each for each in about if each.kind == kind)
