"""A filling evening from the plan to the inspector's folder, on a scale of grams and on one of ounces: one set of numbers."""

from __future__ import annotations

import io
from decimal import Decimal

import pytest
from pypdf import PdfReader

DAY = ("--day", "2026-07-20")


def words(path) -> str:
    pages = PdfReader(io.BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


SCALES = {
    # Market, its pound, the step of the scale, the known weight and how the scale shows it, the step in grams.
    "grams": ("eu-de", "EUR", "500 g", "1 g", "500 g", "500 g", Decimal(1)),
    "ounces": ("us-va", "USD", "1 lb", "0.1 oz", "16 oz", "16 oz", Decimal("2.8349523125")),
}


@pytest.mark.parametrize("name", SCALES)
def test_every_number_of_the_evening_agrees_with_the_plan_that_was_booked(labelkit, tmp_path, name):
    market, currency, declares, step, weight, shown, grams = SCALES[name]

    def run(*command: str):
        ran = labelkit("--record", "evening.labelkit", *DAY, *command)
        assert ran.code == 0, ran.err
        return ran

    run("start", "--market", market, "--currency", currency, "--scale", step)
    run("weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17.4")
    run("price", "--set", "jar", "--declares", declares, "--price", "9", "--cost", "1")
    planned = run("plan", "--hang-up", "100 g", "--book", "--json").document
    count, mass = planned["jars"]["jar"], Decimal(planned["buckets"][0]["filled_g"])

    sheet = run("run-sheet", "--json").document
    line = sheet["buckets"][0]["lines"][0]
    assert sheet["jars"] == planned["jars"] and line["jars"] == count
    # The next reading the scale can show that is no less than the jar owes.
    assert Decimal(line["fill_until_g"]) % grams == 0 and Decimal(line["fill_until_g"]) * count >= mass
    assert line["fill_until"].endswith(step.split()[1])
    assert line["fill_until"] in words(tmp_path / "run-sheet.pdf")

    before = ("--scale", weight, "--reads", weight, "--ice", "0.5 C", "--refractometer", "27.2", "--kit", "hot water")
    run("batch", *before, "--strainer-before", "whole")
    run("batch", "B1", "--broken", "jar=1", "--beside", "jar=2", "--strainer-after", "whole", "--end", "20:10")
    bottled = run("bottle", "--bucket", "B1", "--jar", f"jar={count - 3}", "--json").document
    assert bottled["planned"] == planned["jars"] and bottled["broken"] == {"jar": 3}
    assert Decimal(bottled["taken_g"]) == mass
    run("batch", bottled["lot"], "--cleaned", "hot water", "--signed", "--out", "batch.pdf")
    sheet_words = words(tmp_path / "batch.pdf")
    assert f"{shown}, should be {shown}" in sheet_words and "Sheet signed done" in sheet_words

    traced = run("trace", bottled["lot"], "--json").document
    assert [each["line"] for each in traced["batch_sheet"]] == [
        *("scale", "ice", "refractometer", "kit", "strainer-before", "breakage", "strainer-after", "end"),
        *("cleaned", "signed"),
    ]
    assert Decimal(traced["balance"][-1]["in_g"]) == mass

    folder = run("inspection", "--out", "folder", "--json").document
    assert folder["lot"] == bottled["lot"] and folder["figures"]["jars_broken"] == "3"
    assert f"{count - 3} × jar" in words(tmp_path / "folder" / "2-batch-sheets.pdf")
    assert f"{shown}, should be {shown}" in words(tmp_path / "folder" / "3-calibration-log.pdf")
    assert "1 broken, 2 beside thrown away" in words(tmp_path / "folder" / "4-glass-breakage.pdf")
