"""Jars and buckets as they are: what a jar takes to its line, which empty jar counts, what stays on the wall."""

from __future__ import annotations

from decimal import Decimal

import pytest

from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass
from labelkit.plan.wishes import FillGoal, Planning
from labelkit.run.jar_room import to_the_line
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.hang_up import hang_up_words, hang_ups
from labelkit.season.kept_plan import follow
from labelkit.season.price import SizePrice, price_list, set_price
from labelkit.season.run_sheet import FillingDay, run_sheet, runs_ahead
from labelkit.season.settings import settings_of
from labelkit.season.weigh import weigh
from tests.season.test_plan import DAY, usd
from tests.season.test_plan import season as two_buckets  # noqa: F401

FOUR = Declared.read("4 oz", "en_US")


def grams(text: str) -> Mass:
    return Mass.of_grams(text)


def misfits(work) -> str:
    return " ".join(price_list(work, DAY).misfits("en_US"))


def test_a_jar_of_116_ml_takes_about_140_g_to_its_line():
    # A pound of honey of 18 % water takes 0.704 US pints (density 1.4145 kg/l): 98.6 ml of it weigh 139.5 g.
    assert abs(to_the_line(Decimal(116), Decimal(18), Decimal(15)).g - 140) < 1


def test_what_a_jar_takes_is_what_plan_and_sheet_and_run_reckon_with(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        set_price(work, SizePrice("quarter", usd("4"), FOUR, usd("0.90"), uses=grams("140")), DAY)
        assert settings_of(work).fill("quarter", DAY) == grams("140")
        followed = follow(work, DAY, Planning(at_most={"one pound": 0}))
        assert followed.whole.jars["quarter"] == 10_000 // 140 + 5_000 // 140
        line = run_sheet(followed, FillingDay(), "en_US").sheet.buckets[0].lines[0]
        assert line.target.mass == grams("140")
        assert bottle(work, Bottling("B2", {"quarter": 30}), DAY, "en_US").run.left == grams("800")


@pytest.mark.parametrize(
    ("uses", "says"),
    [("140", "81% full"), ("127", "89% full"), ("125", ""), ("115", ""), ("100", "over the line")],
)
def test_a_jar_that_looks_short_or_holds_too_little_is_told_with_its_figures(two_buckets, uses, says):  # noqa: F811
    # 4 oz are 113.398 g: 81 % of 140 g, 89.3 % of 127 g, and 90.7 % of 125 g.
    with two_buckets.work() as work:
        set_price(work, SizePrice("quarter", usd("4"), FOUR, uses=grams(uses)), DAY)
        assert (says in misfits(work)) if says else not misfits(work)


def test_the_brimful_volume_is_reckoned_with_the_season_s_own_honey_and_stays(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        weigh(work, Intake("B3", net=grams("5000"), moisture=Decimal("16.0")), DAY, "en_US")
        set_price(work, SizePrice("quarter", usd("4"), FOUR, brimful_ml=Decimal(116), headspace=Decimal(15)), DAY)
        kept = set_price(work, SizePrice("quarter", usd("5")), DAY)
        assert kept.uses == to_the_line(Decimal(116), Decimal("16.0"), Decimal(15)) > grams("139.5")


@pytest.mark.parametrize(("system", "reads"), [("minimum", "668"), (None, "667")])
def test_where_no_jar_may_be_below_the_heaviest_empty_jar_counts(two_buckets, system, reads):  # noqa: F811
    with two_buckets.work() as work:
        set_price(work, SizePrice("one pound", usd("12"), Declared.read("454 g", "en_US")), DAY)
        followed = follow(work, DAY, Planning(fill_goal=FillGoal(system=system)))
    sheet = run_sheet(followed, FillingDay(tares={"one pound": (grams("212"), grams("214"))}), "en_US").sheet
    line = sheet.buckets[0].lines[0]
    assert line.lowest.mass == grams(reads)
    # Filled to the mean tare of 213 g the jar of 214 g holds 453 g under a label of 454 g.
    holds = [line.lowest.g - 212, line.lowest.g - 214]
    assert min(holds) >= 454 if system else sum(holds) / 2 >= 454
    assert "212 g to 214 g" in " ".join(sheet.cautions)


def test_hang_up_is_estimated_said_and_takes_nothing_off_the_plan(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        weigh(work, Intake("B9", net=grams("25000"), moisture=Decimal("17.5")), DAY, "en_US")
        found = hang_ups(work, {"B1", "B2", "B9"})
        # 50 to 150 g in a 25 kg bucket: common practice, no source.
        assert grams("50") < found["B9"].mass < grams("150") and "no source" in found["B9"].source
        followed = follow(work, DAY)
        assert followed.whole.jars == {"one pound": 22 + 11 + 25_000_000 // 453_592}
        said = hang_up_words(followed.plan, found, "en_US")
        assert any("B2" in line and "may stay short" in line for line in said)
        sheet = run_sheet(followed, FillingDay(), "en_US", runs_ahead(work, followed, DAY)).sheet
        assert set(said) <= set(sheet.cautions)
        careful = follow(work, DAY, Planning(hang_up=grams("100")))
        assert not set(said) & set(
            run_sheet(careful, FillingDay(), "en_US", runs_ahead(work, careful, DAY)).sheet.cautions
        )


def test_hang_up_is_learnt_from_runs_that_emptied_their_buckets(two_buckets):  # noqa: F811
    with two_buckets.work() as work:
        for name, left, jars in (("B1", "20.976", 22), ("B2", "5", 11)):
            bottle(work, Bottling(name, {"one pound": jars}, left=grams(left)), DAY, "en_US")
        weigh(work, Intake("B3", net=grams("9000")), DAY, "en_US")
        found = hang_ups(work, {"B3"})["B3"]
        # 10,000 g less 22 jars leave 20.976 g, 5,000 g less 11 jars 10.488 g, whether weighed back or gone: 15.732 g.
        assert (found.mass, found.runs) == (grams("15.732"), 2)
