"""The page speaks six languages, says which one, and lacks no word in any of them."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

from labelkit.measures.locales import read_catalogue
from labelkit.shipped.catalogues import catalogue_text
from tests.page.said import everything_said, in_refusals


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


LANGUAGES = ("de", "es", "fr", "pl", "uk")
ABBREVIATED = "note no."
BRACES = re.compile(r"\{\w*\}")


def catalogue(lang: str):
    return read_catalogue(catalogue_text("page", lang), lang)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_word_of_the_page_has_a_translation_and_no_translation_is_left_over(lang):
    known = {
        name for (_, name), message in catalogue(lang).messages.items() if message.strings and all(message.strings)
    }
    said = set(everything_said())
    assert said - known == set()
    assert known - said - in_refusals() == set()


def test_a_refusal_that_is_translated_is_translated_in_every_language():
    of_each = [{name for _, name in catalogue(lang).messages} & in_refusals() for lang in LANGUAGES]
    assert len(of_each[0]) > 80 and all(each == of_each[0] for each in of_each)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_translation_keeps_the_braces_of_its_english_in_every_plural(lang):
    said = everything_said()
    for (_, name), message in catalogue(lang).messages.items():
        asked = sorted(set(BRACES.findall(said.get(name) or name)))
        for text in message.strings:
            assert sorted(set(BRACES.findall(text))) == asked, (name, text)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_translation_ends_as_its_english_ends(lang):
    """A full stop, a colon or a question mark that was lost or won is a slip of the pen."""
    for (_, name), message in catalogue(lang).messages.items():
        for text in message.strings:
            for sign in ".:?":
                assert text.endswith(sign) == name.endswith(sign) or name == ABBREVIATED, (name, text)
            assert text == text.strip() and "  " not in text, (name, text)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_number_of_things_has_as_many_forms_as_its_language(lang):
    """The plural categories of whole numbers in CLDR, as babel carries them."""
    from babel import Locale

    forms = len({Locale(lang).plural_form(n) for n in range(200)})
    said = everything_said()
    for (_, name), message in catalogue(lang).messages.items():
        assert len(message.strings) == (forms if said.get(name) else 1), name


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_page_is_filled_in_every_language(hand, lang):
    lot = hand.begin().bottle()
    hand.send("/language", {"language": lang}, "/")
    for path in (
        "/",
        "/weigh",
        "/drain",
        "/blend",
        "/prices",
        "/plan",
        "/plan/why",
        "/bottle",
        "/warming",
        "/warming?fill_on=2026-07-20&seed=10",
        "/words",
        "/labels",
        "/looks",
        f"/labels?lot={lot}&size=one+pound",
        "/sell",
        f"/sell?lot={lot}",
        "/trace",
        f"/trace?code={lot}",
        "/record",
        "/start",
        f"/lot/{lot}",
        "/nowhere",
        "/weigh?bucket=B9&net=4",
    ):
        page = hand.get(path)
        assert page.status_code in (200, 404), path
        assert f'<html lang="{lang}">' in page.text and "{n}" not in page.text and "⟦" not in page.text, path
        title = re.search(r"<title>(.*?)</title>", page.text)[1]
        assert "Weigh in" not in title and "Record" not in title, (path, title)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_refusal_is_in_the_language_of_the_page_and_what_stays_english_is_marked_so(hand, lang):
    hand.begin()
    hand.send("/language", {"language": lang}, "/")
    refused = hand.send("/weigh", {"bucket": "B9", "gross": "1 lb", "tare": "2 lb"}).text
    assert re.search(r"<h2>[^<]*B9[^<]*1 lb[^<]*2 lb", refused) and "the gross weight" not in refused
    other = hand.send("/weigh", {"bucket": "B9", "gross": "1 ly", "tare": "2 lb"}).text
    assert re.search(r'<h2><span lang="en">[^<]*is not a unit of', other)


def test_each_english_text_stands_once_in_each_catalogue():
    for lang in LANGUAGES:
        found = re.findall(r'^msgid "(.+)"$', catalogue_text("page", lang), re.MULTILINE)
        assert len(found) == len(set(found))


def test_what_is_due_today_is_said_in_the_language_of_the_page(hand):
    hand.begin()
    hand.send("/weigh", {"bucket": "B3", "net": "5 kg", "gross": "", "tare": "", "moisture": "19.4"})
    english = hand.get("/").text
    assert (
        "Bucket B3 may ferment: 19.4 % water." in english and "safe for a year only with fewer than 1 yeast" in english
    )
    hand.send("/language", {"language": "de"}, "/")
    german = hand.get("/").text
    assert "Eimer B3 kann gären: 19.4 % Wasser." in german and "weniger als 1 Hefezelle je Gramm" in german
    assert "may ferment" not in german


def test_a_command_still_says_it_in_english(hand):
    from labelkit.cli._runner import answer_to

    hand.begin()
    hand.send("/weigh", {"bucket": "B3", "net": "5 kg", "gross": "", "tare": "", "moisture": "19.4"})
    hand.send("/language", {"language": "de"}, "/")
    line = ["--record", hand.record, "--day", "2026-07-14", "today"]
    assert "Bucket B3 may ferment" in answer_to(line, clock=datetime.now(UTC), who="Robin").text


def test_a_reckoning_is_said_in_the_language_of_the_page(hand):
    hand.begin()
    hand.send("/language", {"language": "pl"}, "/")
    page = hand.get("/").text
    assert "B1 zawiera" in page and "na wadze" in page
    assert 'class="law" lang="en"' in page


@pytest.mark.parametrize("lang", LANGUAGES)
def test_what_no_catalogue_knows_is_marked_as_english(hand, lang):
    from labelkit.page.language import told

    with hand.client.application.test_request_context("/", headers={"Host": hand.host}):
        from flask import session

        session["language"] = lang
        assert told("A word <nobody> translated.") == '<span lang="en">A word &lt;nobody&gt; translated.</span>'


def test_the_calendar_of_the_page_speaks_its_language(hand):
    from icalendar import Calendar

    hand.begin()
    hand.send("/language", {"language": "de"}, "/")
    answer = hand.get("/today.ics")
    titles = [str(each["summary"]) for each in Calendar.from_ical(answer.data).walk("VEVENT")]
    assert answer.mimetype == "text/calendar" and any(title.startswith("Eimer B1 ") for title in titles), titles


@pytest.mark.parametrize("of", ["page", "labelkit", "recall"])
def test_french_keeps_its_marks_with_their_words(of):
    """A no-break space before : ; ? ! % and inside « », and the curved apostrophe (Imprimerie nationale; from memory)."""
    texts = [t for m in read_catalogue(catalogue_text(of, "fr"), "fr").messages.values() for t in m.strings]
    assert not [t for t in texts if re.search(r"\w [:;?!%](\s|$)|« | »|\w'\w", t)]
