"""Recall notices in six languages: nothing blank, nothing left in English unseen, the facts the same in each."""

import csv
import re
from datetime import timedelta

import pytest

from labelkit.measures.locales import read_catalogue
from labelkit.record.lookup import find_lot
from labelkit.sale.account_events import Delivery
from labelkit.shipped import folder
from labelkit.shipped.catalogues import catalogue_text, languages, wording
from labelkit.trace.follow import follow
from labelkit.trace.notices import notices, to_be_read
from labelkit.trace.papers import notice_paper
from labelkit.trace.recall import CAUSES, to_tell
from labelkit.trace.recall_events import Recall
from tests.record.season import AT, LATER, LOT, SISTER, book_season, line

LANGUAGES = ("de", "es", "fr", "pl", "uk")
MAKER = {"name": "Hazel Bank Honey", "street": "1 Invented lane", "city": "Nowhere", "phone": "555 0100"}
# Said by notices.py and not by a template
TITLES = {"Letter to {customer}", "Notice for shops", "Sign for the stall", "EXERCISE ONLY"}


@pytest.fixture(scope="module")
def trace(tmp_path_factory):
    with book_season(tmp_path_factory.mktemp("season") / "season.labelkit") as book:
        with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(Delivery(LATER, "17", "Hill café", (line(4),), address=("2 Invented lane", "Nowhere")))
            work.add(Delivery(LATER, "18", "Hill café", (line(1),), address=("2 Invented lane", "Nowhere")))
            work.commit()
        with book.reading() as state:
            yield follow(find_lot(state, LOT), state.story([LOT]))


def said() -> set[str]:
    """Every English text the notices say: the templates', the causes' and the titles'."""
    found = set(TITLES)
    for path in (folder("templates") / "trace").glob("recall_*.txt"):
        text = path.read_text(encoding="utf-8")
        found.update(re.findall(r'(?:_|ngettext)\("([^"]+)"', text))
    for cause in CAUSES.values():
        found.update((cause.title, cause.hazard))
    return found


def made(trace, locale, cause="foreign-body", **more):
    recall = Recall(LATER, "R1", cause, "Ölspur", (LOT,), **more)
    return notices(recall, trace, to_tell(trace, (LOT,)), MAKER, locale)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_no_word_of_a_notice_is_missing_and_no_translation_is_left_over(lang):
    catalogue = read_catalogue(catalogue_text("recall", lang), lang)
    known = {name for (_, name), message in catalogue.messages.items() if all(message.strings)}
    assert (said() - known, known - said()) == (set(), set())
    assert len(said()) > 40


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_translation_keeps_the_braces_of_its_english_in_every_plural_form(lang):
    braces = re.compile(r"\{\w+\}")
    for (_, name), message in read_catalogue(catalogue_text("recall", lang), lang).messages.items():
        for text in message.strings:
            assert sorted(set(braces.findall(text))) == sorted(set(braces.findall(name))), (name, text)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_the_plural_forms_are_cldrs(lang):
    from babel import Locale

    forms = {}
    for n in range(200):
        text = wording("recall", lang).count(
            "{n} jar, {size}, lot {lot}", "{n} jars, {size}, lot {lot}", n, size="S", lot="L"
        )
        forms.setdefault(Locale(lang).plural_form(n), set()).add(re.sub(r"\d+", "", text))
    assert all(len(found) == 1 for found in forms.values()), forms


@pytest.mark.parametrize("lang", LANGUAGES)
@pytest.mark.parametrize("cause", CAUSES)
def test_each_notice_holds_the_same_facts_in_every_language(trace, lang, cause):
    english, theirs = made(trace, "en", cause), made(trace, lang, cause)
    assert [each.id for each in theirs] == [each.id for each in english]
    for one, other in zip(english, theirs, strict=True):
        assert other.language == lang and other.text != one.text
        assert len(other.parts) == len(one.parts) and [m for m, _ in other.parts] == [m for m, _ in one.parts]
        for fact in (LOT, "one pound", "555 0100", "Hazel Bank Honey", "lspur"):
            assert (fact in other.text) == (fact in one.text), (fact, other.text)
        left = [text for text in said() if len(text) > 12 and "{" not in text and text in other.text]
        assert left == []


def test_the_day_is_written_as_the_language_writes_it(trace):
    assert "20. Juli 2026" in made(trace, "de")[-1].text
    assert "20 juillet 2026" in made(trace, "fr")[-1].text
    assert "20 липня 2026" in made(trace, "uk")[-1].text


def test_a_language_without_a_catalogue_gets_english(trace):
    assert made(trace, "fi_FI")[-1].text.startswith("PLEASE CHECK YOUR JAR")


