"""Every form that books has its day: today unless another is said, and held to the order of things."""

from __future__ import annotations

from datetime import date

import pytest

from tests.page.conftest import DAY

EARLIER = date(2026, 7, 12)
NET = {"net": "5 kg", "gross": "", "tare": ""}


@pytest.mark.parametrize("path", ["/weigh", "/drain", "/blend", "/bottle", "/prices", "/bucket/moisture?bucket=B1"])
def test_a_form_that_books_has_a_day(hand, path):
    hand.begin()
    assert 'name="on"' in hand.get(path).text


def test_what_is_booked_for_an_earlier_day_is_of_that_day(hand):
    hand.begin()
    for name, said in (("E1", EARLIER.isoformat()), ("E2", "")):
        assert hand.send("/weigh", {**NET, "bucket": name, "on": said}).status_code == 303
    assert {each.event.bucket: each.event.day for each in hand.events("weigh")[-2:]} == {"E1": EARLIER, "E2": DAY}


def test_a_run_before_its_honey_is_refused_and_one_on_a_day_to_come(hand):
    hand.begin()
    for said in ("2026-07-10", "2026-08-30"):
        sent = hand.send("/bottle", {"bucket": "B1", "jar:one pound": "3", "on": said})
        assert sent.status_code == 422 and said in sent.text
    assert not hand.events("run")


def test_a_day_that_is_none_is_told_at_its_field(hand):
    hand.begin()
    sent = hand.send("/weigh", {**NET, "bucket": "E1", "on": "soon"})
    assert sent.status_code == 422 and 'aria-describedby="e-on"' in sent.text
