"""GS1 check digits against published numbers, another library, and the law of the weights."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.barcodes.gs1 import DATA_DIGITS, checked, with_check_digit
from labelkit.errors.labels import CheckDigitWrong, DigitsUnclear

PUBLISHED = [
    ("629104150021", "3", "GS1 Hong Kong, check digit page"),
    ("03600024145", "7", "worked UPC-A example in general references"),
    ("123456789012", "8", "GS1 Barcode Syntax Dictionary, tests of lint_csum.c"),
    ("1234567890123", "1", "GS1 Barcode Syntax Dictionary, tests of lint_csum.c"),
    ("952123454321", "3", "GS1 Barcode Syntax Engine, example number"),
    ("950110153100", "0", "biip, docstring of gs1_standard_check_digit"),
    ("9501234", "6", "biip, docstring of gs1_standard_check_digit"),
]


@pytest.mark.parametrize(("digits", "check", "source"), PUBLISHED)
def test_published_numbers_get_their_published_check_digit(digits, check, source):
    assert with_check_digit(digits) == digits + check


@given(st.sampled_from(sorted(DATA_DIGITS)).flatmap(lambda n: st.text("0123456789", min_size=n, max_size=n)))
def test_the_weighted_sum_of_a_whole_number_is_a_multiple_of_ten(digits):
    """The rule as GS1 General Specifications 7.9.1 words it, reckoned a second way."""
    whole = with_check_digit(digits)
    assert sum(int(d) * (3, 1)[place % 2] for place, d in enumerate(reversed(whole[:-1]))) % 10 == -int(whole[-1]) % 10


@given(st.text("0123456789", min_size=12, max_size=12))
def test_the_digit_agrees_with_another_library(digits):
    biip = pytest.importorskip("biip.checksums")
    assert with_check_digit(digits)[-1] == str(biip.gs1_standard_check_digit(digits))


@pytest.mark.parametrize("text", ["", "12345", "1" * 14, "62910415002X", "٦٢٩١٠٤١٥٠٠٢١", "1.5"])
def test_other_lengths_and_other_signs_are_refused(text):
    with pytest.raises(DigitsUnclear):
        with_check_digit(text)


def test_a_mistyped_number_is_told_apart_from_a_right_one():
    assert checked("6291041500213") == "6291041500213"
    with pytest.raises(CheckDigitWrong, match="ends in 4"):
        checked("6291041500214")