def test_unchecked_words_are_to_be_read_before_they_are_sent(trace):
    assert "German, Ukrainian" in to_be_read((*made(trace, "uk"), *made(trace, "de")))
    assert "native speaker" in to_be_read(made(trace, "pl"))
    assert to_be_read(made(trace, "en_GB")) == ""


def test_sound_honey_under_a_wrong_label_is_not_called_unfit_to_eat(trace):
    for each in made(trace, "en", "wording"):
        assert "not eat" not in each.text
    assert "not eat" in made(trace, "en", "allergen")[-1].text


def test_every_language_promised_has_a_catalogue_that_says_how_far_it_was_checked():
    assert languages("recall") == LANGUAGES
    assert {wording("recall", lang).quality for lang in LANGUAGES} == {"not checked by a native speaker"}


@pytest.mark.parametrize("lang", ("en", *LANGUAGES))
def test_the_paper_of_a_notice_shows_every_letter_of_its_language(trace, lang):
    from io import BytesIO

    from pypdf import PdfReader

    for each in made(trace, lang):
        pages = PdfReader(BytesIO(notice_paper(each))).pages
        assert len(pages) == 1
        shown = re.sub(r"\s", "", pages[0].extract_text())
        for _, text in each.parts:
            assert re.sub(r"^- |\s", "", text) in shown, text


def test_a_command_writes_them_in_two_languages_and_again_later(tmp_path):
    from datetime import UTC, datetime

    from labelkit.cli._runner import answer_to

    season = tmp_path / "season.labelkit"
    book_season(season).close()

    def typed(*words):
        return answer_to(
            ["--record", str(season), "--day", "2026-07-22", *words], clock=datetime(2026, 7, 22, tzinfo=UTC), who="Ada"
        )

    typed("start", "--name", "Hazel Bank Honey", "--language", "fr")
    begun = typed("recall", "begin", LOT, "--cause", "foreign-body", "--why", "un éclat", "--to", str(tmp_path / "one"))
    assert begun.document["languages"] == ["fr"] and "native speaker" in begun.text
    assert "VÉRIFIEZ VOTRE POT" in (tmp_path / "one" / "stall-sign.txt").read_text(encoding="utf-8")
    name = begun.document["recall"]
    again = typed("recall", "notices", name, "--language", "en", "--language", "uk", "--to", str(tmp_path / "two"))
    assert again.document["languages"] == ["en", "uk"] and "Ukrainian" in again.document["to_be_read"]
    names = {each.name for each in (tmp_path / "two").iterdir()}
    assert {"stall-sign.en.txt", "stall-sign.uk.pdf", "letter-1.uk.txt", "to-call.csv"} <= names
    with (tmp_path / "two" / "to-call.csv").open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    # 12 sold and 2 brought back, and 3 of the sister lot, which the cause reaches too
    which = f"10 × one pound {LOT}, 3 × one pound {SISTER}"
    assert (row["customer"], row["jars"], row["which"]) == ("Corner shop", "13", which)


def test_a_number_noted_for_a_customer_is_in_the_list_to_call_until_they_are_forgotten(tmp_path):
    from datetime import UTC, datetime

    from labelkit.cli._runner import answer_to

    season = tmp_path / "season.labelkit"
    book_season(season).close()

    def typed(*words):
        return answer_to(
            ["--record", str(season), "--day", "2026-07-22", *words], clock=datetime(2026, 7, 22, tzinfo=UTC), who="Ada"
        )

    assert "note one" in typed("recall", "look", LOT, "--cause", "ferment").text
    assert typed("record", "customer", "Corner shop").document["phone"] is None
    typed("record", "customer", "Corner shop", "--phone", "555 0142", "--address", "1 Made-up Row; Sampleton")
    looked = typed("recall", "look", LOT, "--cause", "ferment")
    assert "555 0142" in looked.text and "note one" not in looked.text
    assert looked.document["customers"][0]["address"] == ["1 Made-up Row", "Sampleton"]
    assert typed("record", "customer", "Corner shop", "--email", "a@example.com").document["phone"] == "555 0142"
    typed("record", "forget", "Corner shop", "--because", "asked")
    assert "555 0142" not in typed("record", "events").text
    with open(season, "rb") as file:
        assert b"555 0142" not in file.read()


def test_the_makers_address_is_in_the_order_of_its_country_and_not_of_the_language(trace):
    maker = {"name": "Imkerei Muster", "street": "Musterweg 12", "city": "Musterdorf", "postcode": "99999"}
    recall = Recall(LATER, "R1", "foreign-body", "a splinter", (LOT,))
    for market, town in (("eu-de", "99999 Musterdorf"), ("us", "Musterdorf 99999")):
        for locale in ("de_DE", "en_US"):
            letter = notices(recall, trace, to_tell(trace, (LOT,)), maker, locale, market=market)[0]
            assert f"Musterweg 12, {town}" in letter.text.splitlines()
