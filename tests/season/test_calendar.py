"""What is due as a calendar file: icalendar reads it back, each thing on its day, and reading it again doubles nothing."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from labelkit.cli._runner import answer_to
from labelkit.paper.calendar import Appointment, calendar_file

MADE = datetime(2026, 7, 14, 9, tzinfo=UTC)
WORDS = st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=200)


@given(title=WORDS, text=WORDS, day=st.dates(date(2000, 1, 1), date(2099, 1, 1)))
def test_an_entry_is_read_back_as_it_was_written_in_lines_of_at_most_75_octets(title, text, day):
    """RFC 5545, 3.1: a line is no longer than 75 octets without its end, and ends in CR LF."""
    content = calendar_file([Appointment("one", day, title, text)], "mine", MADE, 3)
    assert all(len(line) <= 75 for line in content.split(b"\r\n")) and content.endswith(b"\r\n")
    (event,) = Calendar.from_ical(content).walk("VEVENT")
    assert (str(event["summary"]), str(event["description"])) == (title, text)
    assert (event.decoded("dtstart"), event.decoded("dtend")) == (day, day + timedelta(days=1))


def test_the_same_thing_keeps_its_uid_and_another_record_has_its_own():
    def uid(key, whose):
        (event,) = Calendar.from_ical(calendar_file([Appointment(key, MADE.date(), "t", "")], whose, MADE, 1)).walk(
            "VEVENT"
        )
        return str(event["uid"])

    assert uid("a", "mine") == uid("a", "mine")
    assert len({uid("a", "mine"), uid("b", "mine"), uid("a", "yours")}) == 3


@pytest.fixture
def say(tmp_path):
    """One command after the other against one record."""

    def typed(day: str, *arguments: str):
        line = ["--record", str(tmp_path / "season.labelkit"), "--day", day, *arguments]
        return answer_to(line, clock=datetime(2026, 8, 31, 9, tzinfo=UTC), who="Robin")

    typed("2026-07-12", "start", "--market", "us", "--name", "Pretend Hollow Honey")
    typed("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    return typed


def entries(say, tmp_path, day: str) -> dict[str, object]:
    """The entries of the calendar written on a day, by their UID."""
    say(day, "today", "--calendar", str(tmp_path / "s.ics"))
    events = Calendar.from_ical((tmp_path / "s.ics").read_bytes()).walk("VEVENT")
    found = {str(event["uid"]): event for event in events}
    assert len(found) == len(events), "no UID stands twice"
    return found


def test_what_will_be_due_stands_on_its_day(say, tmp_path):
    days = {str(each["summary"]): each.decoded("dtstart") for each in entries(say, tmp_path, "2026-07-12").values()}
    assert days["Drain the cappings of B1 and add what came."] == date(2026, 7, 13)
    assert days["Bucket B1 has settled: skim it, then it can be bottled."] == date(2026, 7, 14)
    assert days["Name your jar sizes and what they cost."] == date(2026, 7, 12)


def test_reading_it_in_again_moves_entries_and_doubles_none(say, tmp_path):
    first, then = entries(say, tmp_path, "2026-07-12"), entries(say, tmp_path, "2026-07-14")
    by_title = {str(each["summary"]): uid for uid, each in first.items()}
    for uid, event in then.items():
        assert by_title.get(str(event["summary"]), uid) == uid
        if uid in first:
            assert event["sequence"] > first[uid]["sequence"]


def test_a_loaded_market_stands_on_its_own_day_and_is_settled_the_day_after(say, tmp_path):
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    say("2026-07-14", "bottle", "--bucket", "B1", "--jar", "one pound=12")
    say(
        "2026-07-18",
        "stall",
        "load",
        "--place",
        "Square",
        "--jar",
        "one pound=5",
        "--change",
        "0",
        "--because",
        "labels follow",
        "--book",
    )
    days = {str(each["summary"]): each.decoded("dtstart") for each in entries(say, tmp_path, "2026-07-18").values()}
    assert days["Market: Square, 2026-07-18."] == date(2026, 7, 18)
    assert days["Settle Square of 2026-07-18."] == date(2026, 7, 19)
