"""The papers of a filling evening speak the language of the season: no English sentence on a German sheet."""

from __future__ import annotations

import io

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


def test_another_language_can_be_asked_for(evening):
    run_sheet, batch = evening("eu-de", "--language", "en_GB")
    assert "Run sheet" in run_sheet and "Batch sheet" in batch


@pytest.mark.parametrize("lang", ["de", "es", "fr", "pl", "uk"])
def test_the_seven_sentences_of_safety_stand_in_every_language(lang):
    own = wording("labelkit", lang)
    assert len(CAUTIONS) == 7
    for caution in CAUTIONS:
        assert caution in own and own.say(caution) != ENGLISH.say(caution)
