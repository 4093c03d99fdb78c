"""A honey show: what the schedule says decides, what it does not say is asked, and the list of entries is printed."""

from __future__ import annotations

import io
from decimal import Decimal

import pytest
from pypdf import PdfReader

from labelkit.errors.reading import ScheduleUnclear
from labelkit.errors.run import JarSizeUnknown
from labelkit.reading.schedule import read_schedule
from labelkit.reading.tables import csv_table
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.honey_show import ShowAsked, entry_list_pdf, honey_show
from labelkit.shipped.catalogues import wording
from tests.season.conftest import FILLING

HEADING = "class;name;jar;jars;moisture;label"


def classes(*rows: str):
    return read_schedule(csv_table("\n".join((HEADING, *rows)), "classes.csv"), "en_US")


@pytest.fixture
def lot(season):
    """Five pound jars of honey with 17.4 % water."""
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": 5}), FILLING, "en_US").lot


def look(season, *rows: str):
    with season.reading() as state:
        return honey_show(state, ShowAsked("Mill Valley Show", FILLING, classes(*rows)))


@pytest.mark.parametrize(
    ("row", "may"),
    [
        ("1;Light honey;one pound;2;17.5;12 mm", "yes"),
        ("1;Light honey;one pound;2;17.4;12 mm", "yes"),  # at the limit is within it
        ("1;Light honey;one pound;2;17.3;12 mm", "no"),
        ("1;Light honey;one pound;6;18;12 mm", "no"),
        ("1;Light honey;one pound;2;;12 mm", "ask"),
        ("1;Light honey;one pound;;18;12 mm", "ask"),
    ],
)
def test_a_lot_may_be_entered_as_the_schedule_says_and_never_by_an_assumption(season, lot, row, may):
    ((_, (entry,)),) = look(season, row).classes
    assert (entry.lot, entry.may, entry.moisture) == (lot, may, Decimal("17.4"))


def test_every_thing_the_schedule_leaves_open_is_asked(season, lot):
    asked = look(season, "7;Frames;one pound;;;").questions
    assert len(asked) == 3 and all("class 7" in question for question in asked)


@pytest.mark.parametrize("lang", ["en", "de", "es", "fr", "pl", "uk"])
def test_the_list_of_entries_is_printed_in_the_readers_language(season, lot, lang):
    words = wording("labelkit", lang, show_missing=True)
    pdf = entry_list_pdf(look(season, "1;Light;one pound;2;18;12 mm", "2;Dark;one pound;;;"), "a4", words, lang)
    text = " ".join(PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())
    assert lot in text and "12 mm" in text and "⟦" not in text


@pytest.mark.parametrize("row", ["1;Light;one pound;two;18;12 mm", "1;Light;;2;18;12 mm", "1;;one pound;2;18;12"])
def test_a_row_that_is_half_understood_is_refused_by_its_line(row):
    with pytest.raises(ScheduleUnclear, match="line 2"):
        classes(row)


def test_a_jar_nobody_fills_is_refused(season, lot):
    with pytest.raises(JarSizeUnknown):
        look(season, "1;Light honey;square pot;2;18;12 mm")
