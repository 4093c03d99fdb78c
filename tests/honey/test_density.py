"""Weight from volume and back: the published column, the exact units, and jars that do or do not hold it."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.honey import BottleWeighingsUnclear, HeadspaceUnclear, OutsideDensityTable, TemperatureOutOfReach
from labelkit.honey.density import WATER_KG_PER_L, density, gravity_by_bottle, moisture_of, specific_gravity
from labelkit.honey.volume import fit, volume_of, weight_of
from labelkit.measures import Mass, read_volume
from tests.worked import worked

D = Decimal
WEIGHTS = worked("honey/weights")
MOISTURES = st.decimals(min_value=13, max_value=25, places=2)


@pytest.mark.parametrize("row", worked("honey/density")["row"], ids=lambda row: row["moisture"])
def test_every_row_of_the_published_column(row):
    honey = density(D(row["moisture"]))
    assert specific_gravity(D(row["moisture"])) == D(row["gravity"])
    assert round(honey.kg_per_l, 4) == D(row["kg_per_l"])
    assert round(honey.lb_per_us_gal, 3) == D(row["lb_per_us_gal"])
    assert round(honey.us_fl_oz_per_lb, 3) == D(row["us_fl_oz_per_lb"])
    # The trade multiplies the gravity by 8.34 lb of water instead: 0.12 % more.
    assert round(D(row["gravity"]) * D("8.34"), 3) == D(row["custom"])


def test_both_ends_of_the_column_are_the_limits_a_trade_journal_prints():
    # Bee Culture, "Density of Honey": 11.6343 to 12.057138 pounds per gallon.
    assert specific_gravity(D(21)) * D("8.34") == D("11.634300")
    assert specific_gravity(D(13)) * D("8.34") == D("12.057138")


def test_sucrose_of_the_same_refractive_index_is_as_heavy_within_a_part_in_500():
    # CRC handbook data for sucrose solutions: one that refracts like honey of 18 % weighs 1.4137 kg/l at 20 °C.
    assert abs(density(D(18)).kg_per_l / D("1.4137") - 1) < D("0.002")


def test_the_water_under_the_gravity_is_the_international_standard():
    iapws = pytest.importorskip("chemicals.iapws")
    assert iapws.iapws95_rho(293.15, 101325) / 1000 == pytest.approx(float(WATER_KG_PER_L), abs=1e-6)


def test_warm_honey_takes_more_room():
    # −0.42 % at 35 °C, by the expansion of sucrose solutions of the same strength.
    warm = density(D(18), D(35))
    assert round((warm.kg_per_l / density(D(18)).kg_per_l - 1) * 100, 2) == D("-0.42")
    assert any("expand" in note for note in warm.notes)


def test_what_is_only_memory_says_so():
    assert density(D(18)).sure == "memory"
    assert "memory" in density(D(18)).notes[0]
    assert density(D(23)).sure == "reckoned"


@pytest.mark.parametrize("moisture", ["12.9", "25.1"])
def test_no_density_outside_the_refractometer_table(moisture):
    with pytest.raises(OutsideDensityTable):
        density(D(moisture))


def test_no_density_of_boiling_honey():
    with pytest.raises(TemperatureOutOfReach):
        density(D(18), D(95))


@pytest.mark.parametrize("row", WEIGHTS["weigh"], ids=lambda row: row["volume"])
def test_weight_of_a_volume(row):
    found = weight_of(read_volume(row["volume"], "en_US"), D(row["moisture"]))
    assert abs(found.mass.lb - D(row["lb"])) <= D(row["within_lb"])


@pytest.mark.parametrize("row", WEIGHTS["fill"], ids=lambda row: row["net"])
def test_volume_of_a_weight(row):
    assert abs(volume_of(Mass.read(row["net"], "en_US"), D(row["moisture"])) - D(row["ml"])) <= D(row["within_ml"])


@pytest.mark.parametrize("row", WEIGHTS["jar"], ids=lambda row: f"{row['net']} in {row['brimful']}")
def test_whether_a_weight_goes_into_a_jar(row):
    found = fit(
        Mass.read(row["net"], "en_US"), read_volume(row["brimful"], "en_US"), D(row["moisture"]), headspace=D(0)
    )
    assert found.fits is row["fits"]


def test_a_jar_that_fits_cold_may_be_too_small_for_warm_honey():
    brimful = fit(Mass.read("500 g", "en_US"), D(1000), D(18), headspace=D(0)).jar_needs_ml
    assert fit(Mass.read("500 g", "en_US"), brimful, D(18), headspace=D(0)).fits
    assert not fit(Mass.read("500 g", "en_US"), brimful, D(18), D(40), headspace=D(0)).fits


def test_twelve_pounds_a_gallon_is_honey_of_14_percent():
    assert moisture_of(12 * D("453.59237") / D("3785.411784")) == D("14.0")
    with pytest.raises(OutsideDensityTable):
        moisture_of(D("1.30"))


def test_a_specific_gravity_bottle():
    # A published laboratory example at 27 °C: 1.3935.
    found = gravity_by_bottle(D("28.4773"), D("54.8809"), D("65.2718"))
    assert abs(found - D("1.3935")) <= D("0.0001")


def test_a_headspace_of_the_whole_jar_is_refused():
    with pytest.raises(HeadspaceUnclear):
        fit(Mass.read("500 g", "en_US"), D(400), D(18), headspace=D(60))


@given(MOISTURES, st.integers(min_value=1, max_value=30_000_000))
def test_there_and_back_loses_at_most_a_milligram(moisture, mg):
    volume = volume_of(Mass(mg), moisture)
    assert abs(weight_of(volume, moisture).mass.mg - mg) <= 1


@given(MOISTURES, MOISTURES)
def test_wetter_honey_is_never_heavier(one, other):
    wet, dry = max(one, other), min(one, other)
    assert specific_gravity(wet) <= specific_gravity(dry)


@pytest.mark.parametrize(
    ("empty", "water", "honey"),
    [
        ("54.8809", "28.4773", "65.2718"),
        ("28.4773", "54.8809", "54.8809"),
        ("28.4773", "28.4773", "65"),
        ("0", "26.4", "36.8"),
        ("28.4773", "54.8809", "75.2718"),
    ],
)
def test_three_weighings_that_do_not_belong_together_are_asked_about(empty, water, honey):
    with pytest.raises(BottleWeighingsUnclear):
        gravity_by_bottle(D(empty), D(water), D(honey))
