"""Bars against published patterns, a second encoder (zxing-cpp's writer) and a decoder."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.barcodes.dots import Module, snapped
from labelkit.barcodes.elements import case_number, encoded
from labelkit.barcodes.linear import (
    KINDS,
    code128,
    ean8,
    ean13,
    for_number,
    gs1_128,
    must_fit_jar,
    upca,
    widest_on_jar,
)
from labelkit.errors.labels import (
    BarsTooLong,
    CharactersNotEncodable,
    CheckDigitWrong,
    ElementRefused,
    ModuleOutOfRange,
    TooWideForJar,
)
from labelkit.measures import Length
from tests.walks import examples


def read_modules(bars, module_px=3):
    """What zxing-cpp reads off a clean picture of the modules, quiet zones included."""
    import zxingcpp
    from PIL import Image

    left, right = bars.kind.quiet
    row = b"".join((b"\x00" if m == "1" else b"\xff") * module_px for m in "0" * left + bars.modules + "0" * right)
    picture = Image.frombytes("L", (len(row), 60), row * 60)
    return zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.AllLinear)


def test_an_ean_13_has_the_published_pattern():
    """5901234123457, the worked example most references of ISO/IEC 15420 print."""
    assert ean13("5901234123457").modules == (
        "10100010110100111011001100100110111101001110101010110011011011001000010101110010011101000100101"
    )


def test_a_code_128_has_eleven_modules_a_sign_and_thirteen_to_stop():
    """ISO/IEC 15417: symbols times 11, plus 13; start and check count as symbols."""
    assert len(code128("L26195K").modules) == 11 * 9 + 13


@pytest.mark.parametrize("make", [ean13, upca, ean8])
def test_till_symbols_agree_module_for_module_with_a_second_encoder(make):
    import zxingcpp

    number, sort = {
        ean13: ("9521234543213", zxingcpp.BarcodeFormat.EAN13),
        upca: ("036000241457", zxingcpp.BarcodeFormat.UPCA),
        ean8: ("95012346", zxingcpp.BarcodeFormat.EAN8),
    }[make]
    image = zxingcpp.create_barcode(number, sort).to_image(scale=1, add_quiet_zones=False, add_hrt=False)
    row = memoryview(image).tobytes()[: memoryview(image).shape[1]]
    assert make(number).modules == "".join("1" if level == 0 else "0" for level in row)


@settings(max_examples=examples(60), deadline=None)
@given(st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=14))
def test_every_printable_text_reads_back_from_its_bars(text):
    assert [found.text for found in read_modules(code128(text)) if found.text == text] == [text]


@pytest.mark.parametrize("text", ["991234", "99A1", "9912", "99"])
def test_a_text_that_begins_with_99_keeps_it(text):
    """99 is also the change to set C; the encoder underneath once took the one for the other."""
    assert [found.text for found in read_modules(code128(text))] == [text]


def test_gs1_bars_announce_themselves_and_read_back():
    bars = gs1_128((("02", "09521234543213"), ("37", "12"), ("00", "395212345432100011")))
    found = read_modules(bars)[0]
    assert found.symbology_identifier == "]C1"
    assert found.text == "(02)09521234543213(37)12(00)395212345432100011"


def test_a_module_is_a_whole_number_of_dots():
    """GS1 General Specifications: 0.330 mm is 4 dots at 300 and 8 at 600 dpi, both 0.3387 mm."""
    least, usual = KINDS["EAN-13"].least_x, KINDS["EAN-13"].usual_x
    for dpi, dots in ((203, 3), (300, 4), (600, 8), (1200, 16)):
        assert snapped(usual, dpi, least) == Module(dots, dpi)
    assert Module(4, 300).mm == Decimal("0.3387")


def test_three_dots_at_300_dpi_are_never_used_for_a_till_symbol():
    """0.254 mm is under the least of 0.264 mm (GS1 Sweden, Guidelines for size)."""
    assert snapped(Length.of_mm("0.254"), 300, KINDS["EAN-13"].least_x).dots == 4
    with pytest.raises(ModuleOutOfRange, match="no whole number of dots at 100 dpi"):
        snapped(Length.of_mm("0.330"), 100, Length.of_mm("0.26"), Length.of_mm("0.5"))


@given(st.integers(100, 1600), st.integers(150, 1200))
def test_the_snapped_module_is_never_under_the_least(dpi, um):
    least = Length(um)
    module = snapped(least, dpi, least)
    assert module.dots * 25400 >= um * dpi > (module.dots - 1) * 25400


@pytest.mark.parametrize(("diameter", "widest"), [(45, "23.6"), (50, "26.2"), (60, "31.4"), (63, "33.0"), (82, "42.9")])
def test_bars_cover_at_most_a_sixth_of_the_way_round(diameter, widest):
    """GS1 General Specifications 6.2.3.2 (from memory): under 30 degrees from the middle to either end."""
    assert widest_on_jar(Length.of_mm(diameter)).mm.quantize(Decimal("0.1")) == Decimal(widest)


def test_a_symbol_too_wide_for_the_jar_is_refused_with_what_would_fit():
    with pytest.raises(TooWideForJar, match="the maximum is") as told:
        must_fit_jar(ean13("9521234543213"), Module(8, 600), Length.of_mm(45))
    assert "ladder" in told.value.do and "0.248" in told.value.do
    must_fit_jar(ean13("9521234543213"), Module(8, 600), Length.of_mm(63))


@pytest.mark.parametrize("text", ["", "Grüße", "蜜", "a\tb"])
def test_signs_outside_the_symbol_are_refused(text):
    with pytest.raises(CharactersNotEncodable):
        code128(text)


def test_a_number_of_another_length_or_with_a_slip_is_refused():
    with pytest.raises(CharactersNotEncodable):
        ean13("95012346")
    with pytest.raises(CheckDigitWrong):
        for_number("9521234543214")
    assert for_number("95012346").kind.name == "EAN-8"


@pytest.mark.parametrize(
    ("elements", "data"),
    [
        ((("01", "12345678901231"), ("10", "12345")), "01123456789012311012345"),
        ((("01", "09521234543213"), ("3103", "000340"), ("10", "L26195K")), "0109521234543213310300034010L26195K"),
        ((("01", "09521234543213"), ("422", "380"), ("10", "A")), "0109521234543213422380\x1d10A"),
    ],
)
def test_separators_stand_only_behind_identifiers_of_free_length(elements, data):
    """GS1 Barcode Syntax Engine, tests of ai.c; 422 is fixed but not predefined, so it needs one."""
    assert encoded(elements) == data


@pytest.mark.parametrize(
    "elements",
    [
        (("10", "12345"),),
        (("99", "1"),),
        (("01", "09521234543213"), ("10", "ABC ")),
        (("01", "09521234543213"), ("10", "AB#1")),
        (("01", "09521234543213"), ("15", "261301")),
        (("02", "09521234543213"),),
    ],
)
def test_elements_the_dictionary_forbids_are_refused(elements):
    """GS1 Barcode Syntax Dictionary: required companions, character set 82, dates."""
    with pytest.raises(ElementRefused):
        encoded(elements)


def test_a_case_number_comes_from_the_jar_number_with_a_new_check_digit():
    assert case_number("9521234543213", 1)[:13] == "1952123454321"
    with pytest.raises(ElementRefused):
        case_number("9521234543213", 9)


def test_more_than_48_characters_are_refused():
    with pytest.raises(BarsTooLong):
        gs1_128((("01", "09521234543213"), ("21", "A" * 20), ("10", "B" * 20)))
