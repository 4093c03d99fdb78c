"""Every symbology on every design, read off the finished file by zxing-cpp: 300 dpi, 600 dpi, and 600 dpi through a blur."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labelkit.barcodes.instore import own_till_number
from labelkit.labels.design import NAMES
from labelkit.labels.printing import print_sheet
from labelkit.labels.sheets import sheet as sheet_named
from tests.labels.samples import LINK, LOT, barred, label, linked
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


@pytest.mark.exhaustive(one_in=8)
@pytest.mark.parametrize("what", SYMBOLS)
@pytest.mark.parametrize("look", NAMES)
def test_every_symbology_reads_off_the_page_in_every_design(look, what):
    content, name, expected = SYMBOLS[what]
    for dpi, blur in ((300, False), (600, False), (600, True)):
        found = seen(print_sheet([content], name, look, dpi=dpi).pdf, sheet_named(name), dpi, blur)
        assert expected.items() <= found.items(), (dpi, blur, found)
