"""Calculators, a honey show, and labels before filling, as somebody without scripts fills them in."""

from __future__ import annotations

import html
import io
import re

import pytest
from pypdf import PdfReader

HEADING = "class;name;jar;jars;moisture;label"


def said(page) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page.text)).split())


@pytest.mark.parametrize(
    ("asked", "answer"),
    [
        # A published drying run: 25.2 to 16.4 % water takes 105.3 g off each kilogram.
        ("of=drying&honey=1+kg&moisture=25.2&to=16.4", "3.7 oz (105.3 g) of water go; 1 lb 15.6 oz (894.7 g)"),
        # COLOSS BEEBOOK II, wax moth, 5.8.1 (read in excerpts): 2 h at -15 °C, more than 24 h at 0 °C.
        ("of=freezing&temperature=-18+C", "2 hours at -18 °C."),
        ("of=freezing&temperature=32+F", "More than 24 hours at 0 °C."),
        # Extraction notes of an equipment manual: 35 to 40 lb from a medium super.
        ("of=boxes&box=medium&boxes=2", "70 lb (31.751 kg) to 80 lb (36.287 kg) of honey"),
        ("of=boxes&box=zander&frames=9&own=4+lb", "36 lb (16.329 kg) to 36 lb (16.329 kg) of honey"),
        ("of=flower&flower=rape", "Honey of rape sets fast"),
    ],
)
def test_a_calculator_says_what_the_command_says_in_the_seasons_units(hand, asked, answer):
    assert answer in said(hand.begin().get(f"/reckon?{asked}"))


def test_drying_upwards_is_refused_beside_its_question_and_an_empty_field_is_asked_for(hand):
    hand.begin()
    assert "drying" in said(hand.get("/reckon?of=drying&honey=1+kg&moisture=16&to=18")).lower()
    assert 'role="alert"' in hand.get("/reckon?of=drying&honey=1+kg&moisture=16&to=18").text
    assert "Fill in the fields first." in said(hand.get("/reckon?of=drying&honey=1+kg"))


def test_the_calculators_speak_german(hand):
    hand.begin()
    hand.send("/language", {"language": "de"}, "/")
    page = said(hand.get("/reckon?of=flower&flower=clover"))
    assert "Honig von Klee wird mit der Zeit fest" in page and "Raps" in page and "Robinie" in page


def test_a_show_says_which_lots_may_enter_and_asks_what_its_schedule_leaves_open(hand):
    lot = hand.begin().bottle()
    rows = f"{HEADING}\n1;Light;one pound;2;17.5;12 mm\n2;Dry;one pound;2;17;12 mm\n3;Open;one pound;;;\n"
    sent = hand.client.post(
        "/honey-show",
        data={
            **hand.hidden("/honey-show", "/honey-show"),
            "name": "Mill Valley",
            "file": (io.BytesIO(rows.encode()), "a.csv"),
        },
        headers={"Host": hand.host},
    )
    assert sent.status_code == 303
    page = said(hand.get(sent.headers["Location"]))
    assert re.search(rf"1 Light one pound {lot} 17\.4% yes", page)
    assert re.search(rf"2 Dry one pound {lot} 17\.4% no 17\.4 % water, 17 % allowed", page)
    assert "ask" in page and "how far above the foot of the jar the label of class 3 goes" in page
    paper = hand.get(sent.headers["Location"].replace("/honey-show?", "/honey-show/entries.pdf?"))
    text = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(paper.data)).pages)
    assert lot in text and "Mill Valley" in text


def test_a_schedule_nobody_can_read_is_refused_and_what_was_typed_stays(hand):
    page = hand.begin().get("/honey-show?rows=jar%0Apound")
    assert 'role="alert"' in page.text and "jar\npound</textarea>" in page.text


def test_labels_are_printed_before_the_jars_are_filled_as_many_as_the_kept_plan_has(hand):
    hand.begin()
    hand.send("/words", {"name": "Honey", "wide:one pound": "3 in", "high:one pound": "3 in"})
    hand.send("/plan/keep", {}, "/plan")
    page = hand.get("/labels")
    link = re.search(
        r'href="(/labels\?bucket=B1&amp;size=one\+pound[^"]*)"[^>]*><span class="code">B1</span> (\d+) ×', page.text
    )
    assert link, said(page)
    chosen = hand.get(html.unescape(link[1]))
    assert f"{link[2]} labels" in said(chosen)
