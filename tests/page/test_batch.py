"""The batch sheet by plain forms, one question at a time: saved or skipped, refused beside its field, printed, shown in the trace."""

from __future__ import annotations

import pytest

from labelkit.run.batch_sheet import LINES
from tests.page.test_forms import words

ANSWERS = {
    "scale": {"against": "16", "read": "16.0"},  # ounces, as the season of the page counts
    "ice": {"read": "32.5"},  # °F
    "boiling": {"read": "212"},
    "refractometer": {"read": "27.2"},
    "jars": {"looked_at": "30", "rejected": "1"},
    "honey": {"read": "90"},
    "air": {"read": "70"},
    "breakage": {"size": "one pound", "broken": "1", "beside": "2"},
    "strainer-before": {"words": "whole"},
    "strainer-after": {"words": "whole"},
    "hands": {},
    "signed": {},
    "sample": {"until": "2027-07-14"},
}


def test_the_whole_sheet_is_filled_in_question_after_question(hand):
    hand.begin()
    address = "/batch/scale?of=B1"
    for line in LINES:
        assert address == f"/batch/{line}?of=B1"
        sent = hand.send(f"/batch/{line}", {"of": "B1", **ANSWERS.get(line, {"words": "hot water"})}, address)
        assert sent.status_code == 303, words(sent)
        address = sent.headers["Location"]
    assert address == "/batch?of=B1"
    said = words(hand.get(address))
    assert "16 oz, should be 16 oz" in said and "1 broken, 2 beside thrown away" in said
    assert len(hand.events("batch")) == len(LINES)
    lot = hand.bottle()
    (run,) = hand.events("run")
    assert run.event.broken[0].count == 3
    assert "Equipment cleaned with" in words(hand.get(f"/trace?code={lot}"))


def test_a_question_may_be_skipped_and_nobody_asks_again(hand):
    hand.begin()
    page = hand.get("/batch/scale").text
    assert 'href="/batch/ice"' in page
    assert hand.get("/batch/ice").status_code == 200
    assert "batch" not in words(hand.get("/")).casefold()


def test_what_is_typed_wrong_is_refused_on_its_page_and_may_be_said_why(hand):
    hand.begin()
    refused = hand.send("/batch/ice", {"read": "60"})
    assert refused.status_code == 422 and "but should show" in words(refused)
    said = hand.post("/batch/ice", {**hand.hidden("/batch/ice", "/batch/ice"), "read": "60", "because": "no ice left"})
    assert said.status_code == 303
    assert hand.send("/batch/breakage", {"size": "one pound", "broken": "1"}).status_code == 422
    assert hand.get("/batch/nothing").status_code == 404


@pytest.mark.parametrize("number", range(1, 7))
def test_the_sheet_and_the_inspectors_folder_are_papers(hand, number):
    hand.begin()
    hand.bottle()
    assert hand.get("/batch/sheet.pdf").data.startswith(b"%PDF")
    assert hand.get(f"/inspection/{number}.pdf").data.startswith(b"%PDF")
    assert "For an inspector" in words(hand.get("/batch"))
