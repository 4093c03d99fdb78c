"""The label desk: words and look changed together, seen at once, and kept with the print and never before."""

from __future__ import annotations

import re

import pytest

LABEL = {"name": "Wildflower Honey", "origin": "us", "wide:one pound": "3 in", "high:one pound": "3.2 in"}


@pytest.fixture
def desk(hand):
    """A lot with twelve labelled jars to be; the address of its desk."""
    lot = hand.begin().bottle()
    hand.send("/words", LABEL)
    return f"/labels?lot={lot}&size=one+pound"


def words(hand, **changed: str) -> dict[str, str]:
    return {"name": "Wildflower Honey", "lines": "", "best_before": "", "origin": "US", "desk": "/", **changed}


def found(text: str, level: str) -> list[str]:
    return re.findall(rf'class="finding {level}" id="(n-\d+)"', text)


def test_words_typed_at_the_desk_are_seen_and_judged_and_not_kept(hand, desk):
    before = len(hand.events())
    look = hand.get(desk.replace("labels?", "labels/look?") + "&desk=/&lines=Soothes+coughs").text
    assert found(look, "stop") and 'href="#n-1"' in look and '<template data-slot="lines">' in look
    assert "Soothes coughs" in look and "1 thing must be fixed before this prints" in look
    assert len(hand.events()) == before
    assert not found(hand.get(desk).text, "stop")


def test_a_print_keeps_the_words_it_says_in_the_same_step(hand, desk):
    sent = hand.send("/labels/print", words(hand, name="Meadow Honey", design="meadow"), desk)
    assert sent.status_code == 303
    (printed,) = hand.events("print")
    assert "Meadow Honey" in printed.event.said and printed.event.design == "meadow"
    kept = [each.event.value for each in hand.events("set") if each.event.name == "label"][-1]
    assert kept["name"] == "Meadow Honey" and kept["jars"]["one pound"] == {"diameter": "3 in", "height": "3.2 in"}
    assert 'value="Meadow Honey"' in hand.get(desk).text


def test_other_words_on_jars_that_bear_a_label_are_asked_about(hand, desk):
    hand.send("/labels/print", words(hand), desk)
    other = hand.send("/labels/print", words(hand, name="Meadow Honey"), desk)
    assert other.status_code == 422 and len(hand.events("print")) == 1
    assert 'value="Meadow Honey"' in other.text and 'name="because"' in other.text
    why = words(hand, name="Meadow Honey", because="the name was wrong")
    assert hand.send("/labels/print", why, desk).status_code == 303
    assert hand.events("print")[-1].event.because == "the name was wrong"


def test_labels_without_a_name_are_looked_at_and_not_printed(hand, desk):
    assert "Say the honey’s name" in hand.get(f"{desk}&desk=/&name=").text
    assert hand.send("/labels/print", words(hand, name=""), desk).status_code == 422 and not hand.events("print")


def test_a_forbidden_line_is_taken_out_by_its_own_button(hand, desk):
    typed = words(hand, lines="Soothes coughs\nFrom our hives", take_out="Soothes coughs")
    text = hand.post("/labels", {**hand.hidden(desk, "/labels/print"), **typed}).text
    assert re.search(r'<textarea id="f-lines"[^>]*>From our hives</textarea>', text) and not found(text, "stop")


def test_a_question_is_answered_beside_its_finding_and_kept_with_the_print(hand, desk):
    text = hand.get(desk).text
    assert 'name="fact:home_kitchen"' in text
    answered = hand.get(f"{desk}&desk=/&fact:home_kitchen=no".replace("labels?", "labels/look?")).text
    assert len(found(answered, "ask")) < len(found(text, "ask")) and 'value="no" selected' in answered
    hand.send("/labels/print", words(hand, **{"fact:home_kitchen": "no"}), desk)
    kept = [each.event.value for each in hand.events("set") if each.event.name == "situation"][-1]
    assert kept["home_kitchen"] is False


