"""Filling day by plain forms: the sheet beside the scale, jar after jar with what to add, the verdict, and the weights kept."""

from __future__ import annotations

import html
import re

import pytest

from labelkit.measures import Mass
from tests.page.test_forms import words

OUNCES = "size=one+pound&count=38"


@pytest.fixture
def metric(hand):
    """The season of the other tests, with kilograms first, so that a bare weight is grams."""
    hand.begin()
    hand.send("/start", {"market": "us-va", "name": "Pretend Hollow Honey", "units": "metric"})
    return hand


def test_the_run_sheet_says_what_the_scale_must_read(metric):
    page = words(metric.get("/filling"))
    # 1 lb is 453.592 g; the scale counts in grams, and the next reading that is no less is 454 g.
    assert "454 g" in page and "38 × one pound" in page and "26 × one pound" in page
    # NIST Handbook 133, table 2-1: lots of 12 to 250 packages give a sample of 12, lots of 11 or fewer all of them.
    assert page.count("454 g … 456 g 12 ") == 2
    with_jar = words(metric.get("/filling?tare%3Aone+pound=212.7&division=1"))
    # 453.592 + 212.7 = 666.292: the next whole gram is 667.
    assert "667 g" in with_jar and "jar and honey" in with_jar
    assert metric.get("/filling/sheet.pdf?tare%3Aone+pound=212.7").data.startswith(b"%PDF")


def test_an_impossible_tare_is_told_and_the_page_stands(metric):
    answer = metric.get("/filling?tare%3Aone+pound=0+g")
    assert answer.status_code == 200 and "zero" in words(answer)


def test_without_honey_there_is_a_way_to_the_scale(hand):
    hand.send("/start", {"market": "us-va", "name": "Hollow"})
    assert "There is no bucket with honey in it" in words(hand.get("/filling"))


def test_each_jar_is_told_what_to_add(metric):
    page = words(metric.get(f"/filling/look?{OUNCES}&w=455&next=451"))
    # 453.592 − 451 = 2.592 g are missing.
    assert "Jar 2" in page and "add 2.6 g" in page
    good = words(metric.get(f"/filling/look?{OUNCES}&w=455&next=456"))
    assert "above the aim" in good
    aimed = words(metric.get(f"/filling/look?{OUNCES}&next=455&aimed=457"))
    assert "add 2 g" in aimed
    gross = words(metric.get(f"/filling/look?{OUNCES}&next=664.7&tare=212.7&aimed=454"))
    assert "add 2 g" in gross, "664.7 less 212.7 is 452"


def test_the_verdict_is_the_markets_own_test(metric):
    # NIST Handbook 133: all above the label, so the mean is, and none is short.
    full = "&".join(f"w={455 + n % 3}" for n in range(12))
    assert "The lot passes" in words(metric.get(f"/filling/weigh?{OUNCES}&{full}"))
    short = "&".join(f"w={440 + n % 3}" for n in range(12))
    assert "The lot fails" in words(metric.get(f"/filling/weigh?{OUNCES}&{short}"))
    assert "Not decided yet" in words(metric.get(f"/filling/weigh?{OUNCES}&w=455&w=456"))
    assert "drawn from all over the lot" in words(metric.get(f"/filling/weigh?{OUNCES}"))


def test_the_jar_in_the_field_is_taken_into_the_list_by_a_plain_form(metric):
    answer = metric.get(f"/filling/weigh?{OUNCES}&w=455&next=456")
    assert re.findall(r'name="w" value="([^"]+)"', answer.text) == ["455 g", "456 g"]
    assert re.search(r'name="next" type="text" value=""', answer.text)
    looked = metric.get(f"/filling/look?{OUNCES}&w=455&next=456")
    assert re.findall(r'name="w" value="([^"]+)"', looked.text) == ["455 g"], "a look takes nothing over"


def test_a_slip_is_asked_about_and_nothing_typed_is_lost(metric):
    page = metric.get(f"/filling/look?{OUNCES}&w=455&w=456&next=4.56")
    assert "Was 456 g meant?" in words(page)
    assert re.findall(r'name="w" value="([^"]+)"', page.text) == ["455", "456"]


def test_the_chart_is_a_drawing_that_runs_nothing(metric):
    address = re.search(r'class="chart" src="([^"]+)"', metric.get(f"/filling/look?{OUNCES}&w=455&w=456").text)[1]
    drawn = metric.get(html.unescape(address))
    assert drawn.mimetype == "image/svg+xml" and "sandbox" in drawn.headers["Content-Security-Policy"]
    assert drawn.text.count('class="dot') == 2
    assert metric.get(f"/filling/chart.svg?{OUNCES}").status_code == 422


def test_weights_are_kept_with_their_lot_once(metric):
    lot = metric.bottle()
    page = f"/filling/weigh?lot={lot}&size=one+pound&w=455&w=456&w=454"
    form = {**metric.hidden(page, "/filling/keep"), "lot": lot, "w": ["455", "456", "454"]}
    for _ in range(2):
        sent = metric.post("/filling/keep", form)
        assert sent.status_code == 303, words(sent)
    (kept,) = metric.events("check-weigh")
    assert kept.event.lot == lot and kept.event.shown == tuple(Mass.of_grams(g) for g in (455, 456, 454))
    assert "3 weights of lot" in words(metric.get("/filling"))


def test_a_lot_that_is_none_is_refused_on_the_page(metric):
    answer = metric.get("/filling/weigh?lot=L99&size=one+pound&w=455")
    assert answer.status_code == 200 and "L99" in words(answer)


def test_comb_is_weighed_piece_by_piece_and_its_labels_are_printed_together(metric):
    metric.send("/prices", {"size": "comb", "declares": "1 lb", "price": "16.00", "cost": "0.80", "by_weight": "yes"})
    look = words(metric.get("/bottle/look?bucket=B2&pieces:comb=398%0A412%0A412"))
    # 16.00 for 453.59237 g: 14.04 for 398 g and 14.53 for 412 g.
    assert "comb 398 g $14.04" in look and "comb 412 g $14.53" in look
    sent = metric.send("/bottle", {"bucket": "B2", "pieces:comb": "398\n412\n412"})
    lot = sent.headers["Location"].rpartition("/")[2]
    assert [(jar.size, jar.count) for jar in metric.events("run")[0].event.jars] == [
        ("comb 398 g", 1),
        ("comb 412 g", 2),
    ]
    metric.send("/words", {"name": "Clover Comb Honey"})
    assert f'lot={lot}&amp;size=comb"' in metric.get("/labels").text
