"""What a producer types is understood exactly. The oracle is pint's own full registry, which the code does not use."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.measures import Length, Mass, read_area, read_temperature, read_volume
from labelkit.measures.numerals import read_day
from labelkit.measures.rounding import DOWN, HALF_EVEN, HALF_UP, UP, down_to_milligram, plain, significant, to_step
from labelkit.measures.units import AREA, LENGTH, MASS, VOLUME, read_quantity


@cache
def oracle():
    return pint.UnitRegistry(non_int_type=Decimal)


# Our spelling of each unit, and the oracle's.
FACTORS = [
    ("mg", "milligram", MASS, "gram"),
    ("g", "gram", MASS, "gram"),
    ("kg", "kilogram", MASS, "gram"),
    ("oz", "ounce", MASS, "gram"),
    ("lb", "pound", MASS, "gram"),
    ("ml", "milliliter", VOLUME, "milliliter"),
    ("cl", "centiliter", VOLUME, "milliliter"),
    ("dl", "deciliter", VOLUME, "milliliter"),
    ("l", "liter", VOLUME, "milliliter"),
    ("fl oz", "US_fluid_ounce", VOLUME, "milliliter"),
    ("cup", "cup", VOLUME, "milliliter"),
    ("tbsp", "tablespoon", VOLUME, "milliliter"),
    ("tsp", "teaspoon", VOLUME, "milliliter"),
    ("pt", "US_pint", VOLUME, "milliliter"),
    ("qt", "US_liquid_quart", VOLUME, "milliliter"),
    ("gal", "US_liquid_gallon", VOLUME, "milliliter"),
    ("imp fl oz", "imperial_fluid_ounce", VOLUME, "milliliter"),
    ("imp pt", "imperial_pint", VOLUME, "milliliter"),
    ("imp gal", "imperial_gallon", VOLUME, "milliliter"),
    ("mm", "millimeter", LENGTH, "micrometer"),
    ("cm", "centimeter", LENGTH, "micrometer"),
    ("m", "meter", LENGTH, "micrometer"),
    ("in", "inch", LENGTH, "micrometer"),
    ("pt", "point", LENGTH, "micrometer"),
    ("mm^2", "millimeter**2", AREA, "millimeter**2"),
    ("cm^2", "centimeter**2", AREA, "millimeter**2"),
    ("sq in", "inch**2", AREA, "millimeter**2"),
]


@pytest.mark.parametrize(("ours", "theirs", "kind", "base"), FACTORS, ids=[f"{f[0]} ({f[2].name})" for f in FACTORS])
def test_every_unit_means_what_the_full_registry_says(ours, theirs, kind, base):
    expected = oracle().Quantity(Decimal(1), theirs).to(base).magnitude
    assert abs(read_quantity(f"1 {ours}", kind, "en_US") - expected) <= expected * Decimal("1e-20")


def test_every_gram_from_1_to_5000_converts_both_ways_as_the_full_registry_does():
    ounce = oracle().Quantity(Decimal(1), "ounce").to("gram").magnitude
    pound = oracle().Quantity(Decimal(1), "pound").to("gram").magnitude
    for grams in range(1, 5001):
        mass = Mass.read(f"{grams} g", "en_US")
        assert mass.mg == grams * 1000
        assert abs(mass.oz * ounce - grams) < Decimal("1e-20")
        assert abs(mass.lb * pound - grams) < Decimal("1e-20")
        assert abs(Mass.read(f"{mass.oz:.12f} oz", "en_US").mg - mass.mg) <= 1
        assert Mass.read(f"{grams} lb", "en_US").mg == int(grams * pound * 1000)
        assert Mass.read(f"{grams} oz", "en_US").mg == int(grams * ounce * 1000)


SPELLINGS = [
    ("1 lb 8 oz", Decimal("680.388555")),
    ("1lb 8oz", Decimal("680.388555")),
    ("1 LB, 8 OZ", Decimal("680.388555")),
    ("1.5 lbs", Decimal("680.388555")),
    ("1 1/2 lb", Decimal("680.388555")),
    ("1½ lb", Decimal("680.388555")),
    ("24 ounces", Decimal("680.388555")),
    ("½ lb", Decimal("226.796185")),
    ("8 oz.", Decimal("226.796185")),
    ("3/4 pound", Decimal("340.1942775")),
    ("62 lb 3 oz", 62 * Decimal("453.59237") + 3 * Decimal("28.349523125")),
    ("28.4 kg", Decimal(28400)),
    ("28.4kg", Decimal(28400)),
    ("2 kilos", Decimal(2000)),
    ("1,234.5 g", Decimal("1234.5")),
    ("400 grammes", Decimal(400)),
]


@pytest.mark.parametrize(("text", "grams"), SPELLINGS, ids=[s[0] for s in SPELLINGS])
def test_weights_are_understood_as_people_write_them(text, grams):
    assert read_quantity(text, MASS, "en_US") == grams


LOCALES = [
    ("12,7 kg", "de_DE", 12700),
    ("12.7 kg", "de_DE", 12700),
    ("1.234,5 g", "de_DE", Decimal("1234.5")),
    ("1.234 g", "de_DE", 1234),
    ("1.234 g", "en_US", Decimal("1.234")),
    ("12,7 kg", "fr_FR", 12700),
    ("1\u202f234,5 g", "fr_FR", Decimal("1234.5")),
    ("12,7 kg", "pl_PL", 12700),
    ("1’234.5 g", "de_CH", Decimal("1234.5")),
    ("12,7 kg", "uk_UA", 12700),
]


@pytest.mark.parametrize(("text", "locale", "grams"), LOCALES, ids=[f"{x[0]} {x[1]}" for x in LOCALES])
def test_the_decimal_mark_is_the_reader_s_own(text, locale, grams):
    assert read_quantity(text, MASS, locale) == grams


def test_a_bare_temperature_is_celsius_and_fahrenheit_says_so():
    assert read_temperature("20", "en_US") == 20
    assert read_temperature("95 F", "en_US") == 35
    assert read_temperature("-40 °F", "en_US") == -40
    assert read_temperature("37,5 °C", "de_DE") == Decimal("37.5")


def test_lengths_areas_and_volumes_are_understood():
    assert Length.read("2 1/2 in", "en_US").um == 63500
    assert Length.read('3.5"', "en_US").um == 88900
    assert Length.read("9 pt", "en_US").um == 3175
    assert read_area("13 sq in", "en_US") == Decimal("8387.08")
    assert read_volume("5 gal", "en_US") == Decimal("18927.05892")


def test_days_in_figures_are_read_as_the_locale_writes_them():
    from datetime import date

    assert read_day("14.07.2026", "de_DE") == read_day("14/07/2026", "fr_FR") == date(2026, 7, 14)
    assert read_day("7/14/2026", "en_US") == date(2026, 7, 14)


def test_sixty_one_pound_jars_come_out_of_a_sixty_pound_bucket():
    assert Mass.read("60 lb", "en_US") // Mass.read("1 lb", "en_US") == 60
    assert Mass.read("60 lb", "en_US") // Mass.read("5 lb", "en_US") == 12


@given(st.decimals(min_value=0, max_value=10**6, places=6), st.integers(min_value=1, max_value=500))
def test_rounding_down_never_loses_a_jar(grams, jars):
    assert jars * down_to_milligram(grams) <= down_to_milligram(jars * grams)


def test_the_named_roundings_round_as_they_are_named():
    assert to_step(Decimal("2.5"), Decimal(1), HALF_EVEN) == 2
    assert to_step(Decimal("2.5"), Decimal(1), HALF_UP) == 3
    assert to_step(Decimal("11.25"), Decimal("0.1"), UP) == Decimal("11.3")
    assert to_step(Decimal("-0.1"), Decimal(1), DOWN) == -1
    assert significant(Decimal("1247.379"), 3, DOWN) == 1240
    assert significant(Decimal("0.00123456"), 3, DOWN) == Decimal("0.00123")
    assert significant(Decimal(0), 3, DOWN) == 0


def test_json_numbers_carry_no_exponent_and_no_idle_zeros():
    assert [plain(Decimal(t)) for t in ("2.84E+7", "1.500", "100", "0E-9", "-0.0")] == [
        "28400000",
        "1.5",
        "100",
        "0",
        "0",
    ]
