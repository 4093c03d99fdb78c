"""Each sample season is planned as it was reckoned by hand in the page beside it, and proved best."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal

import pytest

from labelkit.shipped import folder

SEASONS = sorted(folder("sample_lots").glob("*.toml"))


def answer_of(season):
    page = season.with_suffix(".md").read_text(encoding="utf-8")
    return tomllib.loads(re.search(r"```toml\n(.*?)```", page, re.DOTALL)[1])


def test_there_are_at_least_five_seasons_and_each_has_its_reckoning():
    assert len(SEASONS) >= 5
    assert all(season.with_suffix(".md").exists() for season in SEASONS)


@pytest.mark.parametrize("season", SEASONS, ids=lambda s: s.stem)
def test_a_sample_season_is_planned_as_reckoned_by_hand(season, labelkit):
    wanted = answer_of(season)
    ran = labelkit("plan", season, "--json")
    assert ran.code == 0, ran.err
    plan = ran.document
    assert plan["status"] == "proved"
    assert plan["value"] == plan["bound"] == wanted["value"]
    assert plan["gap"] == "0"
    assert {size: n for size, n in plan["jars"].items() if n} == wanted["jars"]
    left = {bucket["id"]: bucket["left_g"] for bucket in plan["buckets"]}
    for bucket, grams in wanted.get("left_g", {}).items():
        assert left[bucket] == grams
    assert [out["bucket"] for out in plan.get("left_out", [])] == wanted.get("left_out", [])
    for bucket in plan["buckets"]:
        assert Decimal(bucket["filled_g"]) + Decimal(bucket["left_g"]) == Decimal(bucket["usable_g"])


def test_the_wet_bucket_is_planned_only_when_the_producer_says_so(labelkit):
    season = folder("sample_lots") / "wet-bucket.toml"
    wanted = answer_of(season)["with_the_wet_bucket"]
    told = labelkit("plan", season)
    assert "Left out: bucket B2" in told.out and "--wet allow" in told.out
    plan = labelkit("plan", season, "--wet", "allow", "--json").document
    assert (plan["value"], plan["jars"]) == (wanted["value"], wanted["jars"])


def test_a_what_if_shows_the_difference(labelkit):
    season = folder("sample_lots") / "one-bucket.toml"
    ran = labelkit("plan", season, "--at-most", "half pound=10")
    # a = 9 or 10 of the small jars: 5.325 x 119 + 0.625 x 9 = 639.30, which is 18.75 below 658.05.
    assert "Brings $639.30. Proved" in ran.out
    assert "-$18.75" in ran.out and "-30 half pound" in ran.out and "+15 one pound" in ran.out


def test_wishes_change_the_plan_and_the_plan_says_so(labelkit):
    season = folder("sample_lots") / "cappings.toml"
    ran = labelkit(
        "plan", season, "--stock", "twelve ounce=10", "--buy", "twelve ounce", "--whole-cases", "one pound=12"
    )
    # Quarter pounds: 12 one-pound jars take 48 of 276, the other 228 fill 76 twelve-ounce jars; 66 of them must be bought.
    assert "Buy 66 more twelve ounce jars." in ran.out
    assert "Brings $758.60. Proved" in ran.out  # 12 x 10.65 + 76 x 8.30


def test_a_plan_for_another_goal_claims_no_more_than_its_goal(labelkit):
    season = folder("sample_lots") / "cappings.toml"
    ran = labelkit("plan", season, "--goal", "first", "--first", "one pound")
    # All 69 lb into one-pound jars: 69 x 10.65.
    assert "Brings $734.85. Proved for the goal “one size first”" in ran.out


def test_why_not_one_more_is_answered_with_the_money(labelkit):
    season = folder("sample_lots") / "one-bucket.toml"
    # By the hand reckoning: the fortieth half-pound jar brings 653.35 against 658.05.
    assert "half pound: 39. One more would bring $4.70 less in all" in labelkit("plan", season, "--why").out


def test_caution_about_the_scale_plans_less_and_never_more(labelkit):
    season = folder("sample_lots") / "one-bucket.toml"
    careful = labelkit(
        "plan", season, "--bucket-step", "50 g", "--jar-step", "1 g", "--hang-up", "100 g", "--json"
    ).document
    assert careful["buckets"][0]["usable_g"] == "27000"
    assert careful["value"] < "658.05"


def test_a_wish_for_a_size_that_is_not_there_is_refused(labelkit):
    season = folder("sample_lots") / "one-bucket.toml"
    for wish in (
        ("--reserve", "gallon=1"),
        ("--buy", "gallon"),
        ("--then", "gallon=3@1.00"),
        ("--only", "gallon=clover"),
    ):
        ran = labelkit("plan", season, *wish)
        assert ran.code == 2 and "gallon" in ran.err
    assert labelkit("plan", season, "--then", "one pound=soon").code == 2
