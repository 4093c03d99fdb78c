"""Warming and set honey: which pail goes in when, what it costs, how much seed; and what a label may still say afterwards."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from labelkit.errors.honey import FigureUnlikely
from labelkit.honey.set_honey import seed_for, warming_hours
from labelkit.honey.warmth import SPREAD, Warming, hmf_added
from labelkit.lots.intake import Intake
from labelkit.measures import Mass
from labelkit.rules.label import Label
from labelkit.season.batch import SheetEntry, batch
from labelkit.season.borne import as_warmed
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.treat import Warming as WarmedBy
from labelkit.season.treat import warm
from labelkit.season.warming import WarmingAsked, appointments, warming
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, lb

NOVEMBER = date(2026, 11, 20)


def test_forty_days_at_25_degrees_harm_as_an_hour_at_63_within_the_factor_of_the_model():
    # 77 °F for 40 days does the damage of 145 °F for 60 minutes: N. W. Calderone, Creamed Honey - Theory, read in a copy.
    stored = hmf_added([Warming(Decimal(25), Decimal(40 * 24))]).middle
    heated = hmf_added([Warming(Decimal("62.8"), Decimal(1))]).middle
    assert Decimal(1) / SPREAD**2 < stored / heated < SPREAD**2


def test_sixty_pounds_with_ten_percent_of_seed_both_ways():
    # 10 % of 60 lb are 6 lb; 6.667 lb are 10 % of the 66.667 lb there are then.
    assert round(seed_for(lb("60"), Decimal(10)).lb, 3) == 6
    assert round(seed_for(lb("60"), Decimal(10), "whole").lb, 3) == Decimal("6.667")
    with pytest.raises(FigureUnlikely):
        seed_for(lb("60"), Decimal(80))


@pytest.mark.parametrize(("hardness", "days"), [("soft", 2), ("usual", 3), ("hard", 5)])
def test_a_pail_of_28_lb_is_soft_after_two_to_five_days_at_32_degrees(hardness, days):
    # A handbook quoted in a beekeepers' forum: 32 °C for 2 to 5 days, for 28 lb lots, by hardness. Second-hand.
    found = warming_hours(lb("28"), "soft", hardness)
    assert (found.temperature_c, found.hours) == (32, days * 24)


def test_a_larger_pail_goes_in_earlier_and_all_are_warm_on_the_filling_day(season):
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("60"), moisture=Decimal("18.4")), FILLING, "en_US")
    with season.reading() as state:
        plan = warming(state, WarmingAsked(NOVEMBER, seed_percent=Decimal(10)))
    assert [one.bucket for one in plan.buckets] == ["B2", "B1"]
    for one in plan.buckets:
        assert one.goes_in + timedelta(hours=one.warm.hours) <= NOVEMBER + timedelta(days=1)
        assert one.goes_in < NOVEMBER
    assert any("may ferment" in note for note in plan.buckets[0].notes)
    assert plan.set_on == NOVEMBER + timedelta(days=6)
    assert len(appointments(plan)) == 4


def test_heat_a_bucket_has_seen_is_counted_in(season):
    with season.work() as work:
        cold = warming(work, WarmingAsked(NOVEMBER)).buckets[0].hmf.middle
        warm(work, WarmedBy("B1", Decimal(45), Decimal(24)), FILLING, "en_US")
        again = warming(work, WarmingAsked(NOVEMBER)).buckets[0].hmf.middle
    assert again == cold + hmf_added([Warming(Decimal(45), Decimal(24))]).middle


@pytest.mark.parametrize(("read", "heated_to"), [("32", None), ("41", Decimal(41))])
def test_honey_that_was_warmer_than_a_hive_when_it_was_filled_is_no_longer_said_to_be_raw(season, read, heated_to):
    with season.work() as work:
        batch(work, ["B1"], [SheetEntry("honey", read=Decimal(read))], FILLING, locale="en_US")
        lot = bottle(work, Bottling("B1", {"one pound": 5}), FILLING, "en_US").lot
        label = Label(("us",), "honey", "Honey", situation={"raw": True})
        found = as_warmed(work, label, [lot]).situation
    assert (found.get("heated_to"), found.get("raw")) == (heated_to, None if heated_to else True)


def test_a_bucket_of_nothing_is_not_warmed(season):
    with season.reading() as state:
        plan = warming(state, WarmingAsked(NOVEMBER, ("B1",)))
    assert plan.buckets[0].holds == Mass.read("30 lb", "en_US") and plan.set_on is None
