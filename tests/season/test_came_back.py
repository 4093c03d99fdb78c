"""Jars that came back, and jars whose best-before date comes near: what may go out again, and what today names."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from labelkit.errors.trace import OpenedStayApart, StandsAgainst
from labelkit.labels.printed import Printed
from labelkit.lots.movement import Account
from labelkit.measures import Money
from labelkit.record.settings import Setting
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.deliver import JarsForCustomer, deliver
from labelkit.season.due import due_today
from labelkit.season.recall import release
from labelkit.season.sell import JarsGone, sell
from tests.season.conftest import FILLING, HARVEST, MARKET

ENDS = date(2026, 8, 20)
LOT = "L26201AXN"


@pytest.fixture
def work(season):
    """25 jars of a pound, labelled as best before 20 August; 6 of them sold and 4 delivered."""
    with season.work() as work:
        work.add(Setting(HARVEST, "maker", {"name": "Pretend Hollow Honey", "city": "Pretend Hollow"}))
        lot = bottle(work, Bottling("B1", {"one pound": 25}), FILLING, "en_US").run.lot
        work.add(
            Printed(FILLING, lot, "one pound", "front", "meadow", "sheet", "aaa", ("Honey",), 25, best_before=ENDS)
        )
        sell(work, JarsGone(lot, {"one pound": 6}), MARKET)
        price = {"one pound": Money.of("8.40", "USD")}
        deliver(
            work, JarsForCustomer("Corner shop", {"one pound": 4}, prices=price, address=("1 Row",)), MARKET, "en_US"
        )
        yield work


def back(work, count: int, state: str):
    return sell(work, JarsGone(LOT, {"one pound": count}, "returned", reason="brought back", state=state), MARKET)


def at(work, account: Account) -> int:
    return sum(jars.count for jars in work.stock(account))


def told(work, day: date, verb: str) -> list[str]:
    return [str(one.what) for one in due_today(work, day, "en_US") if one.verb == verb]


def test_opened_jars_stay_apart_when_the_others_are_released_and_are_then_discarded(work):
    back(work, 3, "whole")
    back(work, 2, "opened")
    assert (at(work, Account.JARS), at(work, Account.HELD)) == (15, 5)
    assert told(work, MARKET, "sell") == [f"2 jars of lot {LOT}, one pound, came back opened and stand apart."]
    assert told(work, MARKET, "release") == [f"3 jars of lot {LOT}, one pound, came back and stand apart."]
    release(work, [LOT], "looked at, lids tight", MARKET)
    assert (at(work, Account.JARS), at(work, Account.HELD)) == (18, 2)
    with pytest.raises(OpenedStayApart, match="the 2 held jars came back opened"):
        release(work, [LOT], "they look fine", MARKET)
    sell(work, JarsGone(LOT, {"one pound": 2}, "discarded", reason="opened"), MARKET)
    assert at(work, Account.HELD) == 0 and told(work, MARKET, "sell") == []


@pytest.mark.parametrize(("before", "named"), [(31, False), (30, True), (0, True), (-1, False)])
def test_today_names_jars_a_month_before_their_best_before_date(work, before, named):
    found = [one for one in told(work, ENDS - timedelta(days=before), "labels") if "passes on" in one]
    assert found == [f"15 jars of lot {LOT}, one pound: the best-before date passes on {ENDS}."] * named


@pytest.mark.parametrize(("before", "named"), [(31, False), (30, True), (-30, True), (-31, False)])
def test_today_names_the_shop_whose_jars_come_near_their_date(work, before, named):
    found = [one for one in told(work, ENDS - timedelta(days=before), "customer") if "best before" in one]
    assert found == [f"Corner shop got 4 jars of lot {LOT}, one pound: best before {ENDS}."] * named


def test_after_their_date_jars_are_sold_only_with_words(work):
    past = MARKET - timedelta(days=1)
    work.add(Printed(FILLING, LOT, "one pound", "front", "meadow", "sheet", "aaa", ("Honey",), 15, best_before=past))
    with pytest.raises(StandsAgainst, match=f"passed on {past}"):
        sell(work, JarsGone(LOT, {"one pound": 1}), MARKET)
    sell(work, JarsGone(LOT, {"one pound": 1}, because="half price, the buyer was told"), MARKET)
