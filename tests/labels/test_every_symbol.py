"""Every symbology on every design, read off the finished file by zxing-cpp: 300 dpi, 600 dpi, and 600 dpi through a blur."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labelkit.barcodes.instore import own_till_number
from labelkit.labels.design import NAMES, contrast, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.printing import print_sheet
from labelkit.labels.sheets import sheet as sheet_named
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BarcodeMark, MatrixMark
from tests.labels.looking import grounds
from tests.labels.samples import LINK, LOT, barred, label, linked, outline
from tests.labels.test_kinds import CASE
from tests.labels.test_printed import first_label, picture

LARGE = "a4-2x2-99x139"
SMALL = "letter-3x3-64x76"
#: Numbers whose check digits follow the GS1 General Specifications, section 7.9; 952 is GS1's prefix for examples.
EAN_13, EAN_8, UPC_A = "9521234543213", "95200002", "012345678905"
CASE_NUMBER = "19521234543210"


def back(number: str):
    return replace(barred(linked(label("us", "back"))), number=number)


#: What is printed, on which sheet, and what must be read: symbology and text.
SYMBOLS = {
    "EAN-13, Code 128 and QR Code": (back(EAN_13), LARGE, {"EAN-13": EAN_13, "Code 128": LOT, "QR Code": LINK}),
    "EAN-8": (back(EAN_8), LARGE, {"EAN-8": EAN_8}),
    # A decoder gives both in the thirteen figures of their EAN-13 form.
    "UPC-A": (back(UPC_A), LARGE, {"EAN-13": f"0{UPC_A}"}),
    "a number for one's own till": (back(own_till_number("7")), LARGE, {"EAN-13": own_till_number("7").zfill(13)}),
    "GS1-128 and GS1 DataMatrix": (
        CASE,
        LARGE,
        {
            "Code 128": f"(01){CASE_NUMBER}",
            "Data Matrix": f"(01){CASE_NUMBER}(10){LOT}",
        },
    ),
    # With as many words as leave the lot a place in every design.
    "Data Matrix": (
        replace(label("us").without("best_before", "address"), lot=LOT, lot_bars="datamatrix"),
        SMALL,
        {"Data Matrix": LOT},
    ),
}


def seen(pdf: bytes, which, dpi: int, blur: bool) -> dict[str, str]:
    import zxingcpp
    from PIL import ImageFilter

    image = first_label(picture(pdf, dpi), which, dpi)
    if blur:
        image = image.filter(ImageFilter.GaussianBlur(0.08 / 25.4 * dpi))
    return {str(one.format): one.text for one in zxingcpp.read_barcodes(image)}


@pytest.mark.exhaustive(one_in=24)
@pytest.mark.parametrize("what", SYMBOLS)
@pytest.mark.parametrize("look", NAMES)
def test_every_symbology_reads_off_the_page_in_every_design(look, what):
    content, name, expected = SYMBOLS[what]
    for dpi, blur in ((300, False), (600, False), (600, True)):
        found = seen(print_sheet([content], name, look, dpi=dpi).pdf, sheet_named(name), dpi, blur)
        assert expected.items() <= found.items(), (dpi, blur, found)


@pytest.mark.parametrize(("number", "groups"), [(EAN_13, 3), (UPC_A, 4), (EAN_8, 2)])
def test_the_figures_of_a_till_number_stand_as_its_standard_sets_them(number, groups):
    """GS1 General Specifications 5.2.2 and 5.2.5 (from memory): the first figure of an EAN-13, and the first and last of a
    UPC-A, stand outside the bars; guard bars are five modules longer; GS1 Sweden: 11 and 7, 9 and 9, 7 and 7 modules quiet."""
    placed = place(back(number), outline(LARGE), design("ember"))
    (till,) = [mark for mark in placed.marks if isinstance(mark, BarcodeMark) and mark.bars.text == number]
    figures = sorted((mark for mark in placed.marks if getattr(mark, "role", "") == "caption"), key=lambda mark: mark.x)
    assert "".join(mark.text for mark in figures) == number and len(figures) == groups
    dot = 25_400 / till.module.dpi
    bars = [(left * dot, low * dot, wide * dot) for left, low, wide, _ in till.rectangles()]
    lows = sorted({round(low) for _, low, _ in bars})
    assert len(lows) == 2 and abs(lows[1] - lows[0] - 5 * till.module.um(1)) < 10
    first, last = bars[0][0], bars[-1][0] + bars[-1][2]
    outside = [mark for mark in figures if mark.box.right < first or mark.box.left > last]
    assert len(outside) == {EAN_13: 1, UPC_A: 2, EAN_8: 0}[number]
    assert not any(
        mark.box.meets(Box(int(left), int(low), int(left + wide), 10**6))
        for mark in figures
        for left, low, wide in bars
    )
    quiet = {EAN_13: (11, 7), UPC_A: (9, 9), EAN_8: (7, 7)}[number]
    assert first - till.box.left >= (quiet[0] + 1) * till.module.um(1) - 10
    assert till.box.right - last >= (quiet[1] + 1) * till.module.um(1) - 10


def test_symbols_beside_each_other_stand_on_one_panel_where_the_ground_is_dark():
    placed = place(back(EAN_13), outline(LARGE), design("ember"))
    (panel,) = [mark.box for mark in placed.marks if getattr(mark, "role", "") == "patch"]
    symbols = [mark for mark in placed.marks if isinstance(mark, BarcodeMark | MatrixMark)]
    assert len(symbols) == 3 and all(panel.holds(mark.box) for mark in symbols)


@pytest.mark.parametrize("look", NAMES)
def test_no_ornament_is_read_with_a_symbol(look):
    """Between a symbol and what lies under it stands a patch of its own, or one light colour under the whole of it."""
    sheets = (
        ("front", "letter-2x3-102x85"),
        ("front", SMALL),
        ("front", LARGE),
        ("wrap", "letter-1x5-203x51"),
        ("back", LARGE),
    )
    for kind, name in sheets:
        content = replace(barred(linked(label("us", kind))), number=EAN_13 if kind in ("wrap", "back") else None)
        placed = place(content, outline(name), design(look))
        shapes = [shape for shape in grounds(placed) if shape.role != "ground"]
        for symbol in (mark.box for mark in placed.marks if isinstance(mark, BarcodeMark | MatrixMark)):
            if any(shape.role == "patch" and shape.box.holds(symbol) for shape in shapes):
                continue
            for shape in shapes:
                light = shape.fill is not None and contrast(shape.fill, (0, 0, 0)) >= 12 and shape.box.holds(symbol)
                around = shape.fill is None and shape.box.grown(-2 * shape.width).holds(
                    symbol
                )  # a frame, its line outside
                assert light or around or not shape.box.meets(symbol), (look, kind, name)


def test_a_ground_light_to_the_eye_but_dark_in_red_light_gets_the_panel_too():
    """GS1 Australia's table of colours: black bars on blue-green are not scanned, on orange they are."""
    for ground, panels in (((0, 220, 220), 1), ((255, 165, 0), 0)):
        placed = place(back(EAN_13), outline(LARGE), replace(design("ember"), ground=ground))
        assert len([mark for mark in placed.marks if getattr(mark, "role", "") == "patch"]) == panels
