"""A bucket's own page: what happened to it is booked there, and can be taken back."""

from __future__ import annotations

from decimal import Decimal

import pytest

from labelkit.page.views.bucket import WHAT

FORMS = {
    "weigh-again": {"gross": "41 lb", "tare": "2 lb 7 oz"},
    "moisture": {"moisture": "17.9", "instrument": "R2"},
    "skim": {"removed": "0.5"},
    "dry": {"after": "38 lb", "highest": "95", "hours": "12"},
    "warm": {"highest": "104", "hours": "6"},
    "stir": {"seed": "B2", "seed_mass": "2"},
    "sell": {"customer": "Sample packers", "rate": "4.20"},
    "feed": {"part": "1", "because": "to H1"},
    "give": {"part": "1", "customer": "Robin Invented"},
    "discard": {"part": "1", "because": "spilled"},
    "note": {"note": "smells of lime"},
}


@pytest.mark.parametrize("what", WHAT)
def test_everything_that_may_happen_to_a_bucket_is_booked_on_its_page(hand, what):
    hand.begin()
    path = f"/bucket/{what}?bucket=B1"
    sent = hand.send(f"/bucket/{what}", FORMS[what], path)
    assert sent.status_code == 303, sent.text
    shown = hand.get("/bucket?bucket=B1").text
    assert "Put right or take back" in shown
    assert len(hand.events("measure", "treat", "take-out", "note")) == 1


def test_a_bare_temperature_is_in_the_degrees_the_form_shows(hand):
    hand.begin()
    hand.send("/bucket/warm", FORMS["warm"], "/bucket/warm?bucket=B1")
    assert hand.events("treat")[0].event.hottest_c == Decimal(40)


def test_a_refused_step_shows_the_form_again_with_what_was_typed(hand):
    hand.begin()
    sent = hand.send("/bucket/moisture", {"moisture": "82", "instrument": "R2"}, "/bucket/moisture?bucket=B1")
    assert sent.status_code == 422 and 'value="R2"' in sent.text and "solids" in sent.text
    assert hand.events("measure") == []


def test_a_step_may_be_of_an_earlier_day_but_not_before_the_honey(hand):
    hand.begin()
    fields = {"moisture": "18", "on": "2026-07-01"}
    sent = hand.send("/bucket/moisture", fields, "/bucket/moisture?bucket=B1")
    assert sent.status_code == 422 and hand.events("measure") == []


def test_a_sold_bucket_has_its_declaration_and_no_other_event_has_one(hand):
    hand.begin()
    hand.send("/bucket/sell", FORMS["sell"], "/bucket/sell?bucket=B1")
    (sold,) = hand.events("take-out")
    shown = hand.get("/bucket?bucket=B1").text
    assert f"/bucket/declaration.pdf?event={sold.seq}" in shown and ">sold<" in shown
    assert hand.get(f"/bucket/declaration.pdf?event={sold.seq}").data.startswith(b"%PDF")
    assert hand.get("/bucket/declaration.pdf?event=1").status_code == 404


def test_the_reminder_of_cappings_ends_where_nothing_came(hand):
    hand.begin()
    sent = hand.post("/drain/nothing", {**hand.hidden("/drain", "/drain"), "bucket": "B1"})
    assert sent.status_code == 303, sent.text
    (noted,) = hand.events("note")
    assert "B1" in noted.event.lots and noted.event.ends == "drain"


def test_what_is_no_step_and_no_bucket_is_told(hand):
    hand.begin()
    assert hand.get("/bucket/fly?bucket=B1").status_code == 404
    assert hand.get("/bucket?bucket=B9").status_code in (404, 422)


def test_seed_out_of_jars_is_chosen_by_its_lot_and_the_jars_are_counted(hand):
    hand.begin()
    size, lot = "one pound", hand.bottle()
    path = "/bucket/stir?bucket=B2"
    assert f'value="jar:{size}@{lot}"' in hand.get(path).text
    without = hand.send("/bucket/stir", {"bucket": "B2", "seed": f"jar:{size}@{lot}"}, path)
    assert without.status_code == 422 and hand.events("treat") == []
    sent = hand.send("/bucket/stir", {"bucket": "B2", "seed": f"jar:{size}@{lot}", "seed_jars": "2"}, path)
    assert sent.status_code == 303, sent.text
    (stirred,) = hand.events("treat")
    assert [(each.size, each.count) for each in stirred.event.opened] == [(size, 2)]
    assert stirred.event.seed.bucket == lot
