"""Numbers for one's own till, against another library's reading of the same rules."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.barcodes.instore import is_own_till_number, own_till_number
from labelkit.barcodes.linear import for_number
from labelkit.errors.labels import DigitsUnclear


@given(st.integers(0, 10**10 - 1))
def test_an_own_number_is_read_as_restricted_to_one_company(article):
    """biip reads prefix 04 as restricted circulation within a company (GS1 General Specifications 1.4)."""
    biip = pytest.importorskip("biip")
    number = own_till_number(article)
    rcn = biip.parse(number).gtin
    assert rcn is not None and rcn.usage.name == "COMPANY"
    assert is_own_till_number(number) and for_number(number).kind.name == "EAN-13"


@pytest.mark.parametrize("article", ["", "12345678901", "1a", "１２"])
def test_an_article_number_that_does_not_fit_is_refused(article):
    with pytest.raises(DigitsUnclear, match="your own till"):
        own_till_number(article)


def test_numbers_of_the_trade_are_told_apart():
    """952 is GS1's prefix for examples; 4006381 and 0360002 are trade prefixes."""
    assert not is_own_till_number("9521234543213")
    assert not is_own_till_number("036000241457")
    assert is_own_till_number("20123451")