def test_every_design_has_its_small_true_picture(hand, desk):
    names = re.findall(r'name="design" value="(\w+)"', hand.get(desk).text)
    pictures = {hand.get(f"{desk}&design={name}".replace("labels?", "labels/design.png?")).data for name in names[:2]}
    assert len(names) >= 9 and len(pictures) == 2 and all(each.startswith(b"\x89PNG") for each in pictures)


def test_a_season_that_says_nothing_of_its_label_yet_says_it_at_the_desk(hand):
    lot = hand.begin().bottle()
    desk = f"/labels?lot={lot}&size=one+pound"
    text = hand.get(desk).text
    assert 'name="wide"' in text and "Print 12 labels" not in text
    assert hand.get(f"{desk}&design=meadow".replace("labels?", "labels/design.png?")).data.startswith(b"\x89PNG")
    sent = hand.send("/labels/print", words(hand, wide="3 in", high="3.2 in", address="12 Sample Lane, Hollow"), desk)
    assert sent.status_code == 303 and len(hand.events("print")) == 1


def test_the_sheet_is_drawn_to_scale_and_its_used_places_stay_tapped_off(hand, desk):
    text = hand.get(f"{desk}&sheet=letter-2x5-102x51&used=1&used=4").text
    assert len(re.findall(r'name="used" value="\d+"', text)) == 10
    assert re.findall(r'name="used" value="(\d+)" checked', text) == ["1", "4"]
    # 101.6 by 50.8 mm on a page of 215.9 by 279.4 mm: drawn 190 pixels wide.
    assert '<td width="90" height="45">' in text


def evening(hand, place: str, **more: str):
    """The first evening in a place, to its label; the answer to the print."""
    hand.send("/start", {"market": place})
    full = {"bucket": "B1", "gross": "25.4 kg", "tare": "1.1 kg", "moisture": "17.2", "then": "jars"}
    hand.send("/weigh", full, "/first/bucket")
    hand.send("/first/jars", {"size": "500 g", "declares:500 g": "500 g", "wide:500 g": "8 cm", "high:500 g": "8 cm"})
    hand.send("/first/plan", {})
    said = {"name": "Wildflower Honey", "maker": "Hollow", "address": "12 Sample Lane, Hollow A1A 1A1", **more}
    return hand.send("/first/print", said, "/first/label")


# Food and Drug Regulations (C.R.C., c. 870), B.01.012(2): both languages; Directive 2001/110/EC, Art. 2(4)(a): origin.
@pytest.mark.parametrize(
    ("place", "field", "value"), [("ca", "name_too", "Miel de fleurs sauvages"), ("eu", "origin", "RO")]
)
def test_the_first_evening_asks_for_what_the_label_of_a_place_needs_besides(hand, place, field, value):
    assert evening(hand, place).status_code == 422
    assert f'name="{field}"' in hand.get("/first/label").text
    said = {"name": "Wildflower Honey", "maker": "Hollow", "address": "12 Sample Lane, Hollow A1A 1A1", field: value}
    assert hand.send("/first/print", said, "/first/label").status_code == 303 and hand.events("print")


def test_every_finding_leads_to_its_rule_with_its_day_quote_and_certainty(hand, desk):
    ruled = {(m, r) for m, r in re.findall(r'href="/rules/([\w-]+)#r-([\w.-]+)"', hand.get(desk).text)}
    assert ("us-va", "us.claim.raw") in ruled or len(ruled) > 5
    text = hand.get("/rules/us-va").text
    held = [f'id="r-{rule}"' in text for _, rule in ruled]
    assert sum(held) * 2 > len(held), "most findings are of a rule; the others ask what nobody has read"
    assert "since " in text and "<blockquote>" in text and "Check your local rules" in text.replace("check", "Check")


def test_the_rules_are_searched_by_words_and_the_review_can_be_printed(hand):
    hand.begin()
    assert '/rules/us-va"' in hand.get("/rules").text
    whole, some = (
        hand.get(path).text.count('class="law-of') for path in ("/rules/us", "/rules/us?about=letter+height")
    )
    assert 0 < some < whole
    review = hand.get("/rules/us-va/review")
    assert review.status_code == 200 and "sandbox" in review.headers["Content-Security-Policy"]
    assert hand.get("/rules/nowhere").status_code == 422
