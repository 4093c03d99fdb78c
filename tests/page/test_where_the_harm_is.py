"""Warnings stand on the page where the harm would be done, each with its way out, and a person's words let through."""

from __future__ import annotations

from tests.page.conftest import Hand
from tests.page.test_forms import words

LABEL = {"name": "Wildflower Honey", "fact:home_kitchen": "yes", "fact:infused": "no"}


def wet(hand: Hand) -> Hand:
    hand.begin().send("/weigh", {"bucket": "B3", "net": "9 kg", "gross": "", "tare": "", "moisture": "20.4"})
    return hand


def short(hand: Hand) -> str:
    """A lot whose check weighing failed."""
    lot = hand.begin().bottle()
    keep(hand, lot, 440)
    return lot


def keep(hand: Hand, lot: str, grams: int, **more: str) -> None:
    weights = [f"{grams}.{n} g" for n in range(10, 22)]
    form = {"lot": lot, "size": "one pound", "w": weights, **more}
    kept = hand.send("/filling/keep", form, f"/filling/weigh?lot={lot}&size=one+pound")
    assert kept.status_code == 303, words(kept)


def test_wet_honey_is_left_out_of_the_plan_with_the_way_out_beside_it(hand):
    for path in ("/plan", "/filling", "/bottle"):
        page = wet(hand).get(path) if path == "/plan" else hand.get(path)
        assert "The honey of B3 has 20.4 % water; the limit is 20 %." in words(page), path
        assert 'href="/bucket/dry?bucket=B3"' in page.text
    assert "Left out: B3." in words(hand.get("/plan"))
    home = hand.get("/")
    assert "20.4 % water" in words(home) and "Bottle it" not in home.text


def test_wet_honey_is_bottled_once_it_is_said_why(hand):
    form = {"bucket": "B3", "jar:one pound": "3"}
    asked = wet(hand).send("/bottle", form)
    assert asked.status_code == 422 and 'name="because"' in asked.text and not hand.events("run")
    assert hand.send("/bottle", {**form, "because": "for baking"}).status_code == 303
    assert hand.events("run")[0].event.because == "for baking"


def test_honey_on_hold_is_said_on_plan_and_filling_and_leads_to_its_release(hand):
    hand.begin().send("/trace/hold", {"because": "a splinter"}, "/trace?code=B1")
    for path in ("/plan", "/filling", "/bottle"):
        page = hand.get(path)
        assert "Bucket B1 is on hold." in words(page) and "Release it" in words(page), path
    assert hand.send("/bottle", {"bucket": "B1", "jar:one pound": "3"}).status_code == 422


def test_jars_set_apart_are_shown_where_they_would_be_sold_and_lead_to_their_release(hand):
    lot = hand.begin().bottle()
    hand.send("/trace/hold", {"because": "a splinter"}, f"/trace?code={lot}")
    page = hand.get(f"/sell?lot={lot}")
    assert f"Lot {lot} is on hold." in words(page) and f'href="/trace?code={lot}"' in page.text
    assert "12 × one pound – on hold" in words(page) and "0 12 on hold" in words(page)


def test_a_short_lot_is_warned_of_wherever_its_jars_could_go(hand):
    lot = short(hand)
    hand.send("/words", LABEL)
    for path in ("/", f"/sell?lot={lot}", "/stall", f"/labels?lot={lot}&size=one+pound", f"/trace?code={lot}"):
        assert f"Lot {lot}, one pound: the check weighing of" in words(hand.get(path)), path
    sale = hand.send("/sell", {"lot": lot, "jar:one pound": "1", "because": "nobody minds"}, f"/sell?lot={lot}")
    assert sale.status_code == 422 and not hand.events("sell")
    printed = hand.send("/labels/print", {"lot": lot, "size": "one pound"}, f"/labels?lot={lot}&size=one+pound")
    assert printed.status_code == 422 and not hand.events("print")


def test_a_short_lot_goes_again_once_topped_up_and_weighed_anew(hand):
    lot = short(hand)
    keep(hand, lot, 456, anew="yes")
    assert hand.send("/sell", {"lot": lot, "jar:one pound": "1"}, f"/sell?lot={lot}").status_code == 303


def test_a_short_lot_is_released_with_words_on_its_own_page(hand):
    lot = short(hand)
    assert hand.send("/trace/release", {"because": "the scale was off"}, f"/trace?code={lot}").status_code == 303
    assert hand.send("/sell", {"lot": lot, "jar:one pound": "1"}, f"/sell?lot={lot}").status_code == 303


def test_a_shop_without_a_name_is_refused_and_its_phone_is_asked_for(hand):
    lot = hand.begin().bottle()
    form = {"lot": lot, "jar:one pound": "2", "to": "shop"}
    nameless = hand.send("/sell", form, f"/sell?lot={lot}")
    assert nameless.status_code == 422 and "need the name of the business" in words(nameless)
    hand.send("/sell", {**form, "customer": "Corner shop"}, f"/sell?lot={lot}")
    assert "No phone number of Corner shop is known" in words(hand.get("/sell"))
    assert "Note the phone number of 1 customer: Corner shop." in words(hand.get("/"))
    hand.send("/trace/reach", {"phone": "555-0100"}, "/trace?customer=Corner+shop")
    assert "Note the phone number" not in words(hand.get("/"))


def test_jars_that_came_back_are_released_on_the_page_of_their_lot(hand):
    lot = hand.begin().bottle()
    hand.send("/sell", {"lot": lot, "jar:one pound": "2"}, f"/sell?lot={lot}")
    back = {"lot": lot, "jar:one pound": "1", "as": "returned", "reason": "lid not tight"}
    assert hand.send("/sell", back, f"/sell?lot={lot}").status_code == 303
    assert "1 jar of it came back and stands apart." in words(hand.get(f"/trace?code={lot}"))
    hand.send("/trace/release", {"because": "the lid is tight"}, f"/trace?code={lot}")
    assert "stands apart" not in words(hand.get(f"/trace?code={lot}"))


def test_labels_with_a_finding_are_printed_once_it_is_said_why_and_before_that_only_as_a_proof(hand):
    lot = hand.begin().bottle()
    hand.send("/words", {**LABEL, "lines": "Cures colds", "wide:one pound": "3 in", "high:one pound": "3.2 in"})
    jars = f"lot={lot}&size=one+pound"
    form = {"lot": lot, "size": "one pound"}
    stopped = hand.send("/labels/print", form, f"/labels?{jars}")
    assert stopped.status_code == 422 and not hand.events("print")
    assert 'name="because"' in stopped.text, words(stopped)
    printed = hand.send("/labels/print", {**form, "because": "for the family"}, f"/labels?{jars}")
    assert printed.status_code == 303
    (booked,) = hand.events("print")
    assert booked.event.because == "for the family" and "cure" in " ".join(booked.event.findings)
    before, after = (hand.get(f"/labels/labels.pdf?{jars}{more}").data for more in ("", "&because=for+the+family"))
    assert len(before) > len(after), "a proof says on every label that it is one"
