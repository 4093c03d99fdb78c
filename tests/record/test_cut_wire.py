"""The wire to a real server is cut while booking: all or nothing, the answer says which, and repeating is safe."""

from datetime import timedelta

import pytest

from labelkit.errors.record import ConnectionLost, OutcomeUnknown
from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.record.cutting import Wire
from tests.record.season import AT, book_season, weigh
from tests.record.server import new_database

pytestmark = pytest.mark.postgres
ONCE = "morning 3"


@pytest.fixture
def where():
    place = new_database()
    book_season(place).close()
    return place


def book_two(where):
    """One step of two buckets under a key, as a command books it."""
    with open_record(where) as record, record.work(who="Ada", at=AT + timedelta(hours=1), key=ONCE) as work:
        if not work.booked_before:
            work.add_all((weigh("B7", "9"), weigh("B8", "9")))
        return [each.seq for each in work.commit()]


def events_in(where):
    with open_record(where) as record:
        verdict = verify(record)
    assert verdict.clean
    return verdict.events


def test_a_whole_wire_books_as_ever(where):
    with Wire(where, "never") as wire:
        assert book_two(wire.where) == [14, 15]
    assert events_in(where) == 15


def test_a_wire_cut_before_the_server_heard_books_nothing_and_says_so(where):
    with Wire(where, "before") as wire:
        with pytest.raises(ConnectionLost):
            book_two(wire.where)
        assert wire.cuts == 1 and events_in(where) == 13
        assert book_two(wire.where) == [14, 15]
    assert events_in(where) == 15


def test_a_wire_cut_after_the_server_booked_is_found_booked(where):
    with Wire(where, "after") as wire:
        assert book_two(wire.where) == [14, 15]
        assert wire.cuts == 2
        assert book_two(wire.where) == [14, 15]
    assert events_in(where) == 15


@pytest.mark.parametrize(("cut", "stands"), [("before", 13), ("after", 15)])
def test_where_the_server_cannot_be_asked_either_nobody_pretends_to_know_and_repeating_books_once(where, cut, stands):
    with Wire(where, cut, mended=False) as wire:
        with pytest.raises(OutcomeUnknown) as caught:
            book_two(wire.where)
        assert f"--once {ONCE}" in caught.value.do
        assert events_in(where) == stands, "whole, or not there"
        wire.mend()
        assert book_two(wire.where) == [14, 15]
    assert events_in(where) == 15
