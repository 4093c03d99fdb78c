"""Bars turned a quarter round: where upright ones would bend too far round the jar, or where the label is too narrow."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pytest

from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import Outline
from labelkit.labels.printing import print_lots, print_sheet
from labelkit.labels.sheets import Printer
from labelkit.labels.sheets import sheet as sheet_named
from labelkit.measures import Length
from labelkit.paper.marks import BarcodeMark, MatrixMark
from tests.labels.looking import crossing_the_frame, over_the_edge, overlaps, unsaid
from tests.labels.samples import LINK, LOT, barred, label, linked, outline
from tests.labels.test_batch import LOTS, link_of
from tests.labels.test_printed import first_label, picture, read

SHEET = "letter-2x3-102x85"
NUMBER = "9521234543213"
NARROW = replace(barred(linked(label("us"))), diameter=Length.of_mm(50))
BACK = replace(barred(linked(label("us", "back"))), diameter=Length.of_mm(50), number=NUMBER)


def bars_of(placed):
    return {mark.bars.kind.name: mark for mark in placed.marks if isinstance(mark, BarcodeMark)}


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("dpi", [300, 600])
@pytest.mark.parametrize("look", NAMES)
def test_turned_bars_read_off_the_page_in_every_design(look, dpi):
    """As printed, and at 600 dpi through a blur of 0.08 mm as well."""
    from PIL import ImageFilter

    for content, said in ((NARROW, LOT), (BACK, NUMBER)):
        printed = print_sheet([content], SHEET, look, dpi=dpi)
        assert all(mark.ladder for mark in bars_of(printed.placed[0]).values())
        image = first_label(picture(printed.pdf, dpi), sheet_named(SHEET), dpi)
        for seen in (image, image.filter(ImageFilter.GaussianBlur(0.08 / 25.4 * 600))) if dpi == 600 else (image,):
            found = [text for texts in read(seen).values() for text in texts]
            assert said in found and LINK in found, (look, dpi, found)


def test_a_long_run_turns_its_bars_as_well():
    result = print_lots(NARROW, LOTS[:6], SHEET, "press", link_of=link_of)
    assert bars_of(result.placed[0])["Code 128"].ladder
    assert sorted(read(picture(result.pdf, 300))["Code 128"]) == sorted(LOTS[:6])


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_turned_bars_are_whole_dots_of_the_printer_upwards(dpi):
    """Every edge across the bars, read back from the page's operators, lies on a dot."""
    from pypdf import PdfReader

    pdf = print_sheet([NARROW] * 6, SHEET, "press", printer=Printer(dpi, nudge_x=137, nudge_y=-91)).pdf
    words = PdfReader(BytesIO(pdf)).pages[0].get_contents().get_data().decode("latin-1").split()
    dot, edges, shift = 72 / dpi, 0, 0.0
    for position, word in enumerate(words):
        if word == "cm":
            shift = float(words[position - 1])
        if word == "re":
            y, high = float(words[position - 3]), float(words[position - 1])
            for edge in (shift + y, shift + y + high):
                assert abs(edge / dot - round(edge / dot)) < 0.01
                edges += 1
    assert edges > 6 * 2 * 20


def test_the_till_number_is_upright_on_a_wide_jar_and_turned_on_a_narrow_one():
    """By hand: 95 modules of 8 dots at 600 dpi are 32.2 mm; a sixth of the way round is that at 61.5 mm across."""
    for across, turned in ((62, False), (61, True)):
        placed = place(replace(BACK, diameter=Length.of_mm(across)), outline("letter-2x3-102x85"), design("press"))
        assert bars_of(placed)["EAN-13"].ladder is turned
        assert any("turned a quarter round" in note and "till number" in note for note in placed.notes) is turned
    assert bars_of(placed)["EAN-13"].module.times(95).quantize(Decimal("0.1")) == Decimal("32.2")


def test_bars_are_turned_on_a_label_too_narrow_for_them_upright():
    """A flat, high label: 39.1 mm of bars and quiet zones find no room in 38 mm across."""
    content = replace(barred(label("eu")), diameter=None)
    placed = place(content, Outline(38_000, 120_000), design("press"))
    (bars,) = bars_of(placed).values()
    assert bars.ladder and not [mark for mark in placed.marks if isinstance(mark, MatrixMark)]
    assert any("39.1 mm wide, and there is no room" in note and "turned" in note for note in placed.notes)
    assert not [*overlaps(placed), *over_the_edge(placed), *crossing_the_frame(placed), *unsaid(content, placed)]


def test_bars_stay_upright_wherever_they_fit_so():
    for name in ("letter-2x3-102x85", "a4-2x2-99x139", "a4-2x4-99x68"):
        placed = place(replace(barred(linked(label("us"))), diameter=Length.of_mm(90)), outline(name), design("meadow"))
        assert not any(mark.ladder for mark in bars_of(placed).values()), name


@pytest.mark.parametrize("look", NAMES)
def test_a_back_label_keeps_bars_beside_its_words_where_they_find_no_room_below(look):
    """Till number, link and lot all stand; before, one column dropped the lot's squares or the till number."""
    content = replace(linked(label("us", "back")), number=NUMBER, lot_bars="datamatrix")
    for name in ("letter-2x5-102x51", "a4-2x4-99x68"):
        placed = place(content, outline(name), design(look))
        read_off = [*(mark.bars.text for mark in bars_of(placed).values())]
        read_off += [mark.squares.text for mark in placed.marks if isinstance(mark, MatrixMark)]
        assert sorted(read_off) == sorted([NUMBER, LOT, LINK]), (look, name)
        assert bars_of(placed)["EAN-13"].high >= 18_280, "GS1 General Specifications 5.12.3"
        assert not [*overlaps(placed), *over_the_edge(placed), *crossing_the_frame(placed)], (look, name)
