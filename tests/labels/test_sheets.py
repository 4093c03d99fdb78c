"""Sheets: every box on its page, margins that add up, part-used sheets; reckoned a second way, in exact inches."""

from __future__ import annotations

import itertools
import re
import tomllib
from fractions import Fraction
from itertools import islice

import pytest

from labelkit.errors.labels import SheetImpossible, SheetUnclear, SheetUnknown, SheetUsedUp
from labelkit.labels.sheets import Printer, free_places, own_sheet, read_sheets, sheet, sheets
from labelkit.measures import Length
from labelkit.shipped import template_text

ENTRIES = {entry["name"]: entry for entry in tomllib.loads(template_text("sheets/common.toml"))["sheet"]}
PAGE_MM = {
    "letter": (Fraction("215.9"), Fraction("279.4")),
    "a4": (Fraction(210), Fraction(297)),
}  # ISO 216; ANSI/ASME Y14.1


def in_mm(text: str) -> Fraction:
    """A length of the catalogue, by another way than the measures room's."""
    number, unit = text.split()
    return Fraction(number) * (Fraction("25.4") if unit == "in" else 1)


def golden(entry: dict) -> list[tuple[Fraction, Fraction, Fraction, Fraction]]:
    """Every box as (left, top, right, bottom) from the paper's top left corner, in millimetres."""
    wide, high = map(in_mm, entry["label"])
    left, top = map(in_mm, entry["first"])
    gap_x, gap_y = map(in_mm, entry.get("gap", ["0 mm", "0 mm"]))
    return [
        (
            left + c * (wide + gap_x),
            top + r * (high + gap_y),
            left + c * (wide + gap_x) + wide,
            top + r * (high + gap_y) + high,
        )
        for r in range(entry["down"])
        for c in range(entry["across"])
    ]


def test_the_catalogue_holds_at_least_fourteen_sheets_of_both_pages_and_all_shapes():
    assert len(sheets()) >= 14
    assert {(one.page, one.shape) for one in sheets().values()} == {
        (page, shape) for page in ("letter", "a4") for shape in ("rectangle", "round", "oval")
    }


@pytest.mark.parametrize("name", ENTRIES)
def test_every_box_lies_where_the_lengths_put_it(name):
    """To a hundredth of a millimetre: micrometres are rounded once a length, and a sheet has at most twenty of them."""
    which, page = sheet(name), PAGE_MM[ENTRIES[name]["page"]]
    for number, (left, top, right, bottom) in enumerate(golden(ENTRIES[name]), start=1):
        box = which.place(number)
        found = box.left, which.page_high - box.top, box.right, which.page_high - box.bottom
        assert all(
            abs(Fraction(um, 1000) - mm) < Fraction(1, 100)
            for um, mm in zip(found, (left, top, right, bottom), strict=True)
        )
        assert left >= 0 and top >= 0 and right <= page[0] and bottom <= page[1]


@pytest.mark.parametrize("name", ENTRIES)
def test_no_two_labels_share_paper_and_none_leaves_it(name):
    which = sheet(name)
    boxes = [which.place(number) for number in range(1, which.count + 1)]
    assert not any(one.meets(other) for one, other in itertools.combinations(boxes, 2))
    assert all(
        box.left >= 0 and box.bottom >= 0 and box.right <= which.page_wide and box.top <= which.page_high
        for box in boxes
    )


@pytest.mark.parametrize("name", ENTRIES)
def test_margins_labels_and_gaps_add_up_to_the_paper_and_are_even(name):
    which = sheet(name)
    across = which.left + which.across * which.wide + (which.across - 1) * which.gap_x + which.right
    down = which.top + which.down * which.high + (which.down - 1) * which.gap_y + which.bottom
    assert (across, down) == (which.page_wide, which.page_high)
    assert abs(which.left - which.right) <= 10 and abs(which.top - which.bottom) <= 10


@pytest.mark.parametrize("name", ENTRIES)
def test_a_name_says_the_page_the_count_and_the_size_in_whole_millimetres(name):
    which = sheet(name)
    assert name.startswith(f"{which.page}-{which.across}x{which.down}-")
    kind = "t" if which.hole else {"rectangle": "", "round": "d", "oval": "o"}[which.shape]
    assert re.sub(r"[\d x]", "", name.split("-", 2)[2]) == kind
    figures = [int(figure) for figure in re.findall(r"\d+", name.split("-", 2)[2])]
    assert all(abs(a - b / 1000) <= 0.55 for a, b in zip(figures, (which.wide, which.high), strict=False))


