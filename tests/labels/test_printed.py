"""The finished file, read by others: bars and squares by zxing-cpp, letters by pypdfium2 and pypdf."""

from __future__ import annotations

import operator
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache, reduce
from io import BytesIO

import pytest

from labelkit.labels.design import NAMES
from labelkit.labels.printing import print_lots, print_sheet
from labelkit.labels.sheets import Printer, sheet
from labelkit.paper.preview import preview_png
from tests.labels.samples import LINK, LOT, MARKETS, barred, label, linked

#: Sheets whose labels are large enough for bars in every design, and one that takes the lot in small squares.
WITH_BARS = ("letter-2x3-102x85", "a4-2x2-99x139")


@lru_cache(maxsize=64)
def printed(look: str, sheet_name: str, code: str = "us", dpi: int = 600, count: int = 1) -> bytes:
    return print_sheet([(barred(linked(label(code))), count)], sheet_name, look, dpi=dpi).pdf


def picture(pdf: bytes, dpi: int, page: int = 1):
    import pypdfium2

    return pypdfium2.PdfDocument(pdf)[page - 1].render(scale=dpi / 72, grayscale=True).to_pil()


def read(image) -> dict[str, list[str]]:
    """What the decoder finds: texts by kind of symbol."""
    import zxingcpp

    kinds = zxingcpp.BarcodeFormat
    found: dict[str, list[str]] = {}
    for one in zxingcpp.read_barcodes(
        image, formats=[kinds.Code128, kinds.QRCode, kinds.DataMatrix, kinds.EAN13, kinds.UPCA, kinds.EAN8]
    ):
        found.setdefault(str(one.format), []).append(one.text)
    return found


def first_label(image, which, dpi: int):
    """The picture of the first label of a sheet, with a little paper round it."""
    box = which.place(1)
    pixels = [
        int(um * dpi / 25_400) for um in (box.left, which.page_high - box.top, box.right, which.page_high - box.bottom)
    ]
    return image.crop((max(0, pixels[0] - 20), max(0, pixels[1] - 20), pixels[2] + 20, pixels[3] + 20))


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("dpi", [300, 600])
@pytest.mark.parametrize("look", NAMES)
def test_every_symbol_reads_off_the_page_in_every_design(look, dpi):
    for name in WITH_BARS:
        found = read(first_label(picture(printed(look, name, dpi=dpi), dpi), sheet(name), dpi))
        assert found.get("Code 128") == [LOT], (look, name, found)
        assert found.get("QR Code") == [LINK], (look, name, found)


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("look", NAMES)
def test_every_symbol_still_reads_through_a_blur_of_eight_hundredths_of_a_millimetre(look):
    """600 dpi, Gaussian of 0.08 mm: about what an office printer and a phone's lens take away together (our own trial)."""
    from PIL import ImageFilter

    for name in WITH_BARS:
        image = first_label(picture(printed(look, name), 600), sheet(name), 600)
        found = read(image.filter(ImageFilter.GaussianBlur(0.08 / 25.4 * 600)))
        assert (found.get("Code 128"), found.get("QR Code")) == ([LOT], [LINK]), (look, name, found)


@pytest.mark.parametrize("look", NAMES)
def test_a_lot_in_small_squares_reads_too(look):
    name, found = "letter-3x3-64x76", {}
    content = replace(label("us"), lot_bars="datamatrix")
    pdf = print_sheet([content], name, look).pdf
    small = print_sheet([content], "a4-3x6-64x47", look).pdf
    for file, which in ((pdf, name), (small, "a4-3x6-64x47")):
        for kind, texts in read(first_label(picture(file, 600), sheet(which), 600)).items():
            found.setdefault(kind, []).extend(texts)
    assert set(reduce(operator.iadd, found.values(), [])) <= {LOT} and found


