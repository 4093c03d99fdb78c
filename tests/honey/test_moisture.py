"""A refractometer reading becomes a moisture by the published table, and nothing else is mistaken for one."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.honey import NotABrix, NotAMoisture, NotARefractiveIndex, TemperatureOutOfReach
from labelkit.honey.moisture import by_formula, checked, from_brix, from_index, index_at
from labelkit.honey.refraction_table import sucrose_rows
from tests.worked import worked

TABLE = worked("honey/refraction")
D = Decimal


@pytest.mark.parametrize("row", TABLE["row"], ids=lambda row: row["moisture"])
def test_every_row_of_the_published_table_comes_back(row):
    reading = from_index(D(row["index"]))
    assert reading.unrounded == D(row["moisture"])
    assert index_at(D(row["moisture"])) == D(row["index"])
    assert abs(by_formula(D(row["index"])) - D(row["formula"])) <= D(TABLE["tolerance_formula"])
    brix = from_brix(D(row["brix"]))
    assert abs(brix.unrounded - D(row["moisture"])) <= D(TABLE["tolerance_brix_moisture"])


def test_the_table_has_all_61_rows():
    assert len(TABLE["row"]) == 61


def test_the_formula_stays_within_0_022_of_every_row():
    # Bogdanov's table against Wedmore's formula; the worst row is 21.0 %.
    worst = max(abs(by_formula(D(row["index"])) - D(row["moisture"])) for row in TABLE["row"])
    assert worst < D("0.022")


def test_the_formula_is_not_fooled_by_bar_notation():
    """Taken literally, the 1.73190 that is printed everywhere gives 909.66 % of water for a good honey."""
    literal = (D("1.73190") - D("0.4915").log10()) / D("0.002243")
    assert round(literal, 2) == D("909.66")
    assert by_formula(D("1.4915")) < 19


# Worked examples on the same table: midway, temperature corrected, and the rounding of 18.6.
@pytest.mark.parametrize(
    ("index", "celsius", "percent", "unrounded"),
    [
        ("1.4915", None, "18.0", "18"),
        ("1.4740", None, "25.0", "25"),
        ("1.49125", None, "18.1", "18.1"),
        ("1.4930", "15", "17.9", "17.86"),
        ("1.4900", "20", "18.6", "18.6"),
        ("1.4899", None, "18.6", "18.64"),
    ],
)
def test_readings_between_the_rows_and_away_from_20_degrees(index, celsius, percent, unrounded):
    reading = from_index(D(index), D(celsius) if celsius else None)
    assert (reading.percent, reading.unrounded) == (D(percent), D(unrounded))


# Brix through the refractive index; 100 less Brix would be 20.0 and 18.6.
@pytest.mark.parametrize(("brix", "percent"), [("80.0", "18.31"), ("81.4", "16.87")])
def test_brix_is_not_a_hundred_less_the_moisture(brix, percent):
    reading = from_brix(D(brix))
    assert abs(reading.unrounded - D(percent)) <= D("0.05")
    assert any("100 − Brix" in note for note in reading.notes)
    assert any("soluble solids" in note for note in reading.notes)


def test_the_sucrose_scale_is_the_one_a_chemistry_library_carries():
    refractivity = pytest.importorskip("chemicals.refractivity")
    for brix, index in sucrose_rows():
        assert refractivity.brix_to_RI(float(brix)) == pytest.approx(float(index), abs=1e-9)


def test_moisture_and_brix_add_up_to_about_98_3():
    refractivity = pytest.importorskip("chemicals.refractivity")
    for row in TABLE["row"]:
        brix = refractivity.RI_to_brix(float(row["index"]))
        assert abs(brix - float(row["brix"])) < 0.006
        assert 98.1 < brix + float(row["moisture"]) < 98.5


@given(st.decimals(min_value="1.4740", max_value="1.5044", places=5))
def test_a_higher_index_never_means_more_water(index):
    assert from_index(index).unrounded >= from_index(min(index + D("0.00001"), D("1.5044"))).unrounded


@given(st.decimals(min_value="1.4741", max_value="1.5043", places=5))
def test_the_table_and_the_formula_never_part_by_more_than_a_reading(index):
    # One unit of the fourth decimal is worth 0.039 % of water; straight lines stay within the rows' own 0.022.
    assert abs(from_index(index).unrounded - by_formula(index)) < D("0.025")


def test_beyond_the_table_the_formula_is_used_and_says_so():
    dry, wet = from_index(D("1.5060")), from_index(D("1.4730"))
    assert D("12") < dry.unrounded < 13 and D("25") < wet.unrounded < D("26")
    for reading in (dry, wet):
        assert reading.sure == "reckoned"
        assert "formula" in reading.method
        assert any("estimate" in note for note in reading.notes)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("18.0", "looks like a moisture"),
        ("80.3", "looks like a Brix"),
        ("14915", "1.4915?"),
        ("0.4915", "1.4915?"),
        ("1.333", "far from what honey shows"),
        ("1.4500", "% water"),
    ],
)
def test_an_index_that_is_something_else_is_recognised(typed, words):
    with pytest.raises(NotARefractiveIndex) as refused:
        from_index(D(typed))
    assert words in refused.value.what


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("17.6", "typed as Brix"),
        ("1.4915", "looks like a refractive index"),
        ("0.803", "80.3?"),
        ("45", "from 70 to 87"),
    ],
)
def test_a_brix_that_is_something_else_is_recognised(typed, words):
    with pytest.raises(NotABrix) as refused:
        from_brix(D(typed))
    assert words in refused.value.what


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("82", "solids (then the moisture is 18 %)"),
        ("82", "Brix reading (then it is about 16.3 %)"),
        ("0.176", "17.6 %"),
        ("1.4915", "refractive index"),
        ("45", "13 and 25"),
        ("-3", "13 and 25"),
    ],
)
def test_a_moisture_that_is_something_else_is_recognised(typed, words):
    with pytest.raises(NotAMoisture) as refused:
        checked(D(typed))
    assert words in refused.value.what


@pytest.mark.parametrize("celsius", ["5", "45"])
def test_a_reading_too_cold_or_too_hot_to_correct_is_refused(celsius):
    with pytest.raises(TemperatureOutOfReach):
        from_index(D("1.4915"), D(celsius))
