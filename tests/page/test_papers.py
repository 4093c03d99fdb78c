"""Papers that run out, on the page."""

from __future__ import annotations

from io import BytesIO

from pypdf import PdfReader

from tests.page.test_forms import words
from tests.season.test_kept_papers import scan

PERMIT = {"name": "Hill market", "kind": "permit", "number": "17"}


def test_a_paper_is_kept_with_its_file_told_on_the_season_page_and_printed(hand):
    hand.begin()
    form = PERMIT | {"until": "2026-07-20", "file": (BytesIO(scan(2)), "permit.pdf")}
    assert hand.send("/papers", form, "/papers").status_code == 303
    assert "Hill market" in words(hand.get("/papers")) and "runs out soon" in words(hand.get("/papers"))
    assert "Market permit Hill market (17) runs out" in words(hand.get("/"))
    assert len(PdfReader(BytesIO(hand.get("/papers/folder.pdf").data)).pages) == 3


def test_a_day_that_is_over_asks_why_and_what_was_typed_stays(hand):
    hand.begin()
    asked = hand.send("/papers", PERMIT | {"until": "2025-07-20"}, "/papers")
    assert asked.status_code == 422
    assert 'name="because"' in asked.text and 'value="2025-07-20"' in asked.text
    said = PERMIT | {"until": "2025-07-20", "because": "the new one is on its way"}
    assert hand.send("/papers", said, "/papers").status_code == 303
    assert "ran out" in words(hand.get("/"))


def test_a_paper_is_asked_for_no_more(hand):
    hand.begin()
    hand.send("/papers", PERMIT, "/papers")
    assert hand.send("/papers", PERMIT | {"retire": "yes"}, "/papers").status_code == 303
    assert "Hill market" not in words(hand.get("/papers")).replace("Hill market is asked for no more", "")
    assert hand.get("/papers/folder.pdf").status_code == 422
