"""QR Codes and Data Matrix codes against a second encoder (segno), a decoder, and published links."""

from __future__ import annotations

import pytest

from labelkit.barcodes.matrix import data_matrix, digital_link, gs1_data_matrix, qr
from labelkit.errors.labels import MatrixCodeRefused

TEXTS = ["HTTPS://EXAMPLE.COM/L/L26195K", "https://example.com/l/L26195AXR", "L26195AXR", "Miel d’été, 453 g", "1" * 40]


def read(squares, scale=4):
    import zxingcpp
    from PIL import Image

    quiet = squares.quiet
    width = squares.wide + 2 * quiet
    light = [False] * width
    rows = (
        [light] * quiet
        + [[False] * quiet + list(map(bool, row)) + [False] * quiet for row in squares.rows]
        + [light] * quiet
    )
    flat = bytes(0 if dark else 255 for row in rows for dark in row)
    picture = Image.frombytes("L", (width, len(rows)), flat).resize((width * scale, len(rows) * scale), Image.NEAREST)
    return zxingcpp.read_barcode(picture)


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("level", "LMQH")
def test_no_symbol_is_larger_than_a_second_encoder_makes_it(text, level):
    """It may be smaller: zxing-cpp changes mode within a text where that saves squares, segno does not."""
    segno = pytest.importorskip("segno")
    other = segno.make(text, error=level.lower(), micro=False, boost_error=False)
    assert qr(text, level).wide <= other.symbol_size(border=0)[0]


@pytest.mark.parametrize("text", ["HTTPS://EXAMPLE.COM/L/L26195K", "L26195AXR", "HTTP://EXAMPLE.ORG/ABC-1"])
def test_the_modules_are_those_of_a_second_encoder_under_some_mask(text):
    """The eight masks of ISO/IEC 18004 differ, and a symbol with room left may be given a stronger level.

    Texts of one mode only: where modes mix, the two encoders cut the text at other places.
    """
    segno = pytest.importorskip("segno")
    ours = qr(text).rows
    tries = (
        segno.make(text, error=level, mask=mask, boost_error=False, micro=False) for level in "mqh" for mask in range(8)
    )
    assert any(tuple(bytes(module in (1, True) for module in row) for row in made.matrix) == ours for made in tries)


@pytest.mark.parametrize("make", [qr, data_matrix])
@pytest.mark.parametrize("text", TEXTS)
def test_squares_read_back(make, text):
    assert read(make(text)).text == text


def test_gs1_data_matrix_announces_itself():
    found = read(gs1_data_matrix((("01", "09521234543213"), ("10", "L26195AXR"))))
    assert (found.symbology_identifier, found.text) == ("]d2", "(01)09521234543213(10)L26195AXR")


def test_links_follow_the_published_form():
    """GS1 Digital Link: URI Syntax; the Barcode Syntax Engine's tests for the plus sign."""
    assert digital_link("09521234543213", "L26195K") == "https://id.gs1.org/01/09521234543213/10/L26195K"
    assert (
        digital_link("12312312312333", "ABC+123", "https://example.com/")
        == "https://example.com/01/12312312312333/10/ABC%2B123"
    )


def test_a_text_no_phone_could_read_off_a_jar_is_refused():
    with pytest.raises(MatrixCodeRefused, match="holds 300 bytes"):
        qr("x" * 300)
    with pytest.raises(MatrixCodeRefused):
        data_matrix("")
