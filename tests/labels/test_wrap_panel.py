"""A nutrition panel inside a one-piece wrap, beside the small print: where it is asked for and the wrap is wide enough."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.nutrition.content import with_nutrition
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import around
from labelkit.paper.marks import BarcodeMark, MatrixMark, Shape, Text
from labelkit.reading.label_file import read_label
from labelkit.rules import market
from tests.labels.looking import crossing_the_frame, over_the_edge, overlaps, unsaid
from tests.labels.samples import DAY, LOT

TEXT = f"""
market = "us"
name = "Clover Honey"
declares = "12 oz"
lot = "{LOT}"
best_before = 2028-06-30
lines = ["Raw"]
panel = {{ diameter = "67 mm", height = "75 mm" }}
maker = {{ name = "Pretend Hollow", street = "4 Pretend Lane", city = "Pretendton", region = "VA", postcode = "00000" }}
"""
LARGE, LOW = Outline(245_000, 80_000), Outline(203_200, 50_800)


def wrap(more: str = ""):
    """A wrap with its nutrition: as composed, the panel added to it."""
    case = label_case(read_label(TEXT + more), [market("us", DAY)], "en_US")
    content = compose(case, kind="wrap").content
    return content if content.nutrition else with_nutrition(content, case)


def panel_of(placed):
    return [mark for mark in placed.marks if isinstance(mark, Text) and mark.role.startswith("facts_")]


@pytest.mark.parametrize("look", NAMES)
def test_a_wide_wrap_bears_the_panel_beside_its_small_print(look):
    """21 CFR 101.2(a), (d): on the information panel, to the right of the front, nothing between."""
    placed = place(wrap(), LARGE, design(look))
    panel, said = around(mark.box for mark in panel_of(placed)), placed.marks
    front = around(mark.box for mark in said if isinstance(mark, Text) and mark.role in ("name", "net"))
    small = around(mark.box for mark in said if isinstance(mark, Text) and mark.role in ("caution", "address"))
    assert front.right < small.left and small.right < panel.left and placed.moved == ()
    assert not [
        mark for mark in said if isinstance(mark, BarcodeMark | MatrixMark) and small.left < mark.box.left < panel.left
    ]
    assert not [*overlaps(placed), *over_the_edge(placed), *crossing_the_frame(placed), *unsaid(placed.content, placed)]
    assert placed.ok and {row.item for row in placed.rows} >= {
        "net quantity",
        "calories",
        "nutrients",
        "infant caution",
    }


@pytest.mark.parametrize("look", ["ember", "ridge"])
def test_the_panel_is_black_on_white_on_a_dark_wrap_too(look):
    """21 CFR 101.9(d)(1)(i): black or one colour on a white or other neutral ground."""
    placed = place(wrap(), LARGE, design(look))
    lines = panel_of(placed)
    box = around(mark.box for mark in lines)
    whites = [mark for mark in placed.marks if isinstance(mark, Shape) and mark.fill == (255, 255, 255) and mark.behind]
    assert any(mark.box.holds(box) for mark in whites) and {mark.colour for mark in lines} == {(0, 0, 0)}


def test_a_small_package_takes_a_smaller_display_on_a_low_wrap():
    """21 CFR 101.9(j)(13): up to 40 square inches of surface."""
    placed = place(wrap('situation = { label_surface = "30 in2" }'), LOW, design("press"))
    assert panel_of(placed) and placed.moved == ()
    assert not [*overlaps(placed), *over_the_edge(placed), *unsaid(placed.content, placed)]


def test_a_wrap_without_room_says_how_much_is_wanting_and_keeps_the_rest():
    placed = place(wrap(), LOW, design("press"))
    assert not panel_of(placed) and placed.moved == ("nutrition_panel",)
    (note,) = [note for note in placed.notes if "nutrition panel is not on this wrap" in note]
    assert " mm " in note and "--kind nutrition" in note
    assert not [*overlaps(placed), *over_the_edge(placed), *unsaid(placed.content, placed)]


def test_a_wrap_that_asks_for_no_panel_has_none():
    content = replace(wrap().without("nutrition"), nutrition=None)
    placed = place(content, LARGE, design("press"))
    assert not panel_of(placed) and placed.moved == () and not any("nutrition" in note for note in placed.notes)


def test_a_strip_that_is_too_short_for_a_wrap_is_refused_with_the_millimetres():
    with pytest.raises(LabelTooSmall, match=r"20\.0 mm of width are wanting") as told:
        place(wrap(), Outline(130_000, 50_000), design("press"))
    assert "front and a back" in told.value.do
