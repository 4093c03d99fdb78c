"""The papers of a filling evening speak the language of the season: no English sentence on a German sheet."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from labelkit.measures.wording import ENGLISH
from labelkit.run.batch_sheet import LINES
from labelkit.run.run_sheet import CAUTIONS
from labelkit.shipped.catalogues import wording

DAY = ("--day", "2026-07-20")
MARKETS = {"de": "eu-de", "es": "eu-es", "fr": "eu-fr", "pl": "eu-pl"}


def words(path) -> str:
    pages = PdfReader(io.BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


@pytest.fixture
def evening(labelkit, tmp_path):
    def play(market: str, *language: str):
        for command in (
            ("start", "--market", market, "--currency", "EUR", "--scale", "1 g", "--language", market[3:]),
            ("weigh", "--bucket", "B1", "--net", "5 kg", "--moisture", "17.4"),
            ("price", "--set", "Glas", "--declares", "500 g", "--price", "9", "--cost", "1"),
            ("plan", "--book"),
            ("run-sheet", "--tare", "Glas=212 g", "--tare", "Glas=214 g", *language),
            ("batch", "B1", "--scale", "500 g", "--reads", "500 g", "--strainer-before", "whole", "--jars-looked-at", "9",
             "--broken", "Glas=1", "--beside", "Glas=2", "--out", "batch.pdf", *language),
        ):  # fmt: skip
            ran = labelkit("--record", "evening.labelkit", *DAY, *command)
            assert ran.code == 0, ran.err
        return words(tmp_path / "run-sheet.pdf"), words(tmp_path / "batch.pdf")

    return play


@pytest.mark.parametrize("lang", MARKETS)
def test_run_sheet_and_batch_sheet_speak_the_language_of_the_season(evening, lang):
    run_sheet, batch = evening(MARKETS[lang])
    own = wording("labelkit", lang)
    for text in ("Run sheet", "Jars, lids and labels to lay out", "Fill until it reads", *CAUTIONS):
        assert " ".join(own(text).split()) in run_sheet and text not in run_sheet, text
    for text in ("Batch sheet", "Before filling", *(question for _, question in LINES.values())):
        assert " ".join(own(text).split()) in batch and text not in batch, text
    assert own("{n} looked at", n=9) in batch


# Common English words that are no word of any of these languages: “was”, “an”, “to” and “on” are.
ENGLISH_WORDS = re.compile(
    r"\b(the|and|with|of|is|are|were|by|for|from|before|after|not|jars?|buckets?|lots?|honey|label|filled|broken|checked|"
    r"source|event|day|weight|where|what|hives?|yards?|weighed|moisture|scale|strainer|cleaned|cleaning|glass)\b", re.I
)  # fmt: skip
# What stays as it is: an act's own name, a command to type, what people typed.
NAMES = ("California Health and Safety Code", "CPG 555.425", "labelkit batch", "hot water", "Hill apiary")
IN_BOTH = {"fr": {"source", "lot", "lots", "distance"}, "es": set(), "pl": set(), "de": set()}


@pytest.mark.parametrize("lang", MARKETS)
def test_the_inspectors_folder_holds_no_english_word_in_another_language(labelkit, tmp_path, lang):
    for command in (
        ("start", "--market", MARKETS[lang], "--currency", "EUR", "--scale", "1 g", "--language", lang),
        ("weigh", "--bucket", "B1", "--net", "9 kg", "--moisture", "17.4", "--yard", "Hill apiary: H1, H2"),
        ("weigh", "--bucket", "B2", "--net", "2 kg", "--moisture", "17.9"),
        ("bucket", "warm", "B1", "--highest", "38 C", "--hours", "12"),
        ("blend", "--into", "M1", "--part", "B1=8 kg", "--part", "B2=1 kg"),
        ("price", "--set", "Glas", "--declares", "500 g", "--price", "9", "--cost", "1"),
        ("batch", "M1", "--scale", "500 g", "--reads", "510 g", "--ice", "0.4 C", "--strainer-before", "damaged",
         "--because", "Test", "--jars-looked-at", "9", "--broken", "Glas=1", "--beside", "Glas=2", "--kit", "hot water"),
        ("bottle", "--bucket", "M1", "--jar", "Glas=10"),
        ("inspection", "--out", "folder"),
    ):  # fmt: skip
        ran = labelkit("--record", "evening.labelkit", *DAY, *command)
        assert ran.code == 0, ran.err
    for path in sorted((tmp_path / "folder").iterdir()):
        text = words(path)
        for name in NAMES:
            text = text.replace(name, "")
        found = {each.lower() for each in ENGLISH_WORDS.findall(text)} - IN_BOTH[lang]
        assert not found, (path.name, found)
    assert wording("labelkit", lang)("Hazard plan") in words(tmp_path / "folder" / "1-hazard-plan.pdf")


def test_another_language_can_be_asked_for(evening):
    run_sheet, batch = evening("eu-de", "--language", "en_GB")
    assert "Run sheet" in run_sheet and "Batch sheet" in batch


@pytest.mark.parametrize("lang", ["de", "es", "fr", "pl", "uk"])
def test_the_seven_sentences_of_safety_stand_in_every_language(lang):
    own = wording("labelkit", lang)
    assert len(CAUTIONS) == 7
    for caution in CAUTIONS:
        assert caution in own and own.say(caution) != ENGLISH.say(caution)
