"""A filling evening with wet hands on a telephone: plan, sheet beside the scale, one question at a time, run, folder."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from tests.browser.visitor import PHONE, begin_in, weigh

pytestmark = pytest.mark.browser

# The market, what its label declares, the bucket, what the scale must read at least, and a known weight as it is typed.
SCALES = {
    # A pound jar of 454 g on a scale of whole grams.
    "grams": ("uk", "454 g", "9.2", r"454\s*g", "500"),
    # 16 oz on a scale of tenths of an ounce.
    "ounces": ("us-va", "1 lb", "20", r"16(\.0)?\s*oz", "16"),
}


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("scale", SCALES)
def test_an_evening_from_the_plan_to_the_inspectors_folder(visit, scale):
    market, declares, holds, reads, known = SCALES[scale]
    at = visit(**PHONE)
    begin_in(at, market)
    at.go("prices")
    at.fill(size="jar", declares=declares, price="9.00", cost="1.00")
    at.press("Keep it")
    weigh(at, "B1", holds)
    tab = at.go("plan")
    at.press("Keep this plan")
    (kept,) = at.events("plan")
    planned = kept.buckets[0].jars[0].count
    sheet = at.go("filling").locator("main").inner_text()
    assert f"{planned} × jar" in sheet and re.search(reads, sheet)

    at.go("batch")
    tab.locator("[name=of]").select_option("B1")
    at.press("Begin")
    at.fill(against=known, read=known)
    at.press("Save and go on")
    freezing = "0" if scale == "grams" else "32"
    at.fill(read=freezing)
    at.press("Save and go on")
    for _ in range(8):  # boiling water to the jars: each skipped, none is asked again
        if tab.get_by_role("button", name="Whole").count():
            break
        at.follow(tab.get_by_role("link", name="Skip"))
    at.press("Whole")
    checked = {each.line: each for each in at.events("batch")}
    assert set(checked) == {"scale", "ice", "strainer-before"} and not checked["scale"].is_off

    at.go("bottle")
    at.fill(**{"jar:jar": str(planned)})
    at.press("Book the run")
    lot = tab.locator(".lotcode").inner_text().split()[-1]
    (run,) = at.events("run")
    assert run.lot == lot and run.jars[0].count == planned

    at.go("batch")
    for number in range(1, 7):
        answer = at.context.request.get(f"{at.address}inspection/{number}.pdf")
        assert answer.status == 200, number
        words = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.body())).pages)
        if number in (2, 6):
            assert lot in words and f"{planned} × jar" in words
