"""A day that comes back from the market page is believed only when it is whole."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.measures import CurrencyUnknown
from labelkit.errors.sale import DayFileUnclear
from labelkit.measures import Money
from labelkit.reading.day_file import check_of, read_day_file
from labelkit.sale.day_page import FORMAT
from labelkit.sale.settlement import Count


def day(**other) -> dict:
    core = {
        "labelkit": FORMAT,
        "key": "2026-07-25 Mill square",
        "mark": "0",
        "currency": "USD",
        "items": [["L26195AXR", "one pound", 3, 0, 1, 0, None], ["L26195AXR", "½ фунта", 0, 0, 0, 0, 5]],
        "cash_sales": 3600,
        "cards": 0,
        "off": 0,
        "round": 0,
        "cash": 11600,
        "fee": None,
        "sales": 2,
    } | other
    return core | {"check": check_of(core)}


def test_a_whole_day_is_read():
    read = read_day_file(json.dumps(day(), ensure_ascii=False), "day.json")
    assert read.counted["L26195AXR", "one pound"] == Count(sold=3, tasted=1)
    assert read.counted["L26195AXR", "½ фунта"] == Count(back=5)
    assert (read.till.cash_counted, read.till.fee) == (Money(11600, "USD"), None)


def test_spaces_and_escapes_added_on_the_way_do_not_matter():
    assert read_day_file(json.dumps(day(), indent=3) + "\n", "a") == read_day_file(
        json.dumps(day(), ensure_ascii=False), "b"
    )


@given(st.integers(0, 400))
def test_a_day_cut_short_is_refused(end):
    text = json.dumps(day())
    with pytest.raises(DayFileUnclear):
        read_day_file(text[: min(end, len(text) - 1)], "day.json")


@pytest.mark.parametrize("key", ["items", "cash_sales", "key", "currency"])
def test_a_day_that_lost_or_changed_something_is_refused(key):
    changed = day()
    changed[key] = "x"
    with pytest.raises(DayFileUnclear, match="check figure"):
        read_day_file(json.dumps(changed), "day.json")
    del changed[key]
    with pytest.raises(DayFileUnclear, match="check figure"):
        read_day_file(json.dumps(changed), "day.json")


@pytest.mark.parametrize(
    "other",
    [
        {"items": [["L1", "one pound", -1, 0, 0, 0, None]]},
        {"items": [["L1", "one pound", True, 0, 0, 0, None]]},
        {"items": [["L1", "one pound"]]},
        {"items": 7},
        {"cash_sales": "36"},
        {"cards": True},
    ],
)
def test_figures_that_cannot_be_are_refused(other):
    with pytest.raises(DayFileUnclear):
        read_day_file(json.dumps(day(**other)), "day.json")


def test_fractions_are_refused():
    with pytest.raises(DayFileUnclear, match="complete"):
        read_day_file(json.dumps(day(cash=1.5)), "day.json")


@pytest.mark.parametrize("text", ["", "[]", "7", "null", "{}", '{"labelkit": "another"}', "[" * 100_000, "not json"])
def test_what_is_no_day_is_refused(text):
    with pytest.raises(DayFileUnclear):
        read_day_file(text, "day.json")


def test_a_currency_that_does_not_exist_is_refused():
    with pytest.raises(CurrencyUnknown):
        read_day_file(json.dumps(day(currency="EUX")), "day.json")
