"""Years on the page: side by side, their papers, and the end of one, by forms alone."""

from __future__ import annotations

from datetime import date

import pytest

from labelkit.page.app import make_app
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from tests.page.conftest import PORT, Hand, desk_at

NEW_YEAR = date(2027, 1, 3)


@pytest.fixture
def january(hand, tmp_path):
    """Twelve jars filled in July 2026; the same record in January, and the lot."""
    lot = hand.begin().bottle()
    later = Hand(make_app(Station(desk_at(tmp_path, NEW_YEAR), True, PORT, Samples())).test_client(), hand.record)
    return later, lot


def test_a_year_is_shown_drawn_and_printed(january):
    hand, lot = january
    page = hand.get("/years").text
    # Two buckets: 38 lb 12 oz net and 12 kg; twelve jars filled, none sold. Reckoned by hand.
    assert ">2026<" in page and "65 lb 3" in page and ">12<" in page
    assert hand.get("/years/picture.svg").text.startswith("<svg")
    assert hand.get("/years/2026.pdf").data.startswith(b"%PDF")
    assert lot in hand.get("/years?year=2026").text


def test_closing_books_what_was_counted_and_asks_about_what_comes_later(january):
    hand, lot = january
    fields = {f"count:{lot} one pound": "11"}
    refused = hand.send("/years", fields, "/years?year=2026")
    assert refused.status_code == 422 and 'name="because"' in refused.text and 'value="11"' in refused.text
    sent = hand.send("/years", {**fields, "because": "one is nowhere"}, "/years?year=2026")
    assert sent.status_code == 303, sent.text
    assert "2026 is closed" in hand.get("/years").text
    (closed,) = hand.events("year-close")
    assert [jars.count for jars in closed.event.jars] == [11]
    (taken,) = hand.events("count")
    assert taken.day == date(2026, 12, 31)


def test_a_correction_in_a_closed_year_is_shown_with_its_reason(january):
    hand, _ = january
    assert hand.send("/years", {}, "/years?year=2026").status_code == 303
    wrong = next(event for event in hand.events("weigh") if event.event.bucket == "B2")
    struck = {"event": str(wrong.seq), "net": "11 kg", "because": "12 was typed for 11"}
    assert hand.send("/correct", struck, f"/correct?event={wrong.seq}").status_code == 303
    assert [each.event.because for each in hand.events("late")] == ["12 was typed for 11"]
    assert "12 was typed for 11" in hand.get("/years").text
