"""Settling and warmth: published series, an outside library, and figures that say how wide they are."""

from decimal import Decimal

import pytest

from labelkit.errors.honey import SizeUnclear, TemperatureOutOfReach
from labelkit.honey.colour import pfund_from_absorbance
from labelkit.honey.settling import AIR, WAX, hang_up, rise, stokes, viscosity
from labelkit.honey.warmth import SPREAD, Warming, days_to_30, hmf_added, hours_for
from labelkit.honey.yields import cappings_share, from_frames, from_supers, usable, wax_from
from labelkit.measures import Mass, show_customary
from tests.worked import worked

D = Decimal
SETTLING = worked("honey/settling")
WARMTH = worked("honey/warmth")


def within_factor(found: Decimal, published: Decimal, factor: Decimal) -> bool:
    return max(found / published, published / found) <= factor


@pytest.mark.parametrize("row", SETTLING["clover"], ids=lambda row: row["celsius"])
def test_the_published_series_of_clover_honey(row):
    found = viscosity(D(16), D(row["celsius"])) * 10
    assert within_factor(found, D(row["poise"]), D(SETTLING["clover_factor"]))


@pytest.mark.parametrize("row", SETTLING["by_moisture"], ids=lambda row: row["moisture"])
def test_the_published_series_by_moisture(row):
    found = viscosity(D(row["moisture"]), D(25)) * 10
    assert within_factor(found, D(row["poise"]), D(row.get("factor", SETTLING["by_moisture_factor"])))


@pytest.mark.parametrize("row", SETTLING["fitted"], ids=lambda row: f"{row['celsius']} C {row['moisture']} %")
def test_the_fit_by_temperature_and_moisture(row):
    found = viscosity(D(row["moisture"]), D(row["celsius"]))
    assert abs(found - D(row["pa_s"])) <= D(SETTLING["fitted_within"])


@pytest.mark.parametrize("row", SETTLING["hours"], ids=lambda row: f"{row['celsius']} C {row['mm']} mm")
@pytest.mark.parametrize(("what", "heavy"), [("air", AIR), ("wax", WAX)])
def test_hours_for_bubbles_and_wax_to_rise(row, what, heavy):
    found = rise(D(row["mm"]), D("0.30"), D("17.5"), D(row["celsius"]), heavy).hours
    printed = D(row[what])
    half_a_place = D(1).scaleb(printed.as_tuple().exponent) / 2
    assert abs(found - printed) <= max(half_a_place, printed * D(SETTLING["hours_within"]))


def test_stokes_agrees_with_an_engineering_library():
    drag = pytest.importorskip("fluids.drag")
    for mm in ("0.1", "0.5", "1.0"):
        outside = drag.v_terminal(D=float(mm) / 1000, rhop=1.2, rho=1418.0, mu=19.0)
        assert float(stokes(D(mm), AIR, D(1418), D(19))) == pytest.approx(-outside, rel=1e-3)


def test_a_bubble_of_one_millimetre_takes_two_hours():
    # Worked by hand without the mass of air: 4.07e-5 m/s, 2.05 h over 0.30 m.
    speed = stokes(D(1), D(0), D(1420), D(19))
    assert abs(speed / D("4.07e-5") - 1) < D("0.01")
    assert abs(D("0.30") / speed / 3600 - D("2.05")) < D("0.02")


def test_what_clings_to_a_pail_by_temperature():
    # Film model, worked independently for a pail of 0.36 m by 0.29 m holding 27 kg, 17.5 %, after half an hour.
    for celsius, percent in (("20", "0.46"), ("25", "0.33"), ("35", "0.18")):
        found = hang_up(D("0.36"), D("0.29"), D("17.5"), D(celsius), D(30)) / 27 * 100
        assert abs(found - D(percent)) <= D("0.02")


def test_settling_wants_sizes_above_zero_and_a_temperature_it_knows():
    with pytest.raises(SizeUnclear):
        stokes(D(0), AIR, D(1420), D(19))
    with pytest.raises(SizeUnclear):
        rise(D(1), D(0), D(18), D(30))
    with pytest.raises(SizeUnclear):
        hang_up(D("0.36"), D("0.29"), D(18), D(30), D(0))
    with pytest.raises(TemperatureOutOfReach):
        viscosity(D(18), D(5))


@pytest.mark.parametrize("row", WARMTH["row"], ids=lambda row: row["celsius"])
def test_the_warmth_budget_against_the_published_tables(row):
    found = days_to_30(D(row["celsius"]))
    assert abs(found / D(row["fit"]) - 1) <= D(WARMTH["fit_within"])
    for table in ("manual", "danish"):
        if table in row:
            low, high = (D(days) for days in row[table])
            assert low / SPREAD <= found <= high * SPREAD


def test_a_warmth_budget_says_how_wide_it_is_and_warns_of_hot_honey_and_glass():
    budget = hmf_added([Warming(D(50), D(24))])
    assert round(budget.high / budget.low, 6) == 9
    assert any("laboratory" in note for note in budget.notes)
    assert any("glass" in note for note in budget.notes)
    assert hmf_added([]).middle == 0


def test_the_hours_of_a_budget_use_it_up_on_the_cautious_side():
    hours = hours_for(D(10), D(45))
    assert round(hmf_added([Warming(D(45), hours)]).high, 6) == 10


def test_honey_is_not_boiled():
    with pytest.raises(TemperatureOutOfReach):
        days_to_30(D(95))


def test_expected_yields_are_ranges_with_their_source():
    assert show_customary(from_supers("medium", 1).high, "en_US") == "40 lb"
    assert show_customary(from_frames("medium", 1).low, "en_US") == "3 lb 8 oz"
    assert from_frames("deep", 1).sure == "practice"
    wax = wax_from(Mass.read("100 lb", "en_US"))
    assert (show_customary(wax.low, "en_US"), show_customary(wax.high, "en_US")) == ("1 lb", "2 lb")
    assert cappings_share(Mass.read("100 kg", "en_US")).high == Mass.read("10 kg", "en_US")
    assert usable(Mass.read("100 kg", "en_US")) == Mass.read("98 kg", "en_US")


def test_colour_from_absorbance_is_from_memory_and_never_below_zero():
    # White 1984, equation from memory: 0.25 gives 54.2 mm, 0.08 falls off the scale at −9.0.
    assert abs(pfund_from_absorbance(D("0.25")).mm - D("54.2")) <= D("0.1")
    low = pfund_from_absorbance(D("0.08"))
    assert low.mm == 0 and abs(low.raw - D("-9.0")) <= D("0.1")
    assert low.sure == "memory" and "memory" in low.notes[0]
