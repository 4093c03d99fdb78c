"""Long runs: every label its own lot; drawn by other means than single labels, read by the same decoder."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from io import BytesIO

import pytest
from pypdf import PdfReader

from labelkit.barcodes.dots import Module
from labelkit.barcodes.linear import code128_patterns, gs1_128
from labelkit.barcodes.matrix import qr
from labelkit.labels.batch import BatchWriter, widest
from labelkit.labels.design import NAMES, design
from labelkit.labels.layers import glyph
from labelkit.labels.layout.kinds import place
from labelkit.labels.printing import print_lots, print_sheet
from labelkit.labels.sheets import Printer
from labelkit.lots.code import lot_code
from labelkit.paper.marks import BarcodeMark
from labelkit.paper.pdf import PdfWriter
from tests.labels.samples import barred, label, linked, outline
from tests.labels.test_printed import picture, read

LOTS = [lot_code(date(2026, 3, 1) + timedelta(days=day), f"B{day}").code for day in range(40)]


def link_of(lot: str) -> str:
    return f"HTTPS://EXAMPLE.COM/L/{lot}"


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("look", NAMES)
def test_every_label_of_a_run_reads_as_its_own_lot_and_link(look):
    result = print_lots(barred(linked(label("us"))), LOTS[:12], "letter-2x3-102x85", look, link_of=link_of)
    assert (result.pages, result.labels) == (2, 12)
    found = {"Code 128": [], "QR Code": []}
    for page in (1, 2):
        for kind, texts in read(picture(result.pdf, 300, page)).items():
            found[kind] += texts
    assert sorted(found["Code 128"]) == sorted(LOTS[:12])
    assert sorted(found["QR Code"]) == sorted(map(link_of, LOTS[:12]))


def test_a_run_of_small_labels_reads_by_its_small_squares_and_its_plain_text():
    import pypdfium2

    result = print_lots(replace(label("us"), lot_bars="datamatrix"), LOTS[:9], "letter-3x3-64x76", "press")
    texts = read(picture(result.pdf, 600))["Data Matrix"]
    assert sorted(texts) == sorted(LOTS[:9])
    said = pypdfium2.PdfDocument(result.pdf)[0].get_textpage().get_text_range()
    assert all(lot in said for lot in LOTS[:9])


def test_a_run_prints_as_single_labels_do():
    """The same lot by both ways: bars as letters and squares as a picture change nothing.

    Compared in blocks of four dots at 300 dpi, a module of the squares, since the renderer shifts a picture by a dot.
    """
    lot = widest(LOTS)
    content = replace(
        barred(linked(label("us"))),
        lot=lot,
        link=link_of(lot),
        words=tuple(replace(words, text=words.text.replace("L26195AXR", lot)) for words in label("us").words),
    )
    quick = picture(print_lots(content, [lot], "letter-2x3-102x85", "press", link_of=link_of, dpi=300).pdf, 300)
    plain = picture(print_sheet([content], "letter-2x3-102x85", "press", dpi=300).pdf, 300)
    blocks = zip(quick.reduce(4).tobytes(), plain.reduce(4).tobytes(), strict=True)
    assert max(abs(a - b) for a, b in blocks) < 128


def test_what_all_labels_share_is_drawn_once_even_if_it_is_bars():
    """A wrap carries the till number, the same on every label, beside each one's own lot and link."""
    content = replace(barred(linked(label("us", "wrap"))), number="9521234543213")
    result = print_lots(content, LOTS[:10], "letter-1x5-203x51", "meadow", link_of=link_of)
    assert len(result.placed) == 1
    found = read(picture(result.pdf, 300, 2))
    assert found["EAN-13"] == ["9521234543213"] * 5
    assert sorted(found["Code 128"]) == sorted(LOTS[5:10]) and len(found["QR Code"]) == 5
    fewer = print_lots(content, LOTS[:5], "letter-1x5-203x51", "meadow", link_of=link_of)
    assert len(result.pdf) - len(fewer.pdf) < 2500


def test_a_run_begins_on_a_part_used_sheet_and_is_the_same_twice():
    one, two = (print_lots(label("us"), LOTS, "letter-2x5-102x51", "press", start_at=8, skip={9}) for _ in range(2))
    assert one.pdf == two.pdf and one.pages == 5


def test_progress_is_told():
    told = []
    print_lots(label("us"), LOTS[:1] * 1000, "letter-3x10-67x25", "press", on_progress=told.append)
    assert told == [500, 1000]


def test_a_glyph_draws_the_bars_of_its_symbol():
    """Start B of ISO/IEC 15417 is 11010010000."""
    assert glyph("11010010000") == "11 0 0 0 11 1 d1 0 0 2 1 re 3 0 1 1 re 6 0 1 1 re f"


def test_the_font_of_bars_has_every_symbol_character_of_code_128():
    """ISO/IEC 15417: 106 characters of eleven modules in three bars, an even number of them dark; and the stop."""
    *characters, stop = code128_patterns()
    assert len({*characters}) == 106 and stop == "1100011101011"
    assert all(len(one) == 11 and one.count("1") % 2 == 0 and one.count("01") == 2 for one in characters)


@pytest.mark.parametrize("pair", ["10", "13", "40", "41", "92"])
def test_a_symbol_character_with_a_meaning_in_pdf_strings_reads_too(pair):
    """In set C two digits are their number, which is the code of the letter: line feed, return, brackets, backslash."""
    lots = [f"{pair * 5}", "55555555" + pair]
    found = read(
        picture(print_lots(barred(label("us")).for_lot(lots[0], None), lots, "letter-2x3-102x85", "press").pdf, 300)
    )
    assert sorted(found["Code 128"]) == sorted(lots)


