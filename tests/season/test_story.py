"""A label tells the year, the yard and the flower its honey was booked with, and no other."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.design import design
from labelkit.labels.layout.kinds import place
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.paper.marks import Clipped
from labelkit.rules import market
from labelkit.season.blend import Blending, blend
from labelkit.season.weigh import weigh
from tests.labels.samples import label as front
from tests.labels.samples import outline
from tests.season.conftest import FILLING, HARVEST, lb
from tests.season.test_borne import DAY, honey, judged, label  # noqa: F401


@pytest.fixture
def years(season):
    """Y5 is of 2025 and the mill meadow, Y6 of 2026 and the hill orchard, both lime; Y7 is of both."""
    with season.work() as work:
        for bucket, day, yard in (("Y5", date(2025, 7, 14), "Mill meadow"), ("Y6", HARVEST, "Hill orchard")):
            intake = Intake(bucket, net=lb("30"), harvested=day, sources=(Source(yard),), plant="lime")
            weigh(work, intake, HARVEST, "en_US")
        blend(work, Blending("Y7", (("Y5", lb("10")), ("Y6", lb("10")))), FILLING, "en_US")
    return season


def told(**story: str):
    return label("us", home="US", story=story)


@pytest.mark.parametrize(
    ("bucket", "story"),
    [
        ("Y5", {"harvest": "2025", "yard": "Mill meadow", "flower": "Lime"}),
        ("Y7", {"harvest": "2025/2026", "yard": "Mill meadow and Hill orchard"}),
        ("Y7", {"place": "Above the river"}),
    ],
)
def test_what_every_part_was_booked_with_may_be_told(years, bucket, story):
    assert judged(years, bucket, told(**story))[1] == ()


@pytest.mark.parametrize(
    ("story", "part"),
    [({"harvest": "2026"}, "Y5"), ({"yard": "Hill orchard"}, "Y5"), ({"flower": "Heather"}, "Y6")],
)
def test_a_year_a_yard_or_a_flower_of_which_a_part_is_not_is_stopped_and_the_bucket_named(years, story, part):
    (finding,) = judged(years, "Y7", told(**story))[1]
    assert finding.level == "stop" and f"bucket {part}" in finding.says and finding.field.startswith("story.")
    assert finding.do.endswith("Check your local rules.")


def test_bought_in_honey_bears_no_yard_of_yours(honey):  # noqa: F811
    levels = {finding.level for finding in judged(honey, "M1", told(yard="Mill meadow"))[1] if "R1" in finding.says}
    assert levels == {"stop"}


def test_the_year_of_each_lot_is_that_of_its_harvests(years):
    def said(bucket: str) -> str:
        return judged(years, bucket, told(harvest="each"))[0].story["harvest"]

    assert [said(bucket) for bucket in ("Y5", "Y6", "Y7")] == ["2025", "2026", "2025/2026"]


def test_claims_in_a_line_about_the_place_are_judged_as_claims():
    found = label_case(told(place="Organic meadows"), [market("us", DAY)], "en_US").checked.findings
    assert [finding.field for finding in found if finding.rule == "us.claim.organic"] == ["story.place"]


def test_the_story_stands_among_the_small_words_in_the_language_of_the_label():
    case = label_case(
        label("eu-de", home="DE", story={"harvest": "2026", "yard": "Mühlwiese"}), [market("eu-de", DAY)], "en_US"
    )
    assert compose(case).content.of("story").text == "Ernte 2026 · Mühlwiese"


def test_the_tab_of_the_ledger_grows_to_hold_the_year():
    def tab(year: str):
        content = replace(front("us"), harvest=year)
        marks = place(content, outline("letter-2x5-102x51"), design("ledger")).marks
        return next(mark for mark in marks if isinstance(mark, Clipped)).marks[:3]

    bare, (held, *figures) = tab("")[0], tab("2026")
    assert all(held.box.holds(one.box) for one in figures) and figures[0].box.height >= 1_500
    assert held.box.height >= bare.box.height
