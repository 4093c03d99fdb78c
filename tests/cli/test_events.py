"""The list of events, over every kind there is: in words, each line with its number, none too long."""

import re

import pytest

from labelkit.cli.record.events import COLUMNS
from tests.record.every_kind import book_everything

RAW = re.compile(r"\w+\((\w+=|'|\")|\{'|Decimal|datetime|Mass\(|None\b|=\w+\(")


@pytest.fixture
def record(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    book_everything(tmp_path / "season.labelkit").close()
    return tmp_path


@pytest.mark.parametrize("locale", ["en_US", "de_DE"])
def test_every_event_stands_on_a_line_of_its_own_in_words(record, labelkit, locale):
    lines = labelkit("--locale", locale, "record", "events").out.splitlines()
    events = labelkit("record", "events", "--json").document["events"]
    assert [int(line.split()[0]) for line in lines] == [each["event"] for each in events]
    for line in lines:
        assert len(line) <= COLUMNS, line
        assert not RAW.search(line), line


def test_a_long_name_of_who_booked_takes_no_line_beyond_its_columns(record, labelkit):
    who = "Somebody With A Name That Is Longer Than Anybody Needs It To Be In A List Of Events"
    labelkit("--day", "2026-09-30", "--who", who, "note", "B2", "--note", "a word " * 40)
    assert all(len(line) <= COLUMNS for line in labelkit("record", "events").out.splitlines())
