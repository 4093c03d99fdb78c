"""What is printed in a locale is read back in that locale: every locale of the Unicode CLDR that babel carries.

The figures themselves (which apostrophe, which space) belong to CLDR and change with it, so none stands here: what is
shown is read, and compared with what was shown.
"""

from __future__ import annotations

import unicodedata
from decimal import Decimal

import pytest
from babel import localedata, numbers
from hypothesis import example, given
from hypothesis import strategies as st

from labelkit.errors.measures import NumberUnclear
from labelkit.measures import Length, Mass, Money, read_number, read_percent, show_both, show_customary, show_metric
from labelkit.measures.locales import decimal_marks, group_marks, locale_of, show_number, show_percent
from labelkit.measures.numerals import fold
from labelkit.measures.rounding import HALF_UP, to_step
from labelkit.measures.units import MASS, read_quantity

EVERY = sorted(localedata.locale_identifiers())
LOCALES = st.sampled_from(EVERY)
# Every sign of the Unicode Character Database that is a space (Zs), but for the one that is drawn (Ogham).
SPACES = [chr(n) for n in range(0x3001) if unicodedata.category(chr(n)) == "Zs" and n != 0x1680]


@given(st.integers(min_value=50, max_value=10**11), LOCALES)
def test_a_mass_shown_in_metric_units_is_read_back_to_the_step_shown(mg, locale):
    step = 1000 if mg >= 1_000_000 else 100
    shown = show_metric(Mass(mg), locale)
    assert Mass.read(shown, locale).mg == to_step(Decimal(mg), Decimal(step), HALF_UP)


@given(st.integers(min_value=1, max_value=10**7), LOCALES)
def test_a_mass_shown_in_pounds_and_ounces_is_read_back_to_the_tenth_of_an_ounce(tenths, locale):
    shown = show_customary(Mass.read(f"{Decimal(tenths) / 10} oz", "en_US"), locale)
    assert read_quantity(shown, MASS, locale) == Decimal(tenths) / 160 * Decimal("453.59237")


@given(st.integers(min_value=1, max_value=10**8), LOCALES)
def test_a_length_shown_is_read_back_to_the_micrometre(um, locale):
    assert Length.read(Length(um).show(locale), locale) == Length(um)


@given(st.integers(min_value=-(10**11), max_value=10**11), st.sampled_from(sorted(numbers.list_currencies())), LOCALES)
@example(-125_000, "CHF", "de_CH")
@example(123_456_789, "EUR", "de_AT")
def test_money_shown_is_read_back_to_the_smallest_coin(minor, currency, locale):
    assert Money.read(Money(minor, currency).show(locale), currency, locale) == Money(minor, currency)


@given(st.integers(min_value=-(10**7), max_value=10**7), LOCALES)
def test_a_per_cent_shown_is_read_back_to_the_tenth(tenths, locale):
    assert read_percent(show_percent(Decimal(tenths) / 10, locale), locale) == Decimal(tenths) / 10


@given(st.integers(min_value=-(10**12), max_value=10**12), LOCALES)
def test_a_number_in_the_digits_of_the_place_is_read(thousandths, locale):
    number = Decimal(thousandths) / 1000
    own = numbers.format_decimal(number, locale=locale_of(locale), numbering_system="default")
    assert read_number(own, locale) == read_number(show_number(number, locale), locale) == number


@pytest.mark.parametrize("locale", ["ar_EG", "fa_IR", "hi_IN", "mr_IN", "ne_NP", "bn_BD", "my_MM", "ur_PK"])
def test_native_digits_are_understood(locale):
    """Digits by the Unicode Character Database: every run of ten decimal digits there is."""
    for zero in (n for n in range(0x1FBFA) if unicodedata.decimal(chr(n), None) == 0):
        typed = "".join(chr(zero + int(digit)) for digit in "28")
        assert Mass.read(f"{typed} kg", locale).kg == 28


@pytest.mark.parametrize("space", SPACES, ids=[f"U+{ord(s):04X}" for s in SPACES])
def test_every_space_that_people_paste_is_a_space(space):
    assert read_quantity(f"2{space}1/2{space}lb", MASS, "en_US") == Decimal("1133.980925")
    assert read_quantity(f"{space}1{space}lb{space}8{space}oz", MASS, "en_US") == Decimal("680.388555")
    assert read_quantity(f"1{space}234,5{space}g", MASS, "fr_FR") == Decimal("1234.5")


@pytest.mark.parametrize("mark", ["'", "’"])
def test_both_apostrophes_group_where_the_locale_groups_so(mark):
    assert read_quantity(f"1{mark}234.5 g", MASS, "de_CH") == Decimal("1234.5")
    with pytest.raises(NumberUnclear):
        read_quantity(f"1{mark}234.5 g", MASS, "en_US")


def test_the_minus_of_the_printer_is_a_minus():
    assert read_number("−4,5", "de_DE") == Decimal("-4.5")


def test_a_german_s_thousands_are_thousands():
    assert Mass.read("12.500 g", "de_DE").g == 12500
    assert Mass.read("1.250,5 g", "de_DE").g == Decimal("1250.5")
    assert show_both(Mass.of_grams(27350), "de_DE") == "27,35 kg (60 lb 4,7 oz)"


def test_a_decimal_point_is_understood_where_it_cannot_mark_thousands_and_refused_where_it_can():
    assert read_number("12.5", "fr_FR") == read_number("12.50", "de_DE") == Decimal("12.5")
    assert read_number("0.125", "fr_FR") == read_number("0.125", "de_DE") == Decimal("0.125")
    with pytest.raises(NumberUnclear, match=r"12\.500") as refused:
        read_number("12.500", "fr_FR")
    assert "12500" in refused.value.do and "12,500" in refused.value.do


@pytest.mark.parametrize("text", ["12,50", "1,23,4", "1.2.3", "1,,234", "12.", "0,500"])
def test_marks_in_odd_places_are_refused_and_not_guessed(text):
    with pytest.raises(NumberUnclear):
        read_number(text, "en_US")


def test_no_mark_is_a_decimal_mark_and_a_thousands_mark_in_one_locale():
    for locale in EVERY:
        assert not set(map(fold, decimal_marks(locale))) & set(map(fold, group_marks(locale))), locale


@given(st.text(max_size=20), LOCALES)
def test_folding_is_done_once(text, locale):
    assert fold(fold(text)) == fold(text)
