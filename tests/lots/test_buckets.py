"""A bucket remembers where its honey came from, and no milligram is made or lost on the way."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.lots import ContainerOverfilled
from labelkit.lots.bucket import Blend, Drain, Part, Source, WeighIn, bucket_of
from labelkit.lots.intake import drain, weigh_in
from labelkit.lots.plausible import check_fits
from labelkit.measures import Mass, total
from labelkit.reading.entry import Entry, read_intake

DAY = date(2026, 7, 14)
LATER = date(2026, 7, 17)
MASSES = st.integers(min_value=1, max_value=40_000_000).map(Mass)


def test_the_net_weight_is_gross_less_tare():
    filled = weigh_in(
        read_intake(Entry("B1", gross="62 lb 3 oz", tare="2 lb 7 oz", division="0.5 oz"), "en_US"), DAY, locale="en_US"
    )
    assert filled.net == Mass.read("62 lb 3 oz", "en_US") - Mass.read("2 lb 7 oz", "en_US")
    assert filled.weighing.division == Mass.read("0.5 oz", "en_US")


def test_cappings_honey_added_three_days_later_is_its_own_event_and_the_bucket_remembers_it():
    first = weigh_in(
        read_intake(Entry("B1", net="20 kg", sources=("Mill meadow: H1",), moisture="17.0"), "en_US"),
        DAY,
        locale="en_US",
    )
    second = drain(
        read_intake(Entry("B1", net="5 kg", sources=("Hill: H7",), moisture="18.0"), "en_US"), LATER, locale="en_US"
    )
    bucket = bucket_of("B1", [first, second])
    assert bucket.holds == Mass.read("25 kg", "en_US")
    assert [type(event).__name__ for event in bucket.history] == ["WeighIn", "Drain"]
    assert bucket.history[1].day == LATER
    assert bucket.moisture == Decimal("17.2")  # (20 x 17.0 + 5 x 18.0) / 25, by mass
    assert bucket.harvested == (DAY,)  # the cappings came off the same day and only took longer to drain


def test_a_bucket_filled_from_two_yards_remembers_both():
    filled = weigh_in(
        read_intake(Entry("B1", net="20 kg", sources=("Mill meadow: H1, H2", "Hill: H7")), "en_US"), DAY, locale="en_US"
    )
    assert bucket_of("B1", [filled]).sources == (Source("Hill", ("H7",)), Source("Mill meadow", ("H1", "H2")))


def test_a_moisture_that_was_not_measured_for_all_of_it_is_not_claimed_for_all_of_it():
    bucket = bucket_of("B1", [WeighIn("B1", DAY, Mass(20), moisture=Decimal(17)), Drain("B1", LATER, Mass(5))])
    assert bucket.moisture == 17
    assert not bucket.moisture_is_whole


def test_a_blend_keeps_all_its_parents_and_what_they_remember():
    one = bucket_of(
        "B1",
        [
            WeighIn(
                "B1",
                DAY,
                Mass.read("30 kg", "en_US"),
                sources=(Source("Mill", ("H1",)),),
                moisture=Decimal("17.2"),
                plant="clover",
            )
        ],
    )
    two = bucket_of(
        "B2",
        [
            WeighIn(
                "B2", LATER, Mass.read("20 kg", "en_US"), sources=(Source("Hill", ("H7",)),), moisture=Decimal("19.4")
            )
        ],
    )
    blend = Blend("M1", LATER, (Part("B1", one.holds), Part("B2", two.holds)))
    bucket = bucket_of("M1", [blend], parents=[one, two])
    assert bucket.parents == blend.parts
    assert {source.yard for source in bucket.sources} == {"Mill", "Hill"}
    # Worked example, mass balance: 30 kg at 17.2 % and 20 kg at 19.4 % make 18.08 %.
    assert bucket.moisture == Decimal("18.08")
    assert bucket.plants == ("clover",)
    assert bucket.harvested == (DAY, LATER)


@given(st.lists(MASSES, min_size=1, max_size=8))
def test_weighing_and_draining_conserve_mass(masses):
    events = [WeighIn("B1", DAY, masses[0]), *(Drain("B1", LATER, mass) for mass in masses[1:])]
    for event in events:
        assert total(movement.mass for movement in event.movements()) == Mass(0)
    assert bucket_of("B1", events).holds == total(masses)


@given(st.lists(MASSES, min_size=2, max_size=8))
def test_blending_conserves_mass(masses):
    blend = Blend("M1", DAY, tuple(Part(f"B{n}", mass) for n, mass in enumerate(masses)))
    assert total(movement.mass for movement in blend.movements()) == Mass(0)
    assert blend.mass == total(masses)


def test_a_five_gallon_bucket_holds_sixty_pounds_and_never_ninety():
    # White (1975): honey of 13 % water, the driest tabled, weighs 12.04 lb a US gallon; five of them 60.2 lb.
    five_gallons = Decimal("18927.05892")
    check_fits("B1", Mass.read("60 lb", "en_US"), five_gallons, locale="en_US")
    with pytest.raises(ContainerOverfilled):
        check_fits("B1", Mass.read("90 lb", "en_US"), five_gallons, locale="en_US")


def test_a_kilogram_reading_taken_for_pounds_is_noticed_by_the_container():
    with pytest.raises(ContainerOverfilled, match="does not fit"):
        weigh_in(read_intake(Entry("B1", net="58 kg", container="5 gal"), "en_US"), DAY, locale="en_US")
