"""The inspector's folder says what the record says of a period, and says where nothing was booked."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.run import NothingInPeriod
from labelkit.measures.wording import ENGLISH
from labelkit.run.batch_sheet import Breakage
from labelkit.season.batch import SheetEntry, batch
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.inspection import InspectionAsked, inspection
from labelkit.season.inspection_papers import inspection_papers
from labelkit.season.treat import Warming, warm
from tests.season.conftest import FILLING

YEAR = InspectionAsked(date(2026, 1, 1), date(2026, 12, 31))


@pytest.fixture
def evening(season):
    with season.work() as work:
        warm(work, Warming("B1", Decimal(38), Decimal(12)), FILLING, "en_US")
        lines = [
            SheetEntry("ice", read=Decimal("0.4")),
            SheetEntry("jars", looked_at=25, rejected=1),
            SheetEntry("strainer-before", "whole"),
            SheetEntry("kit", "hot water"),
            SheetEntry("breakage", broken=(Breakage("one pound", 1, 2),)),
        ]
        batch(work, ["B1"], lines, FILLING, locale="en_US")
        bottle(work, Bottling("B1", {"one pound": 20}), FILLING, "en_US")
    return season


def test_the_hazard_plan_is_filled_in_from_the_record(evening):
    with evening.reading() as state:
        found = inspection(state, YEAR, "en_US")
    wanted = {
        "jars_looked_at": "25",
        "jars_rejected": "1",
        "jars_broken": "3",
        "strainers": "1",
        "strainers_damaged": "0",
        "buckets": "1",
        "buckets_measured": "1",
        "wettest": "17.4%",
        "warmings": "1",
        "warmest": "38 °C",
        "thermometer_checks": "1",
        "refractometer_checks": "0",
        "cleanings": "1",
    }
    assert {name: found.figures[name] for name in wanted} == wanted
    assert all(text.format(**found.figures) for hazard in found.plan["hazard"] for text in hazard.values())


def test_every_hazard_has_a_control_and_a_source(evening):
    # The seven principles of Codex Alimentarius CXC 1-1969 ask for each of these of a hazard (from a second source).
    with evening.reading() as state:
        hazards = inspection(state, YEAR, "en_US").plan["hazard"]
    assert {frozenset(hazard) for hazard in hazards} == {
        frozenset(("name", "where", "limit", "watch", "correct", "verify", "source"))
    }


def test_the_folder_has_six_papers_and_the_trace_of_the_lot_that_was_asked_for(evening):
    with evening.work() as work:
        lot = bottle(work, Bottling("B1", {"one pound": 2}), FILLING, "en_US").lot
    with evening.reading() as state:
        first, last = (
            inspection(state, asked, "en_US") for asked in (YEAR, InspectionAsked(YEAR.since, YEAR.until, lot))
        )
    papers = inspection_papers(last, "a4", "en_US", ENGLISH)
    assert len(papers) == 6 and f"6-trace-{lot}.pdf" in papers
    assert all(content.startswith(b"%PDF-") for content in papers.values())
    assert first.traced.lots == (lot,)


def test_a_period_without_a_run_is_refused(season):
    with season.reading() as state, pytest.raises(NothingInPeriod, match="You filled no jar"):
        inspection(state, YEAR, "en_US")
