"""Weights as people and spreadsheets write them; a slip is recognised and asked about, never used."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.filling import (
    TareImpossible,
    UnitUnclear,
    WeightFarFromLabel,
    WeightsInMixedUnits,
    WeightUnclear,
)
from labelkit.measures import Mass
from labelkit.reading.weight_list import of_file, of_options
from labelkit.reading.weights import read_tare, read_weights
from labelkit.run.check_weighing.gross import net_of_gross

POUND = Mass.read("1 lb", "en_US")
JAR = Mass.read("340 g", "en_US")


def grams(text: str, label: Mass = POUND, locale: str = "en_US", tare: Mass | None = None) -> list[Decimal]:
    return [mass.g for mass in read_weights(of_file(text), label, locale, tare)[0]]


@pytest.mark.parametrize(
    ("text", "locale", "expected"),
    [
        ("453.6 g\n454.1 g\n", "en_US", ["453.6", "454.1"]),
        ("453.6\n454.1\n", "en_US", ["453.6", "454.1"]),
        ("\ufeff453,6\r\n454,1\r\n", "de_DE", ["453.6", "454.1"]),
        ("453.6 454.1\n", "en_US", ["453.6", "454.1"]),
        ("453.6, 454.1\n", "en_US", ["453.6", "454.1"]),
        ("453,6  454,1\n", "de_DE", ["453.6", "454.1"]),
        ("# one pound, 14 July\n453.6\n\n454.1\n", "en_US", ["453.6", "454.1"]),
        ("net (g)\n453.6\n454.1\n", "en_US", ["453.6", "454.1"]),
        ("jar,net (g)\n1,453.6\n2,454.1\n", "en_US", ["453.6", "454.1"]),
        ("Glas;Gewicht g\n1;453,6\n2;454,1\nSumme;907,7\n", "de_DE", ["453.6", "454.1"]),
        ("jar\tgross\tnote\n1\t453.6\t\n2\t454.1\tlid dented\n", "en_US", ["453.6", "454.1"]),
        ("jar,mass_g\n1,453.6\n2,454.1\n", "en_US", ["453.6", "454.1"]),
        ("weight [kg]\n0.4536\n0.4541\n", "en_US", ["453.6", "454.1"]),
        ("1 lb 0.1 oz\n16.2 oz\n", "en_US", None),
        ("jar,net\n1,453.6\n2,454.1\nMean,453.85\n", "en_US", ["453.6", "454.1"]),
    ],
)
def test_lists_and_tables_of_many_habits(text, locale, expected):
    if expected is None:
        with pytest.raises(WeightsInMixedUnits):
            grams(text, locale=locale)
    else:
        assert grams(text, locale=locale) == [Decimal(g) for g in expected]


@pytest.mark.parametrize(
    ("numbers", "unit", "first"),
    [
        ("16.02\n15.98\n", "ounces", "454.1"),
        ("1.001\n0.999\n", "pounds", "454"),
        ("0.4536\n0.4541\n", "kilograms", "453.6"),
    ],
)
def test_bare_numbers_are_read_in_the_one_unit_that_fits_and_it_is_said(numbers, unit, first):
    masses, notes = read_weights(of_file(numbers), POUND, "en_US")
    assert abs(masses[0].g - Decimal(first)) < Decimal("0.2")
    assert unit in notes[0]


def test_a_unit_is_never_taken_for_its_neighbour():
    # 1.1 beside a two-pound label: 1.1 kg is a fifth too much, 1.1 lb would be little more than half a jar.
    assert read_weights(of_options(["1.1", "1.05"]), Mass.read("2 lb", "en_US"), "en_US")[0][0] == Mass.read(
        "1.1 kg", "en_US"
    )


def test_grams_and_kilograms_on_one_scale_are_one_unit():
    assert [m.g for m in read_weights(of_options(["998 g", "1.002 kg"]), Mass.read("1 kg", "en_US"), "en_US")[0]] == [
        998,
        1002,
    ]


def test_pounds_and_ounces_together_are_one_weight():
    assert read_weights(of_options(["1 lb 0.5 oz"]), POUND, "en_US")[0][0] == Mass.read("16.5 oz", "en_US")


def test_a_weight_of_3_4_for_340_is_asked_about():
    with pytest.raises(WeightFarFromLabel) as refused:
        read_weights(of_options(["341", "339.5", "3.4"]), JAR, "en_US")
    assert "weight 3: 3.4" in refused.value.what and "Was 340 g meant?" in refused.value.what


def test_an_empty_jar_is_asked_about_and_not_averaged():
    with pytest.raises(WeightFarFromLabel):
        read_weights(of_options(["341 g", "20 g"]), JAR, "en_US")


def test_a_net_weight_among_gross_ones_is_asked_about():
    with pytest.raises(WeightFarFromLabel):
        read_weights(of_options(["552 g", "140 g"]), JAR, "en_US", tare=Mass.read("212 g", "en_US"))


@pytest.mark.parametrize(
    ("texts", "said"),
    [(["340 g", "12 oz"], "in ounces"), (["340 g", "341"], "no unit"), (["12.0", "340.5", "341"], "ounces")],
)
def test_mixed_units_are_asked_about(texts, said):
    with pytest.raises(WeightsInMixedUnits) as refused:
        read_weights(of_options(texts), JAR, "en_US")
    assert said in refused.value.what


def test_numbers_that_fit_no_unit_are_asked_about():
    with pytest.raises(UnitUnclear):
        read_weights(of_options(["77", "78"]), JAR, "en_US")


@pytest.mark.parametrize("text", ["abc", "3,4,0", "340 fl oz", "-340 g", "0", "1e400 g"])
def test_what_is_no_weight_is_refused_by_its_place(text):
    with pytest.raises((WeightUnclear, WeightsInMixedUnits)) as refused:
        read_weights(of_options([text]), JAR, "en_US")
    assert "weight 1" in refused.value.what


def test_decimal_commas_are_read_where_the_locale_writes_them_and_refused_where_not():
    assert read_weights(of_options(["340,5 g"]), JAR, "de_DE")[0][0].g == Decimal("340.5")
    with pytest.raises(WeightUnclear):
        read_weights(of_options(["340,5 g"]), JAR, "en_US")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1;340;552\n2;341;553\n", "several columns and no heading"),
        ("jar;note\n1;good\n", "no column is called"),
        ("jar;net (g)\n1;340\n2;\nx;;9\n", "the weight is missing"),
    ],
)
def test_a_table_whose_weights_cannot_be_found_is_refused_by_line(text, said):
    with pytest.raises(WeightUnclear) as refused:
        of_file(text, "weights.csv")
    assert said in refused.value.what and "weights.csv, line" in refused.value.what


def test_an_empty_file_has_no_weights():
    assert of_file("\n# nothing yet\n") == ()


@pytest.mark.parametrize("text", ["-5 g", "0 g", "40 kg"])
def test_a_tare_that_cannot_be_is_refused(text):
    with pytest.raises(TareImpossible):
        read_tare(text, JAR, "en_US")


def test_a_full_jar_no_heavier_than_an_empty_one_is_refused():
    with pytest.raises(TareImpossible):
        net_of_gross(
            [Mass.read("552 g", "en_US"), Mass.read("212 g", "en_US")],
            Decimal(340),
            Mass.read("212 g", "en_US"),
            Decimal("0.1"),
        )


@given(st.lists(st.integers(3300, 3500), min_size=1, max_size=40))
def test_a_list_comes_back_as_it_was_written(tenths):
    text = "".join(f"{Decimal(t) / 10} g\n" for t in tenths)
    assert grams(text, JAR) == [Decimal(t) / 10 for t in tenths]


@given(st.text(max_size=60))
def test_no_text_breaks_the_reader(text):
    from labelkit.errors import Refused

    try:
        read_weights(of_file(text), JAR, "en_US")
    except Refused as refusal:
        assert refusal.what and refusal.do
