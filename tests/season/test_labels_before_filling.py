"""Labels printed before the jars are filled: as many as the kept plan has, under the code the run will get."""

from __future__ import annotations

import pytest

from labelkit.errors.labels import NoPlannedJars
from labelkit.labels.design import design
from labelkit.labels.sheets import sheet
from labelkit.plan.wishes import Planning
from labelkit.record.settings import Setting
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.kept_plan import keep_plan
from labelkit.season.label import LabelLook, LabelPaper, LabelPrint, book_labels, draw_labels
from labelkit.season.label_words import LabelWords, keep_words
from labelkit.season.lot_words import label_of_lots
from tests.season.conftest import FILLING, HARVEST


@pytest.fixture
def planned(season):
    with season.work() as work:
        work.add(
            Setting(HARVEST, "maker", {"name": "Pretend Hollow Honey", "city": "Pretend Hollow", "postcode": "00000"})
        )
        jar = {"one pound": {"diameter": "3 in", "height": "3.2 in"}}
        keep_words(work, LabelWords({"name": "Clover Honey"}, jars=jar), HARVEST)
        keep_plan(work, Planning(at_most={"one pound": 20}), FILLING)
    return season


def drawn(season, count: int | None = None):
    with season.reading() as state:
        found = label_of_lots(state, "one pound", [], FILLING)
        paper = LabelPaper("front", sheet("letter-2x5-102x51"))
        look = LabelLook(design("press"))
        wanted = LabelPrint(
            found.label, (paper,), look, "one pound", count=count, because="seen", words=found, bucket="B1"
        )
        return draw_labels(state, wanted, FILLING, "en_US")


def test_as_many_labels_as_the_plan_still_fills_under_the_code_the_run_gets(planned):
    labels = drawn(planned)
    assert labels.drawn[0].printed.labels == 20
    with planned.work() as work:
        book_labels(work, labels, FILLING)
    with planned.work() as work:
        run = bottle(work, Bottling("B1", {"one pound": 20}), FILLING, "en_US").run
    assert labels.lots == ((run.lot, 20),)
    assert run.lot in labels.drawn[0].printed.placed[0].content.of("lot").text


def test_what_was_filled_of_the_plan_needs_no_more_labels(planned):
    with planned.work() as work:
        bottle(work, Bottling("B1", {"one pound": 8}), FILLING, "en_US")
    assert drawn(planned).lots[0][1] == 12


def test_without_a_plan_the_count_is_asked_and_a_count_that_is_said_is_taken(planned):
    with planned.work() as work:
        bottle(work, Bottling("B1", {"one pound": 20}), FILLING, "en_US")
    with pytest.raises(NoPlannedJars):
        drawn(planned)
    assert drawn(planned, count=6).lots[0][1] == 6
