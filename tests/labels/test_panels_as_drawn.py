"""Backs, cards, tags, case labels and seals wear their design."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.paper.marks import BarcodeMark, Clipped, MatrixMark, Shape, Text
from tests.labels.looking import overlaps
from tests.labels.samples import barred, label, linked, outline
from tests.labels.test_kinds import CARD, CASE, TAG

BACK = replace(barred(linked(label("us", "back"))), number="9521234543213", lot_bars="none")


def lines(placed, role: str) -> list[Text]:
    return [mark for mark in placed.marks if isinstance(mark, Text) and mark.role == role]


def ornaments(placed) -> list[Shape]:
    return [shape for mark in placed.marks if isinstance(mark, Clipped) for shape in mark.marks]


@pytest.mark.parametrize("name", NAMES)
def test_a_back_has_its_name_on_one_line_and_the_maker_at_the_other_end_of_it(name):
    placed = place(BACK, outline("a4-2x4-99x68"), design(name))
    (headline,), (maker,) = lines(placed, "name"), lines(placed, "maker")
    assert headline.y == maker.y and maker.box.left > headline.box.right
    bars = next(mark for mark in placed.marks if isinstance(mark, BarcodeMark))
    assert bars.box.top < headline.box.bottom and bars.box.left > max(one.box.right for one in lines(placed, "caution"))


@pytest.mark.parametrize("name", NAMES)
def test_every_seal_has_a_small_ornament_of_its_own_and_no_fold_marks(name):
    placed = place(label("us", "seal"), outline("letter-2x10-102x25"), design(name))
    assert ornaments(placed) and not placed.notes
    assert not [mark for mark in placed.marks if isinstance(mark, Shape) and mark.role == "frame"]
    assert not list(overlaps(placed))


@pytest.mark.parametrize("content, sheet", [(TAG, "letter-2x3-102x85"), (CARD, "a4-3x3-60x80"), (BACK, "a4-2x4-99x68")])
def test_the_hills_are_never_left_out(content, sheet):
    placed = place(content, outline(sheet), design("ridge"))
    hills = ornaments(placed)
    assert len(hills) == 2 and max(hill.box.top for hill in hills) < min(
        mark.box.bottom for mark in placed.marks if isinstance(mark, Text)
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_price_is_set_in_the_type_of_the_name(name):
    placed = place(CARD, outline("a4-3x3-60x80"), design(name))
    (price,) = lines(placed, "price")
    assert price.face.key == lines(placed, "name")[0].face.key and price.size > lines(placed, "name")[0].size


@pytest.mark.parametrize("name", NAMES)
def test_an_ornament_never_costs_a_case_the_height_its_bars_had_without(name):
    sheet = outline("letter-2x2-102x127")
    bars = [mark.high for mark in place(CASE, sheet, design(name)).marks if isinstance(mark, BarcodeMark)]
    assert bars and min(bars) >= 25_000


@pytest.mark.parametrize("name", ["press", "almanac"])
def test_a_frame_stays_where_a_symbol_stands_within_it(name):
    placed = place(linked(label("us")), outline("letter-2x3-102x85"), design(name))
    frames = [shape for shape in ornaments(placed) if shape.role == "frame" and shape.box.width > 80_000]
    assert frames and any(isinstance(mark, MatrixMark) for mark in placed.marks)
