"""Keeping, blending and drying: published bands, and mass that is neither made nor lost."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.honey import (
    BlendTargetOutOfReach,
    DryingAddsWater,
    FigureUnlikely,
    HumidityOutsideTable,
    NotAMoisture,
)
from labelkit.honey.blend import Mixed, blend, dry, dry_honey_needed
from labelkit.honey.crystals import setting
from labelkit.honey.ferment import ferment_risk
from labelkit.honey.humidity import humidity_for, moisture_in_air
from labelkit.measures import Mass
from tests.worked import worked

D = Decimal
BLENDS = worked("honey/blends")
HUMIDITY = worked("honey/humidity")
PARTS = st.builds(Mixed, st.integers(1, 30_000_000).map(Mass), st.decimals(min_value=13, max_value=25, places=1))


@pytest.mark.parametrize("row", worked("honey/ferment")["row"], ids=lambda row: row["moisture"])
def test_every_band_of_the_fermentation_table(row):
    found = ferment_risk(D(row["moisture"]))
    assert (found.risk, found.yeast_below_per_g) == (row["risk"], row.get("yeast_below_per_g"))
    assert found.sure == "second-hand"


def test_a_blend_keeps_the_yeasts_of_its_wet_part():
    assert any("yeast count" in note for note in ferment_risk(D("18.0"), blended=True).notes[1:])
    assert any("set" in note for note in ferment_risk(D("18.0"), crystallised=True).notes)


def test_solids_are_not_a_moisture_to_keep():
    with pytest.raises(NotAMoisture):
        ferment_risk(D(82))


@pytest.mark.parametrize("row", BLENDS["blend"], ids=lambda row: row["moisture"])
def test_blends(row):
    parts = [Mixed(Mass.read(mass, "en_US"), D(water)) for mass, water in row["parts"]]
    assert blend(parts).moisture == D(row["moisture"])


@pytest.mark.parametrize("row", BLENDS["needed"])
def test_how_much_dry_honey_brings_a_wet_lot_down(row):
    needed = dry_honey_needed(Mixed(Mass.read(row["wet"], "en_US"), D(row["at"])), D(row["with"]), D(row["target"]))
    assert abs(needed.kg - D(row["kg"])) <= D(row["within"])


@pytest.mark.parametrize("row", BLENDS["dried"])
def test_drying(row):
    left = dry(Mixed(Mass.read(row["honey"], "en_US"), D(row["at"])), D(row["to"]))
    assert abs(left.mass.lb - D(row["lb"])) <= D(row["within"])
    assert abs(left.water.lb - D(row["water_lb"])) <= D(row["within"])


@pytest.mark.parametrize(
    ("dry_honey", "target"), [("18.5", "18.0"), ("16.5", "19.6"), ("16.5", "16.5"), ("19.4", "18.0")]
)
def test_a_blend_that_cannot_be_is_refused(dry_honey, target):
    with pytest.raises(BlendTargetOutOfReach):
        dry_honey_needed(Mixed(Mass.read("20 kg", "en_US"), D("19.4")), D(dry_honey), D(target))


def test_drying_does_not_add_water():
    with pytest.raises(DryingAddsWater):
        dry(Mixed(Mass.read("20 kg", "en_US"), D("17")), D("18"))


@given(st.lists(PARTS, min_size=1, max_size=6))
def test_a_blend_lies_between_its_parts_and_keeps_their_mass(parts):
    mixed = blend(parts)
    assert min(p.moisture for p in parts) <= round(mixed.moisture, 20) <= max(p.moisture for p in parts)
    assert mixed.mass.mg == sum(p.mass.mg for p in parts)


@given(PARTS, st.decimals(min_value=13, max_value=25, places=1), st.decimals(min_value=13, max_value=25, places=1))
def test_the_honey_it_asks_for_really_meets_the_target(wet, dry_moisture, target):
    if not dry_moisture < target < wet.moisture:
        return
    needed = dry_honey_needed(wet, dry_moisture, target)
    assert blend([wet, Mixed(needed, dry_moisture)]).moisture <= target
    if needed.mg > 1:
        assert blend([wet, Mixed(needed - Mass(1), dry_moisture)]).moisture > target


@given(PARTS, st.decimals(min_value=13, max_value=25, places=1))
def test_drying_keeps_the_solids(honey, target):
    if target >= honey.moisture:
        return
    left = dry(honey, target)
    assert left.mass + left.water == honey.mass
    solids_before = honey.mass.mg * (100 - honey.moisture)
    solids_after = left.mass.mg * (100 - target)
    assert 0 <= solids_before - solids_after < 100


@pytest.mark.parametrize("row", HUMIDITY["row"], ids=lambda row: row["humidity"])
def test_every_row_of_the_humidity_table(row):
    assert moisture_in_air(D(row["humidity"])) == D(row["moisture"])
    assert humidity_for(D(row["moisture"])) == D(row["humidity"])


@pytest.mark.parametrize("row", HUMIDITY["between"], ids=lambda row: row["humidity"])
def test_between_the_rows_of_the_humidity_table(row):
    assert abs(moisture_in_air(D(row["humidity"])) - D(row["moisture"])) <= D("0.2")


def test_outside_the_humidity_table_there_is_no_answer():
    for ask in (lambda: moisture_in_air(D(40)), lambda: humidity_for(D(15))):
        with pytest.raises(HumidityOutsideTable):
            ask()


def test_solids_and_brix_are_no_moisture_to_hold_against_the_air():
    with pytest.raises(NotAMoisture):
        humidity_for(D(82))


@pytest.mark.parametrize(("glucose", "fructose"), [("0", None), ("313", None), ("31.3", "0"), ("31.3", "3.82")])
def test_sugars_no_honey_has_are_asked_about(glucose, fructose):
    with pytest.raises(FigureUnlikely):
        setting(D(glucose), D("17.2"), D(fructose) if fructose else None)


def test_the_mean_honey_of_the_usa_sets_slowly():
    # White 1962: glucose 31.3, fructose 38.2, water 17.2; glucose to water 1.82, between 1.7 and 2.1.
    by_water, by_excess, by_ratio = setting(D("31.3"), D("17.2"), D("38.2"))
    assert (by_water.says, round(by_water.value, 2)) == ("sets slowly", D("1.82"))
    assert by_excess.says == "unclear" and by_ratio.sure == "memory"


def test_rape_honey_sets_fast_and_acacia_stays_liquid():
    # Glucose to water above 2.1 and below 1.7, the published bounds.
    assert setting(D("40.0"), D("17.0"))[0].says == "sets fast"
    assert setting(D("26.0"), D("17.0"))[0].says == "stays liquid"