def test_a_lot_longer_than_the_others_is_placed_by_itself():
    lots = [*LOTS[:2], "L26195AXRLONGERLOT"]
    result = print_lots(barred(label("us")), lots, "letter-2x3-102x85", "press")
    assert sorted(read(picture(result.pdf, 300))["Code 128"]) == sorted(lots)
    assert qr(link_of(lots[0])).wide == 25


@pytest.mark.parametrize("dpi", [203, 300, 600, 1200])
def test_bars_of_a_run_are_whole_dots_wherever_they_fall_on_the_page(dpi):
    """Read back from the page's operators: one unit is a dot, and every move and every size is a whole number of them."""
    printer = Printer(dpi, nudge_x=137, nudge_y=-91)
    pdf = print_lots(barred(label("us")), LOTS[:12], "letter-2x3-102x85", "press", printer=printer).pdf
    operators = PdfReader(BytesIO(pdf)).pages[0].get_contents().get_data().decode("latin-1")
    scale = re.search(r"q (\S+) 0 0 (\S+) 0 0 cm", operators)
    assert abs(float(scale[1]) * dpi / 72 - 1) < 1e-8 and scale[1] == scale[2]
    bars = re.search(r"BT 0 g /LkBars\d (\S+) Tf 1 0 0 1 (\S+) \S+ Tm(.*?) ET", operators, re.DOTALL)
    assert float(bars[1]).is_integer() and float(bars[2]).is_integer()
    moves = re.findall(r"\)Tj (\S+) (\S+) Td", bars[3])
    assert len(moves) == 5 and all(float(step).is_integer() for move in moves for step in move)


def test_bars_say_nothing_to_who_copies_the_text_of_a_page():
    import pypdfium2

    pdf = print_lots(barred(label("us")), LOTS[:6], "letter-2x3-102x85", "press").pdf
    said = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    assert all(said.count(lot) == 1 for lot in LOTS[:6])
    assert said.replace("·", "").isascii() and not {*said} & {*"]^_`{|}~"}


def test_jars_of_one_lot_among_others_have_the_same_label():
    lots = [lot for lot in LOTS[:4] for _ in range(3)]
    found = read(
        picture(print_lots(barred(linked(label("us"))), lots, "letter-2x3-102x85", "press", link_of=link_of).pdf, 300)
    )
    assert sorted(found["Code 128"]) == sorted(lots[:6])


@pytest.mark.parametrize(
    "link_of",
    [
        lambda lot: f"https://pretend-hollow.example/jar?lot={lot}&from=label",
        lambda lot: f"https://pretend-hollow.example/miel-d’été/{lot}",
        lambda lot: f"https://id.gs1.org/01/09521234543213/10/{lot}",
    ],
)
def test_links_of_any_signs_read_off_a_run(link_of):
    content = replace(label("us"), link=link_of(LOTS[0]))
    result = print_lots(content, LOTS[:6], "letter-2x2-102x127", "press", link_of=link_of)
    found = read(picture(result.pdf, 300))
    assert sorted(found["QR Code"]) == sorted(map(link_of, LOTS[:4]))


def test_a_link_longer_than_the_others_is_placed_by_itself():
    def longer(lot: str) -> str:
        return link_of(lot) + ("/A-LONGER-WAY-ROUND" if lot == LOTS[1] else "")

    result = print_lots(barred(linked(label("us"))), LOTS[:3], "letter-2x3-102x85", "press", link_of=longer)
    assert len(result.placed) == 2
    assert sorted(read(picture(result.pdf, 300))["QR Code"]) == sorted(map(longer, LOTS[:3]))


def test_a_lot_that_is_also_a_figure_of_the_label_changes_only_where_it_is_the_lot():
    """Lots 16 and 17 on a jar of 16 oz, best before 30 June 2028."""
    import pypdfium2

    words = tuple(replace(one, text="Lot 16") if one.role == "lot" else one for one in label("us").words)
    content = replace(barred(linked(label("us"))), lot="16", words=words)
    for lots in (["16", "17", "28"], ["28", "16"], ["30", "16"]):
        first = replace(
            content,
            lot=lots[0],
            words=tuple(replace(one, text=f"Lot {lots[0]}") if one.role == "lot" else one for one in words),
        )
        pdf = print_lots(first, lots, "letter-2x3-102x85", "press", link_of=link_of).pdf
        said = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
        assert said.count("16 OZ") == said.count("30 June 2028") == len(lots)
        assert sorted(read(picture(pdf, 300))["Code 128"]) == sorted(lots)
        assert sorted(re.findall(r"Lot (\d\d)", said)) == sorted(lots)


def test_a_run_draws_quickly_only_what_it_can_tell_of_the_lot():
    """Bars that hold the lot among other data are another's business: every label is then placed by itself."""
    one, other = (
        replace(barred(linked(label("us"))), lot=lot, link=link_of(lot)) for lot in ("L26195AXR", "A61952XRL")
    )
    placed = [place(content, outline("letter-2x3-102x85"), design("press")) for content in (one, other)]
    pen = BatchWriter(PdfWriter("Honey"), placed[0], one.lot, link_of, (other.lot, placed[1]))
    assert None not in pen.ready(LOTS[:2])
    held = [
        replace(
            held,
            marks=(
                *held.marks,
                BarcodeMark(gs1_128((("01", "09521234543213"), ("10", lot))), Module(12, 600), 0, 0, 9000),
            ),
        )
        for held, lot in zip(placed, (one.lot, other.lot), strict=True)
    ]
    pen = BatchWriter(PdfWriter("Honey"), held[0], one.lot, link_of, (other.lot, held[1]))
    assert pen.ready(LOTS[:2]) == [None, None]