@pytest.mark.parametrize("name", ENTRIES)
def test_colour_over_the_edge_never_reaches_the_next_label_nor_leaves_the_paper(name):
    which = sheet(name)
    places = range(1, which.count + 1)
    corners = [(which.place(number).left, which.place(number).bottom) for number in places]
    rooms = [which.bleed(number, 2000).moved(*corner) for number, corner in zip(places, corners, strict=True)]
    grown = [(room.left, room.bottom, room.right, room.top) for room in rooms]
    for a, b in itertools.combinations(grown, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    assert all(
        left >= 0 and low >= 0 and right <= which.page_wide and top <= which.page_high
        for left, low, right, top in grown
    )


@pytest.mark.parametrize("many", [False, True])
def test_colour_runs_over_the_outer_edge_of_a_butt_cut_sheet_and_stops_between_its_labels(many):
    """Read off the printed page, where the sun on the ground is no paper either: 1.9 mm outside the sheet's labels there is ground, half way into the gap there is, and on
    the side of the next label its own."""
    from labelkit.labels.printing import print_lots, print_sheet
    from tests.labels.samples import label
    from tests.labels.test_batch import LOTS
    from tests.labels.test_printed import picture

    name, paper = "letter-2x5-102x51", 240
    which = sheet(name)
    made = (
        print_lots(label("us"), LOTS[:10], name, "ember") if many else print_sheet([(label("us"), 10)], name, "ember")
    )
    image = picture(made.pdf, 150)

    def inked(x: int, y: int) -> bool:
        return image.getpixel((int(x * 150 / 25_400), int((which.page_high - y) * 150 / 25_400))) < paper

    first, last = which.place(1), which.place(10)
    middle = (first.bottom + first.top) // 2
    assert inked(first.left - 1700, middle) and not inked(first.left - 2400, middle)
    assert inked(first.left + 20_000, first.top + 1700) and not inked(first.left + 20_000, first.top + 2400)
    assert inked(last.right + 1700, (last.bottom + last.top) // 2) and inked(last.right - 20_000, last.bottom - 1700)
    assert any("edge to edge" in note and "ember" in note for note in made.notes)
    assert not print_sheet([label("us")], name, "press").about


def test_a_part_used_sheet_begins_where_it_is_told_and_the_next_one_at_its_first_place():
    places = list(islice(free_places(sheet("a4-3x7-64x38"), start_at=19, skip={20}), 4))
    assert places == [(0, 19), (0, 21), (1, 1), (1, 2)]


@pytest.mark.parametrize(("start", "skip"), [(0, ()), (5, ()), (1, (1, 2, 3, 4)), (1, (9,))])
def test_a_start_that_leaves_nothing_or_is_not_on_the_sheet_is_refused(start, skip):
    with pytest.raises(SheetUsedUp):
        next(free_places(sheet("a4-2x2-99x139"), start, skip))


def test_a_roll_is_a_page_of_one_label():
    roll = sheet("roll-60x40")
    assert (roll.page_wide, roll.page_high, roll.count) == (60_000, 40_000, 1)
    assert roll.place(1).width == 60_000
    with pytest.raises(SheetUnknown):
        sheet("roll-6x4000")


def test_a_sheet_measured_with_a_ruler_is_the_same_as_one_of_the_catalogue():
    mm = Length.of_mm
    mine = own_sheet(
        "a4-2x4-99x68",
        "a4",
        2,
        4,
        (mm("99.1"), mm("67.7")),
        (mm("4.65"), mm("13.1")),
        (mm("101.6"), mm("67.7")),
        corner=mm("1.5"),
    )
    known = sheet("a4-2x4-99x68")
    assert [mine.place(n) for n in range(1, 9)] == [known.place(n) for n in range(1, 9)]


def test_labels_that_overrun_the_paper_are_refused_with_by_how_much():
    mm = Length.of_mm
    with pytest.raises(SheetImpossible, match=r"overrun the paper's height by 3\.00 mm"):
        own_sheet("mine", "a4", 1, 4, (mm(95), mm(70)), (mm(12), mm(20)), (mm(110), mm(70)))
    with pytest.raises(SheetImpossible, match="step"):
        own_sheet("mine", "a4", 2, 1, (mm(95), mm(70)), (mm(2), mm(20)), (mm(90), mm(70)))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "x = 1",
        "[[sheet]]\nname = 'a'",
        "[[sheet",
        "[[sheet]]\nname='a'\npage='b5'\nacross=1\ndown=1\nlabel=['1 in','1 in']\nfirst=['1 in','1 in']",
    ],
)
def test_a_sheet_file_that_cannot_be_understood_is_refused(text):
    with pytest.raises(SheetUnclear):
        read_sheets(text, "mine.toml")


def test_a_printer_that_stretches_and_shifts_is_corrected():
    from decimal import Decimal

    printer = Printer(600, nudge_x=500, nudge_y=-300, scale_x=Decimal("1.002"))
    assert printer.corner(100_000, 200_000) == (100_700, 199_700)
    assert Length.read_signed("-0.5 mm", "en_US").um == -500


def test_a_sheet_described_on_the_command_line_prints_labels(tmp_path):
    import json

    from click.testing import CliRunner

    from labelkit.cli._runner import program

    mine, label, out = tmp_path / "mine.toml", tmp_path / "label.toml", tmp_path / "labels.pdf"
    label.write_text('market = ["uk"]\nname = "Clover Honey"\ndeclares = "340 g"\n[maker]\nname = "Pretend Hollow"\n')
    measured = ["--page", "a4", "--across", "2", "--down", "4", "--wide", "95 mm", "--high", "62 mm", "--left", "8 mm"]
    measured += ["--top", "20 mm", "--step-right", "99 mm", "--step-down", "66 mm", "--out", str(mine), "--json"]
    told = CliRunner().invoke(program, ["sheet", *measured])
    assert json.loads(told.output)["name"] == "a4-2x4-95x62"
    assert json.loads(told.output)["right_margin_um"] == 210_000 - 8_000 - 99_000 - 95_000
    printed = CliRunner().invoke(
        program, ["labels", "--label", str(label), "--sheet-file", str(mine), "--out", str(out), "--json"]
    )
    assert json.loads(printed.output)["sheet"] == "a4-2x4-95x62" and json.loads(printed.output)["labels"] == 8
