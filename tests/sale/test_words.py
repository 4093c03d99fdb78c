"""Every word of every paper has a translation or falls back where it can be seen; plurals follow each language."""

import ast
import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

import labelkit
from labelkit.lots import bucket_life
from labelkit.measures.locales import read_catalogue
from labelkit.measures.wording import Wording
from labelkit.run.batch_sheet import AFTER, BEFORE, DURING
from labelkit.sale.delivery import FIELDS
from labelkit.sale.paper_note import quality_note
from labelkit.sale.year_paper import _NAMES, WITHOUT_JARS
from labelkit.shipped import folder, template_text
from labelkit.shipped.catalogues import catalogue_text, languages, wording
from labelkit.trace import alarms, terms

LANGUAGES = ("de", "es", "fr", "pl", "uk")
# Said through a variable: the names of a note's fields, of places, of things not to forget.
BY_VARIABLE = {
    *(field.name for field in FIELDS),
    *_NAMES.values(),
    *WITHOUT_JARS,
    "By size",
    "By market and customer",
    "By lot",
    "price cards",
    "sign",
    "tally sheet",
    "the market page on the telephone",
    "card machine",
    "bags",
    "cloth and water",
}


# Tables of a trace and of the inspector's folder: their titles and heads.
TABLES = {"_section": slice(2), "table": slice(1, 2), "log": slice(1, 3)}


def said_of_a_trace() -> set[str]:
    house = Path(labelkit.__file__).parent
    found = {
        *(word for table in (terms.WHERE, terms.BULK, terms.CAME, terms.ASKED) for word in table.values()),
        *alarms._SAYS.values(),
        *alarms._LOOK_FOR.values(),
        *(bucket_life.SKIMMED, bucket_life.DRIED, bucket_life.WARMED, bucket_life.STIRRED),
        *(set(bucket_life.WENT_TO) - {bucket_life.FED}),
        *(BEFORE, DURING, AFTER),
    }
    for path in (*(house / "trace").glob("*.py"), house / "season" / "inspection_papers.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", "") or getattr(node.func, "attr", "")
                args = node.args[:1] if name == "Sentence" else node.args[TABLES.get(name, slice(0))]
                within = [part for each in args for part in getattr(each, "elts", [each])]
                found.update(part.value for part in within if isinstance(part, ast.Constant))
    return found - {""}


def said_in_the_inspection() -> set[str]:
    def texts(value: object) -> set[str]:
        if isinstance(value, str):
            return {value}
        return {text for each in (value.values() if isinstance(value, dict) else value) for text in texts(each)}

    return texts(tomllib.loads(template_text("trace/inspection.toml")))


@cache
def said_in_the_house() -> set[str]:
    found = BY_VARIABLE | said_of_a_trace() | said_in_the_inspection()
    house = Path(labelkit.__file__).parent
    for path in house.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if path.parent.name != "sale" and not re.search(r'paper_words|: Wording|wording\("labelkit"', text):
            continue  # elsewhere a function of this name says other words
        for node in ast.walk(ast.parse(text)):
            if not isinstance(node, ast.Call) or not node.args or not isinstance(node.args[0], ast.Constant):
                continue
            call = node.func
            if getattr(call, "id", "") == "words" or (
                getattr(call, "attr", "") == "count" and getattr(call.value, "id", "") == "words"
            ):
                found.add(node.args[0].value)
    for path in (folder("templates") / "stall").glob("*.html"):
        found.update(re.findall(r'words\("([^"]+)"\)', path.read_text(encoding="utf-8")))
    return found


@cache
def sentences_of_the_house() -> set[str]:
    """Texts a paper says that a stage hands it: each stands as it is somewhere in the house."""
    return {
        node.value
        for path in Path(labelkit.__file__).parent.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def test_there_is_a_catalogue_for_each_language_promised():
    assert languages("labelkit") == LANGUAGES


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_word_said_is_translated_and_no_translation_is_left_over(lang):
    catalogue = read_catalogue(catalogue_text("labelkit", lang), lang)
    known = {name for (_, name), message in catalogue.messages.items() if all(message.strings)}
    assert (
        said_in_the_house() - known - {name for _, name in read_catalogue(catalogue_text("page", lang), lang).messages}
        == set()
    )
    assert known - said_in_the_house() - sentences_of_the_house() == set()


@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_translation_keeps_the_braces_of_its_english(lang):
    braces = re.compile(r"\{\w+\}")
    for (_, name), message in read_catalogue(catalogue_text("labelkit", lang), lang).messages.items():
        for text in message.strings:
            assert sorted(set(braces.findall(text))) == sorted(set(braces.findall(name))), (name, text)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_catalogue_says_how_far_it_was_checked(lang):
    words = wording("labelkit", lang)
    assert words.quality == "not checked by a native speaker"
    assert not words.checked
    assert quality_note(words)


@pytest.mark.parametrize("lang", LANGUAGES)
def test_the_plural_rule_is_cldrs(lang):
    """babel's own plural rules stand beside those written in the catalogues."""
    from babel import Locale

    catalogue = read_catalogue(catalogue_text("labelkit", lang), lang)
    words = wording("labelkit", lang)
    forms = {}
    for n in range(0, 250):
        form = Locale(lang).plural_form(n)
        forms.setdefault(form, set()).add(words.count("{n} jar taken", "{n} jars taken", n).replace(str(n), "{n}"))
    assert all(len(found) == 1 for found in forms.values()), forms
    assert len({text for found in forms.values() for text in found}) == len(
        catalogue.messages["", "{n} jar taken"].strings
    )


def test_words_a_translator_doubts_are_marked_as_gettext_marks_them():
    assert "Tally sheet" in wording("labelkit", "pl").unsure
    assert wording("labelkit", "de").unsure == ()


def test_an_untranslated_word_is_seen_where_it_is_looked_for_and_is_english_elsewhere():
    assert wording("labelkit", "fr_FR", show_missing=True)("A word nobody translated") == "⟦A word nobody translated⟧"
    assert wording("labelkit", "fr_FR")("A word nobody translated") == "A word nobody translated"
    assert wording("labelkit", "en_US", show_missing=True)("A word nobody translated") == "A word nobody translated"


def test_a_language_without_a_catalogue_speaks_english():
    words = wording("labelkit", "fi_FI", show_missing=True)
    assert words("Price list") == "⟦Price list⟧"


def test_a_word_may_have_two_translations_told_apart_by_context():
    text = 'msgctxt "money"\nmsgid "change"\nmsgstr "monnaie"\n\nmsgid "change"\nmsgstr "changement"\n'
    words = Wording.read(text, "fr")
    assert (words("change", context="money"), words("change")) == ("monnaie", "changement")