def test_a_whole_sheet_of_labels_has_each_symbol_as_often_as_labels():
    name = "letter-2x3-102x85"
    found = read(picture(printed("press", name, count=6), 300))
    assert found["Code 128"] == [LOT] * 6 and found["QR Code"] == [LINK] * 6


def test_bars_are_whole_dots_of_the_printer_where_they_fall_on_the_page():
    """Every bar edge of every label, read back from the page's operators, lies on a dot of the printer."""
    from pypdf import PdfReader

    pdf = print_sheet(
        [barred(label("us"))] * 6, "letter-2x3-102x85", "press", printer=Printer(300, nudge_x=137, nudge_y=-91)
    ).pdf
    stream = PdfReader(BytesIO(pdf)).pages[0].get_contents().get_data().decode("latin-1").split()
    dot, edges, shift = 72 / 300, 0, (0.0, 0.0)
    for place, word in enumerate(stream):
        if word == "cm":
            shift = float(stream[place - 2]), float(stream[place - 1])
        if word == "re":
            x, _, wide, _ = (float(stream[place - n]) for n in (4, 3, 2, 1))
            for edge in (shift[0] + x, shift[0] + x + wide):
                assert abs(edge / dot - round(edge / dot)) < 0.01
                edges += 1
    assert edges > 6 * 2 * 20


def letters(pdf: bytes, text: str) -> list[tuple[str, float]]:
    """Each letter of a text as pypdfium2 finds it in the file: sign and height of its ink in millimetres."""
    import pypdfium2

    page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
    whole = page.get_text_range()
    start = whole.index(text)
    found = []
    for place in range(start, start + len(text)):
        _left, bottom, _right, top = page.get_charbox(place)
        found.append((whole[place], (top - bottom) * 25.4 / 72))
    return found


@pytest.mark.parametrize("code", MARKETS)
@pytest.mark.parametrize("look", NAMES)
def test_the_net_quantity_is_as_high_in_the_file_as_the_law_asks(look, code):
    """Figures and capitals measured by a second reader, not from our own layout; pdfium rounds its boxes outwards a little."""
    result = print_sheet([label(code)], "letter-2x3-102x85", look)
    row = next(row for row in result.rows if row.item == "net quantity")
    figure = next(sign for sign in row.text if sign.isdigit())
    text = next(mark.text for mark in result.placed[0].marks if getattr(mark, "role", "") == "net")
    heights = [
        height for sign, height in letters(result.pdf, text) if sign == figure or (sign.isalpha() and sign.isupper())
    ]
    assert heights
    assert min(heights) >= float(row.required) - 0.005
    # The table tells the lowest of capitals, figures and the bowl of a g.
    assert float(row.required) <= float(row.placed) < min(heights) + 0.12


@pytest.mark.parametrize("look", NAMES)
def test_small_print_is_as_high_in_the_file_as_the_table_says(look):
    result = print_sheet([label("eu")], "letter-2x3-102x85", look)
    text = "Mindestens"
    heights = [height for sign, height in letters(result.pdf, text) if sign in "nes"]
    required = next(row for row in result.rows if row.item == "date mark").required
    assert min(heights) >= float(required) - 0.005


def test_the_text_of_the_file_can_be_searched_and_copied():
    from pypdf import PdfReader

    text = PdfReader(BytesIO(printed("meadow", "letter-2x3-102x85"))).pages[0].extract_text()
    for said in ("Wildflower", "NET WT 16 OZ", "Do not feed honey to infants", "Best before 30 June 2028", LOT):
        assert said in text.replace("\n", " ")


def test_equal_labels_give_equal_files_and_other_lots_other_ones():
    one, two = (print_sheet([(label("us"), 3)], "letter-2x5-102x51", "ridge").pdf for _ in range(2))
    other = print_sheet([(label("us").for_lot("L26196AXR"), 3)], "letter-2x5-102x51", "ridge").pdf
    assert one == two != other


