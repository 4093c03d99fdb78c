"""Code 128 by the hundred: sign for sign what python-barcode draws one by one, and read by a decoder."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labelkit.barcodes.linear import KINDS, Bars, code128, code128_patterns
from labelkit.barcodes.many_bars import signs_of
from labelkit.errors.labels import CharactersNotEncodable
from tests.barcodes.test_linear import read_modules
from tests.walks import examples

printable = st.text(st.characters(min_codepoint=32, max_codepoint=126), min_size=1, max_size=24)


def modules(signs: bytes) -> str:
    return "".join(code128_patterns()[sign] for sign in signs)


@settings(max_examples=examples(60), deadline=None)
@given(
    st.lists(st.one_of(printable, st.text("0123456789", min_size=1), st.text("L0123456789A", min_size=1)), max_size=8)
)
@example(["991234", "99A1", "1", "12A", "L26195AXR", "L26195A22"])
def test_many_are_drawn_as_each_is_alone(texts):
    assert [modules(signs) for signs in signs_of(texts)] == [code128(text).modules for text in texts]


def test_a_check_reckoned_by_hand():
    """104 + 48 + 2x42 + 3x42 + 4x17 + 5x18 + 6x19 + 7x35 is 879, over 103 leaves 55.

    The textbooks' PJJ123C begins with start A, 103, and so has 54.
    """
    assert list(signs_of(["PJJ123C"])[0]) == [104, 48, 42, 42, 17, 18, 19, 35, 55, 106]


def test_what_is_drawn_reads_back():
    texts = [f"L26{day:03}A{mark}" for day in range(1, 60) for mark in ("XR", "22", "7K")]
    for text, signs in zip(texts, signs_of(texts), strict=True):
        assert [found.text for found in read_modules(Bars(KINDS["Code 128"], modules(signs), text))] == [text]


@pytest.mark.parametrize("text", ["", "Miel d’été", "L1\n"])
def test_signs_without_bars_are_refused_among_many_too(text):
    with pytest.raises(CharactersNotEncodable):
        signs_of(["L26195AXR", text])
