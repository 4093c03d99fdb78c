"""The symbol characters of a Code 128: what python-barcode draws, and what a decoder reads."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labelkit.barcodes.linear import KINDS, Barcode, code128, code128_patterns, code128_values
from labelkit.errors.labels import CharactersNotEncodable
from tests.barcodes.test_linear import read_modules
from tests.walks import examples

printable = st.text(st.characters(min_codepoint=32, max_codepoint=126), min_size=1, max_size=24)


def modules(text: str) -> str:
    return "".join(code128_patterns()[value] for value in code128_values(text))


@settings(max_examples=examples(400), deadline=None)
@given(st.one_of(printable, st.text("0123456789", min_size=1), st.text("L0123456789A", min_size=1)))
@example("991234")
@example("99A1")
@example("1")
@example("12A")
@example("L26195A22")
def test_the_values_draw_the_modules_of_python_barcode(text):
    assert modules(text) == code128(text).modules


def test_a_check_reckoned_by_hand():
    """104 + 48 + 2x42 + 3x42 + 4x17 + 5x18 + 6x19 + 7x35 is 879, over 103 leaves 55.

    The textbooks' PJJ123C begins with start A, 103, and so has 54.
    """
    assert list(code128_values("PJJ123C")) == [104, 48, 42, 42, 17, 18, 19, 35, 55, 106]


def test_what_is_drawn_reads_back():
    texts = [f"L26{day:03}A{mark}" for day in range(1, 60) for mark in ("XR", "22", "7K")]
    for text in texts:
        assert [found.text for found in read_modules(Barcode(KINDS["Code 128"], modules(text), text))] == [text]


@pytest.mark.parametrize("text", ["", "Miel d’été", "L1\n"])
def test_characters_without_bars_have_no_values_either(text):
    with pytest.raises(CharactersNotEncodable):
        code128_values(text)