def test_a_part_used_sheet_prints_from_its_first_free_place():
    import pypdfium2

    result = print_sheet([(label("us"), 9)], "letter-2x5-102x51", "press", start_at=3, skip={4})
    assert (result.pages, result.labels) == (2, 9)
    page = pypdfium2.PdfDocument(result.pdf)[0]
    which, ink = sheet("letter-2x5-102x51"), page.render(scale=1, grayscale=True).to_pil()
    for number in range(1, 11):
        box = which.place(number)
        area = (
            box.left * 72 / 25_400,
            (which.page_high - box.top) * 72 / 25_400,
            box.right * 72 / 25_400,
            (which.page_high - box.bottom) * 72 / 25_400,
        )
        dark = min(ink.crop(tuple(map(int, area))).tobytes()) < 128
        assert dark == (number not in (1, 2, 4)), number


def test_a_nudged_printer_moves_every_label_by_that_much():
    plain = print_sheet([label("us")], "letter-2x5-102x51", "press").pdf
    moved = print_sheet(
        [label("us")], "letter-2x5-102x51", "press", printer=Printer(600, nudge_x=2540, nudge_y=-2540)
    ).pdf

    def corner(pdf):
        import pypdfium2

        page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
        return page.get_charbox(0)[:2]

    (x, y), (x2, y2) = corner(plain), corner(moved)
    assert abs(x2 - x - 7.2) < 0.05 and abs(y2 - y + 7.2) < 0.05


def test_a_preview_is_a_picture_of_the_page_on_its_paper():
    from PIL import Image

    png = preview_png(printed("press", "letter-2x3-102x85"), 1, 72, (200, 160, 110))
    image = Image.open(BytesIO(png))
    assert image.size == (612, 792) and image.getpixel((2, 2))[:3] == (200, 160, 110)


def test_a_label_of_a_roll_fills_its_page():
    from pypdf import PdfReader

    pages = PdfReader(BytesIO(print_sheet([(label("us"), 3)], "roll-102x76", "press").pdf)).pages
    assert len(pages) == 3
    assert Decimal(str(pages[0].mediabox.width)).quantize(Decimal("0.1")) == Decimal("289.1")


@pytest.mark.parametrize("many", [False, True])
@pytest.mark.parametrize("look", NAMES)
def test_what_is_copied_off_a_label_is_what_the_eye_reads(look, many):
    """Capitals with room between them are words to two readers of the file, and no row of single letters."""
    import pypdfium2
    from pypdf import PdfReader

    name = "letter-2x5-102x51"
    pdf = print_lots(label("us"), [LOT] * 3, name, look).pdf if many else print_sheet([label("us")], name, look).pdf
    for text in (
        pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range(),
        PdfReader(BytesIO(pdf)).pages[0].extract_text(),
    ):
        assert "pretend hollow apiary" in " ".join(text.casefold().split()), text


@pytest.mark.parametrize("look", NAMES)
def test_the_bowl_of_the_g_is_as_high_as_the_capitals_beside_it_must_be(look):
    """21 CFR 101.7(h)(2): of small letters it is the o "or its equivalent" that is measured, so of the g its bowl, which is
    as high as the face's x. 1/8 inch on a panel of 5 to 25 square inches (101.7(i)(2))."""
    (placed,) = print_sheet([label("us")], "letter-2x5-102x51", look).placed
    (symbol,) = [mark for mark in placed.marks if getattr(mark, "role", "") == "net" and mark.text in ("g", "453 g")]
    assert symbol.text == "g"
    assert symbol.face.outline("x")[3] * symbol.size / symbol.face.units >= 3175


@pytest.mark.parametrize(("look", "dark"), [("ember", True), ("ridge", True), ("press", False), ("broadside", False)])
def test_a_dark_ground_at_the_knife_is_told_and_a_bar_within_the_label_is_not(look, dark):
    made = print_sheet([label("us")], sheet("letter-2x3-102x85"), look)
    assert any("lie edge to edge" in note for note in made.notes) == dark
