"""A label says of the honey's origin what its buckets bear, and nothing else."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.labels import LotsUnclear
from labelkit.labels.case import cases_printed
from labelkit.lots.intake import Intake, Receipt
from labelkit.lots.received import OriginShare
from labelkit.measures import Declared
from labelkit.rules import market
from labelkit.rules.label import Label, Share
from labelkit.season.blend import Blending, blend
from labelkit.season.borne import heritages, home_of, of_its_honey, unborne
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.receive import receive
from tests.season.conftest import FILLING, HARVEST, lb

DAY = date(2026, 7, 20)
MIXED, OWN = "M1", "B1"


@pytest.fixture
def honey(season):
    """B1 is own honey; M1 is of it and, a third, of bought-in honey from Argentina that its papers call raw."""
    with season.work() as work:
        origin = (OriginShare("AR", Decimal(100)),)
        receive(
            work, Receipt(Intake("R1", net=lb("10")), "Brook apiary", "K7", origin, states=("raw",)), HARVEST, "en_US"
        )
        blend(work, Blending(MIXED, (("B1", lb("20")), ("R1", lb("10")))), FILLING, "en_US")
    return season


def label(place: str, *lines: str, name: str = "Honey", home: str = "", **more) -> Label:
    origin = (Share(home, Decimal(100)),) if home else ()
    return Label((place,), name, Declared.read("1 lb", "en_US"), lines=lines, origin=origin, **more)


def judged(season, bucket: str, written: Label):
    with season.reading() as state:
        found = heritages(state, [bucket])
    printed = of_its_honey(written, found, DAY)
    cases = cases_printed(printed, [market(place, DAY) for place in printed.markets], locale="en_US")
    return printed, unborne(cases, found, home_of(written))


@pytest.mark.parametrize(
    ("place", "home", "line"),
    [
        ("us", "US", "From our own hives"),
        ("us", "US", "Product of U.S.A."),
        ("us", "US", "Local honey"),
        ("us", "US", "Unfiltered"),
        ("us", "US", "Certified organic"),
        ("eu-de", "DE", "Ursprungsland: Deutschland"),
        ("eu-de", "DE", "Deutscher Honig"),
        ("eu-de", "DE", "Honig aus eigener Imkerei"),
        ("eu-de", "DE", "ungefiltert"),
        ("uk", "GB", "British honey"),
    ],
)
def test_words_the_bought_in_part_does_not_bear_are_stopped_and_the_bucket_is_named(honey, place, home, line):
    _, found = judged(honey, MIXED, label(place, line, home=home))
    assert found and {finding.level for finding in found} == {"stop"}
    assert all("R1" in finding.says for finding in found)
    assert all(finding.do.endswith("Check your local rules.") for finding in found)
    assert judged(honey, OWN, label(place, line, home=home))[1] == ()


def test_what_the_papers_of_every_part_state_may_be_said(honey):
    assert judged(honey, MIXED, label("us", "Raw", home="US"))[1] == ()


def test_the_origin_on_the_label_is_by_mass_whatever_was_typed(honey):
    printed, _ = judged(honey, MIXED, label("eu-de", home="DE"))
    assert printed.origin == (Share("DE", Decimal(67)), Share("AR", Decimal(33)))
    cases = cases_printed(printed, [market("eu-de", DAY)], locale="en_US")
    assert cases[0].added.origin == "Deutschland 67 %, Argentinien 33 %"
    assert printed.situation["own_hives"] is False
    assert judged(honey, OWN, label("eu-de", home="DE"))[0].origin == (Share("DE", Decimal(100)),)


def test_the_true_statement_of_origin_in_the_makers_own_words_is_no_contradiction(honey):
    assert judged(honey, MIXED, label("eu-de", "Deutschland 67 %, Argentinien 33 %", home="DE"))[1] == ()


def test_without_the_country_of_the_own_honey_nothing_is_said_and_it_is_asked_for(honey):
    printed, found = judged(honey, MIXED, label("eu-de"))
    assert printed.origin == ()
    assert [finding.level for finding in found] == ["ask"]


def test_lots_of_different_origin_are_not_printed_together(honey):
    with honey.work() as work:
        lots = [bottle(work, Bottling(bucket, {"one pound": 5}), FILLING, "en_US").lot for bucket in (MIXED, OWN)]
    with honey.reading() as state, pytest.raises(LotsUnclear):
        of_its_honey(label("us", home="US"), heritages(state, lots), DAY)
