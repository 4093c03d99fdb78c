"""A weight that no pail or drum can hold is asked about and never booked.

Bounds from outside: the USDA's 12 lb of honey a US gallon (a 5-gallon pail holds 60 lb); a drum of 55 US gallons holds
660 lb by the same figure.
"""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.lots import BucketImplausible, ContainerOverfilled
from labelkit.lots.intake import Intake, weigh_in
from labelkit.lots.plausible import check_plausible
from labelkit.measures import Mass, read_volume

DAY = date(2026, 7, 14)


def mass(text: str) -> Mass:
    return Mass.read(text, "en_US")


def test_a_decimal_mark_that_was_lost_is_asked_about_where_the_pail_is_known():
    pail = read_volume("5 gal", "en_US")
    with pytest.raises(ContainerOverfilled, match=r"Did you mean 22\.1 lb \(10 kg\)\?"):
        weigh_in(Intake("B1", net=mass("221 lb"), container_ml=pail), DAY, locale="en_US")
    with pytest.raises(ContainerOverfilled, match=r"22\.1 lb"):
        weigh_in(Intake("B1", gross=mass("221 lb"), tare=mass("2 lb 7 oz"), container_ml=pail), DAY, locale="en_US")


def test_it_is_asked_about_where_only_the_tare_tells_how_large_the_pail_is():
    with pytest.raises(BucketImplausible, match=r"22\.1 lb"):
        check_plausible(
            weigh_in(Intake("B1", gross=mass("221 lb"), tare=mass("2 lb 7 oz")), DAY, locale="en_US"), "en_US"
        )


@pytest.mark.parametrize("net", ["1250 kg", "1,250 kg", "2500 lb"])
def test_more_than_a_drum_holds_is_asked_about_where_nothing_else_is_known(net):
    with pytest.raises(BucketImplausible, match=r"Did you mean"):
        check_plausible(weigh_in(Intake("B1", net=mass(net)), DAY, locale="en_US"), "en_US")


@pytest.mark.parametrize(
    ("gross", "tare"),
    [("62 lb 3 oz", "2 lb 7 oz"), ("28.4 kg", "1.1 kg"), ("700 lb", "40 lb"), ("310 kg", "9 kg"), ("13 lb", "0.5 lb")],
)
def test_pails_and_drums_as_they_are_sold_are_weighed_in_without_a_question(gross, tare):
    check_plausible(weigh_in(Intake("B1", gross=mass(gross), tare=mass(tare)), DAY, locale="en_US"), "en_US")


def test_a_tank_is_weighed_in_once_its_room_is_said():
    check_plausible(
        weigh_in(Intake("T1", net=mass("1250 kg"), container_ml=read_volume("1000 l", "en_US")), DAY, locale="en_US"),
        "en_US",
    )


@given(st.integers(min_value=1, max_value=300_000))
def test_what_a_drum_holds_is_never_refused(grams):
    check_plausible(weigh_in(Intake("B1", net=Mass.of_grams(Decimal(grams))), DAY, locale="en_US"), "en_US")


def test_the_question_is_put_in_the_reader_s_own_way_of_writing_numbers():
    with pytest.raises(ContainerOverfilled, match=r"Did you mean 22,1 lb \(10 kg\)\?"):
        weigh_in(Intake("B1", net=mass("221 lb"), container_ml=read_volume("5 gal", "en_US")), DAY, "de_DE")
