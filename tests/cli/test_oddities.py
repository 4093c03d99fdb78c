"""Ordinary oddities are answered in order: nested files, endless ones, other encodings, absurd days, no record."""

import os
import sqlite3
from datetime import UTC, date, datetime

import pytest

from labelkit import open_season
from labelkit.errors.lots import FileColumnsUnclear
from labelkit.lots.bucket import WeighIn
from labelkit.measures import Mass
from labelkit.measures.toml import DEEPEST, LARGEST, read_toml
from labelkit.reading.table_file import read_table
from labelkit.reading.tables import MOST_LINES, csv_table
from labelkit.season.weigh import weigh_all
from tests.record.season import begin
from tests.walks import WHOLE

NESTED = {
    "lists": "a = " + "[" * 100_000 + "]" * 100_000,
    "tables": "a = " + "{b = " * 500 + "1" + "}" * 500,
    "names": ".".join(["a"] * 50_000) + " = 1",
    "headings": "\n".join(f"[{'.'.join(['a'] * 300)}.b{n}]" for n in range(300)),
    "a number": "a = " + "9" * 10_000,
    "a power": "a = 1e999999999",
    "no number": "a = nan",
    "size": "# " + "x" * LARGEST,
}


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("text", NESTED.values(), ids=list(NESTED))
@pytest.mark.parametrize("command", [("plan", "odd.toml"), ("check", "odd.toml"), ("weigh", "--from", "odd.toml")])
def test_a_nested_or_endless_file_is_refused_by_name(labelkit, tmp_path, command, text):
    (tmp_path / "odd.toml").write_text(text)
    ran = labelkit(*command)
    assert ran.code == 2 and "odd.toml" in ran.err and "internal error" not in ran.err, ran.err[:300]
    assert len(ran.err) < 2000


def test_brackets_in_words_are_no_nesting():
    said = "[" * 3 * DEEPEST
    assert read_toml(f"a = \"{said}\"\nb = '{said}'\nc = '''\n{said}\n'''\n# {said}\n") == {
        "a": said,
        "b": said,
        "c": f"{said}\n",
    }


@pytest.mark.parametrize(
    "words",
    [
        ("weigh", "--bucket", "caf\udce9", "--net", "20 lb"),
        ("trace", "caf\udce9"),
        ("--who", "Jos\udce9", "today"),
        ("--record", "caf\udce9.labelkit", "stock"),
        ("caf\udce9",),
        ("record", "copy", "--to", "caf\udce9"),
    ],
)
def test_words_of_another_encoding_are_refused_once_and_shown(labelkit, words):
    ran = labelkit(*words)
    assert ran.code == 2 and "is not UTF-8 text" in ran.err and "\ufffd" in ran.err


@pytest.mark.parametrize("day", ["0001-01-01", "1066-10-14", "9999-12-31"])
@pytest.mark.parametrize("command", [("today",), ("stock",), ("plan",), ("result",)])
def test_a_day_of_another_age_is_refused(labelkit, day, command):
    ran = labelkit("--day", day, *command)
    assert ran.code == 2 and "outside the years" in ran.err


def test_more_for_a_market_to_which_nothing_was_taken_is_refused(labelkit):
    for line in (
        ("weigh", "--bucket", "B1", "--net", "20 lb"),
        ("price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1"),
        ("bottle", "--bucket", "B1", "--jar", "one pound=10", "--left", "10 lb"),
    ):
        assert labelkit(*line).code == 0
    more = ("stall", "load", "--place", "Mill square", "--jar", "one pound=2", "--more", "--change", "20", "--book")
    ran = labelkit(*more)
    assert ran.code == 2 and "Mill square" in ran.err and "internal error" not in ran.err
    assert len(labelkit("record", "events", "--kind", "load", "--json").document["events"]) == 0


READING = (("today",), ("stock",), ("trace", "L26201AAC"), ("record", "events"), ("record", "verify"), ("result",))
BOOKING = (
    ("weigh", "--bucket", "B1", "--net", "20 lb"),
    ("price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1"),
    ("drain", "--bucket", "B1", "--net", "1 lb"),
    ("sell", "--lot", "L26201AAC", "--jar", "one pound=1"),
)


@pytest.mark.parametrize("words", READING + BOOKING)
def test_no_command_makes_a_record_by_itself_and_the_one_that_does_is_said(labelkit, tmp_path, words):
    ran = labelkit("--record", "new.labelkit", *words)
    assert ran.code == 3 and "labelkit --record new.labelkit start" in ran.err
    assert "The folder holds: season.labelkit" in ran.err
    assert not (tmp_path / "new.labelkit").exists()
    assert labelkit("--record", "new.labelkit", "start", "--market", "us").code == 0


def test_two_records_in_a_folder_are_named_and_one_is_asked_for(labelkit, tmp_path):
    os.rename(tmp_path / "season.labelkit", tmp_path / "hof.labelkit")
    begin(tmp_path / "wald.labelkit")
    ran = labelkit("today")
    assert ran.code == 3 and "hof.labelkit and wald.labelkit" in ran.err and "--record hof.labelkit" in ran.err
    os.rename(tmp_path / "hof.labelkit", tmp_path / "season.labelkit")
    for words in (("today",), ("weigh", "--bucket", "B9", "--net", "20 lb"), ("start", "--market", "us")):
        ran = labelkit(*words)
        assert ran.code == 3 and "2 records: season.labelkit, wald.labelkit" in ran.err, words


def test_a_copy_to_a_stick_that_is_not_there_speaks_of_the_stick(labelkit, tmp_path):
    ran = labelkit("record", "copy", "--to", str(tmp_path / "stick"))
    assert ran.code == 3 and "--to" in ran.err and "--record" not in ran.err


def test_a_long_table_is_read_in_one_pass_and_tells_how_far_it_is():
    rows = 300_000 if WHOLE else 3_000
    text = "bucket,net (kg)\n" + "".join(f"B{n},27.3\n" for n in range(rows))
    told = []
    found = read_table(csv_table(text, "x.csv"), date(2026, 7, 14), "en_US", told.append)
    assert len(found) == rows
    assert told == list(range(1000, rows + 2, 1000)), "every thousand lines"


def test_a_long_table_is_booked_without_a_question_longer_than_a_database_takes(tmp_path, monkeypatch):
    monkeypatch.setattr("labelkit.record.reading._AT_ONCE", 500)
    at = datetime(2026, 7, 14, 18, tzinfo=UTC)
    weighed = [WeighIn(f"B{n}", at.date(), Mass.of_grams(9000)) for n in range(1_200)]
    with open_season(tmp_path / "long.labelkit", create=True, who="Robin", clock=at) as season, season.work() as work:
        work.connection.connection.driver_connection.setlimit(sqlite3.SQLITE_LIMIT_VARIABLE_NUMBER, 600)
        assert len(weigh_all(work, weighed, "en_US")) == 1_200


def test_a_table_longer_than_any_season_is_refused_before_it_is_read():
    with pytest.raises(FileColumnsUnclear, match=r"1,000,001 lines"):
        read_table(csv_table("bucket,net\n" + "\n" * MOST_LINES, "x.csv"), date(2026, 7, 14), "en_US")


def test_the_last_size_can_be_retired_and_its_list_is_then_empty(labelkit):
    labelkit("price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1")
    ran = labelkit("price", "--set", "one pound", "--retire", "--json")
    assert ran.code == 0 and ran.document["sizes"] == [] and ran.document["currency"] == "USD"
    assert labelkit("price").code == 2
