"""The caps of small producers' reliefs are counted off the record, and whoever nears one is told in time."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.lots.bucket_life import SOLD, TakenOut
from labelkit.lots.intake import Intake
from labelkit.measures import Money
from labelkit.record.settings import Setting
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.due import due_today
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

NEXT_YEAR = date(2027, 1, 2)


def sold_in_drums(season, drums: int, first: int = 0, pounds: str = "600", rate: str = "2.50") -> None:
    """Drums weighed in and sold whole, at so many dollars a pound."""
    with season.work() as work:
        for n in range(first, first + drums):
            weigh(work, Intake(f"D{n}", net=lb(pounds), moisture=Decimal(17)), HARVEST, "en_US")
            dollars = Money.of(rate, "USD")
            out = TakenOut(f"D{n}", MARKET, lb(pounds), SOLD, lb(pounds), customer="Rowan", rate=dollars, per="lb")
            work.add(out)


def told(season, day: date = MARKET, verb: str = "rules"):
    with season.reading() as state:
        every = due_today(state, day, locale="en_US")
    return [due for due in every if due.verb == verb and "a year" in due.what and "read again" not in due.what]


def sells_in(season, market: str, **situation) -> None:
    with season.work() as work:
        work.add(Setting(HARVEST, "market", [market]))
        work.add(Setting(HARVEST, "situation", situation))


# Code of Virginia 3.2-5130(C)(3): under 250 gallons. South Carolina's own pair of caps, 400 gallons or 4,800 pounds, makes
# twelve pounds a gallon, so that 2,400 pounds are 200 gallons, four fifths of Virginia's cap.
def test_four_fifths_of_a_cap_is_told_and_three_fifths_is_not(season):
    sells_in(season, "us-va")
    sold_in_drums(season, 3)
    assert not told(season)
    sold_in_drums(season, 1, first=3)
    near = next(due for due in told(season) if "gal" in due.what)
    assert near.level == "due"
    assert "of 250 US gal a year are sold" in near.what
    assert "check your local rules" in near.why.casefold()


def test_a_passed_cap_is_urgent_until_the_year_is_over(season):
    sells_in(season, "us-va")
    sold_in_drums(season, 5)
    passed = next(due for due in told(season) if "gal" in due.what)
    assert passed.level == "urgent"
    assert "ends at 250 US gal a year" in passed.what
    assert not told(season, NEXT_YEAR)


def test_a_cap_an_answer_rules_out_is_not_told(season):
    sells_in(season, "us-va", home_kitchen=False)
    sold_in_drums(season, 5)
    assert not [due for due in told(season) if "gal" in due.what]


# Florida Statutes 500.80(1): cottage food sales up to 250,000 dollars a year.
@pytest.mark.parametrize(("rate", "level"), [("199999.00", None), ("200000.00", "due"), ("250000.01", "urgent")])
def test_money_is_counted_to_the_cent(season, rate, level):
    sells_in(season, "us-fl", home_kitchen=True)
    sold_in_drums(season, 1, pounds="1", rate=rate)
    assert [due.level for due in told(season) if "USD" in due.what and "250000" in due.what] == (
        [level] if level else []
    )


# Each cap in the words of its law, as quoted in the state's pack; gallons at twelve pounds, as South Carolina pairs them.
# It speaks of what is produced, and the season has 30 lb beside the drums.
#   Kentucky, KRS 217.187: "less than one hundred fifty (150) gallons of honey in a year off the farm"
#   Hawaii, HRS 328-79(a)(1): "Sells less than five hundred gallons of honey a year"
#   South Carolina 39-25-20(t): "no more than four hundred gallons (4,800 pounds) of honey annually"
#   Missouri, RSMo 261.241(1): "annual sales of honey are fifty thousand dollars or less per domicile"
#   Maryland, COMAR 10.15.03.02B(17-1)(b): "an amount not exceeding $50,000"
@pytest.mark.parametrize("told_as", [None, "due", "urgent"])
@pytest.mark.parametrize(
    ("state", "cap", "drums"),
    [
        ("ky", "150 US gal", {None: (2, "600", "1"), "due": (3, "480", "1"), "urgent": (3, "600", "1")}),
        ("hi", "500 US gal", {None: (6, "600", "1"), "due": (8, "600", "1"), "urgent": (10, "600", "1")}),
        ("sc", "4800 lb", {None: (8, "476.2", "1"), "due": (8, "476.3", "1"), "urgent": (9, "540", "1")}),
        ("mo", "50000 USD", {None: (1, "1", "39999.99"), "due": (1, "1", "40000"), "urgent": (1, "1", "50000.01")}),
        ("md", "50000 USD", {None: (1, "1", "39999.99"), "due": (1, "1", "40000"), "urgent": (1, "1", "50000.01")}),
    ],
)
def test_caps_of_five_states_are_told_from_four_fifths_on_and_urgent_once_passed(season, state, cap, drums, told_as):
    sells_in(season, f"us-{state}", home_kitchen=True, own_hives=True)
    count, pounds, rate = drums[told_as]
    sold_in_drums(season, count, pounds=pounds, rate=rate)
    assert [due.level for due in told(season) if cap in due.what] == ([told_as] if told_as else [])


# "Producing", "packs or sells", "selling or packing", "produces": as the packs quote South Carolina 39-25-20(t), Illinois
# 410 ILCS 650/7(c), Tennessee 53-1-102 and, until 2025, Texas SB 1766. Kentucky and Virginia say "sells". At twelve
# pounds a gallon 4,800 lb are 400 gallons, of SC's 400, IL's 500, TN's and KY's 150, VA's 250.
@pytest.mark.parametrize(
    ("state", "came_in", "filled"),
    [
        ("sc", "are produced", "are produced"),
        ("il", None, "are packed"),
        ("tn", None, "are packed"),
        ("ky", None, None),
    ],
)
def test_a_cap_is_counted_of_what_its_law_names_before_a_jar_is_sold(season, state, came_in, filled):
    sells_in(season, f"us-{state}")
    with season.work() as work:
        for n in range(8):
            weigh(work, Intake(f"D{n}", net=lb("600"), moisture=Decimal(17)), HARVEST, "en_US")
    words = " ".join(due.what for due in told(season))
    assert came_in in words if came_in else not words
    with season.work() as work:
        for n in range(8):
            bottle(work, Bottling(f"D{n}", {"one pound": 600}), FILLING, "en_US")
    words = " ".join(due.what for due in told(season))
    assert filled in words if filled else not words


def test_an_answer_the_record_is_above_is_questioned(season):
    sells_in(season, "us-va", gallons_per_year=90)
    sold_in_drums(season, 2)
    (asked,) = told(season, verb="label-words")
    assert asked.about == "gallons_per_year"
    assert "You said 90 US gal a year" in asked.what
    sells_in(season, "us-va", gallons_per_year=200)
    assert not told(season, verb="label-words")
