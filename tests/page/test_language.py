"""The page speaks six languages, says which one, and lacks no word in any of them."""

from __future__ import annotations

import re


def test_english_is_said_to_be_english(hand):
    assert '<html lang="en">' in hand.get("/start").text


def test_the_language_of_the_season_is_the_pages(hand):
    hand.send("/start", {"market": "eu-de", "name": "Hollow", "language": "de", "numbers": "de_DE"})
    page = hand.get("/")
    assert '<html lang="de">' in page.text and "14. Juli 2026" in page.text


def test_the_browsers_language_is_taken_before_there_is_a_season(hand):
    assert '<html lang="pl">' in hand.get("/start", **{"Accept-Language": "sv;q=0.9, pl;q=0.8, en;q=0.1"}).text
    assert '<html lang="en">' in hand.get("/start", **{"Accept-Language": "sv"}).text


def test_the_switch_holds_from_page_to_page_and_comes_back_to_where_it_was(hand):
    hand.begin()
    sent = hand.send("/language", {"language": "fr"}, "/weigh?bucket=B9")
    assert sent.status_code == 303 and sent.headers["Location"] == "/weigh?bucket=B9"
    assert '<html lang="fr">' in hand.get("/plan").text and '<html lang="fr">' in hand.get("/nowhere").text
    hand.send("/language", {"language": "xx"}, "/weigh")
    assert '<html lang="fr">' in hand.get("/plan").text
    hand.send("/language", {"language": "en"}, "/weigh")
    assert '<html lang="en">' in hand.get("/plan").text


def test_the_switch_sends_nobody_to_another_site(hand):
    hand.begin()
    for back in ("https://elsewhere.example", "//elsewhere.example", "/\\elsewhere.example"):
        assert hand.send("/language", {"language": "de", "back": back}, "/weigh").headers["Location"] == "/"


def test_a_translation_nobody_checked_says_so_and_offers_english(hand):
    hand.begin()
    assert "Read it in English" not in hand.get("/").text
    hand.send("/language", {"language": "uk"}, "/")
    page = hand.get("/").text
    assert re.search(r'name="language" value="en" lang="en">Read it in English', page)


def test_a_name_with_marks_in_it_stays_text_in_every_language(hand):
    from labelkit.page.language import Marked, _filled

    assert _filled("{a} & {b}", {"a": "<i>", "b": Marked("<b>2</b>")}) == "&lt;i&gt; &amp; <b>2</b>"
    assert _filled("{a} & b", {"a": "<i>"}) == "<i> & b"  # no markup: Jinja2 escapes the whole
