"""What gives way where room is short: ornament, slogans and bars before any word the law wants, and the name before them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import lru_cache

import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.design import NAMES, design
from labelkit.labels.label_set import set_of
from labelkit.labels.layout.board import bald
from labelkit.labels.layout.kinds import OF_A_JAR, place
from labelkit.measures import Declared, Length
from labelkit.paper.marks import BarcodeMark, MatrixMark, Text
from labelkit.rules import market
from labelkit.rules.figures.date_mark import BestBefore
from labelkit.rules.label import Label, Share
from tests.labels.samples import MARKETS, barred, label, linked, outline

DAY = date(2026, 11, 25)
JAR = {"diameter": Length.of_mm(70), "height": Length.of_mm(85)}
SMALL = ("letter-3x10-67x25", "letter-2x5-102x51", "letter-4x5-d51", "letter-2x4-o83x57")


@lru_cache(maxsize=8)
def case_of(code: str):
    """A jar of a cottage kitchen: Florida prescribes a sentence of its own in letters of ten points."""
    words = Label(
        (code,),
        "Wildflower and Buckwheat Honey",
        Declared.read("1 lb", "en_US"),
        lot="L26195AXR",
        lines=("Raw and unfiltered",),
        best_before=BestBefore.read("2028-06-30"),
        origin=(Share("US", Decimal(100)),),
        maker={"name": "Pretend Hollow", "street": "4 Pretend Lane", "city": "Pretendton", "region": "VA"},
        panel=JAR,
        situation={"home_kitchen": True, "own_hives": True, "sells_to": ("stall",)},
    )
    return label_case(words, [market(code, DAY)], "en_US")


def content_of(code: str, kind: str = "front"):
    return barred(linked(compose(case_of(code), kind=kind).content))


def test_an_ornament_that_found_no_room_is_said_aloud_and_one_that_is_there_is_not():
    small, large = (place(label("us"), outline(name), design("press")) for name in (SMALL[0], "letter-2x2-102x127"))
    says = "There was no room for the ornament of press; a larger label has it."
    assert (says in small.notes, says in large.notes) == (True, False)


@pytest.mark.exhaustive(one_in=5)
@pytest.mark.parametrize("sheet_name", SMALL)
@pytest.mark.parametrize("look", NAMES)
def test_ornament_slogans_and_bars_are_gone_before_a_word_moves(look, sheet_name):
    placed = place(content_of("us-fl"), outline(sheet_name), design(look))
    if not set(placed.moved) - {"line", "link", "storage"}:
        return
    assert {"line", "link"} <= set(placed.moved)
    assert not [mark for mark in placed.marks if isinstance(mark, BarcodeMark | MatrixMark)]
    # Ornament may come back where the same words stay with it as without.
    bare = place(content_of("us-fl"), outline(sheet_name), bald(design(look)))
    assert placed.moved == bare.moved, (look, sheet_name)


@pytest.mark.parametrize("look", NAMES)
def test_a_front_without_a_word_it_must_say_does_not_print_alone(look):
    content, warnings = content_of("us-fl"), case_of("us-fl").warnings
    front = place(content, outline("letter-3x10-67x25"), design(look))
    assert front.moved and set_of(content, [front], warnings).stops
    back = place(content_of("us-fl", "back"), outline("letter-2x3-102x85"), design(look))
    assert set_of(content, [front, back], warnings).stops == ()


@pytest.mark.exhaustive(one_in=5)
@pytest.mark.parametrize("kind", [kind for kind in OF_A_JAR if kind != "nutrition"])
@pytest.mark.parametrize("look", NAMES)
def test_a_print_of_any_kind_warns_of_infants_or_is_stopped(look, kind):
    sheets = {"wrap": "letter-1x5-203x51", "lid": "letter-3x4-d64", "seal": "letter-2x10-102x25"}
    for sheet_name in dict.fromkeys((sheets.get(kind, "letter-2x3-102x85"), *SMALL)):
        content = content_of("us", kind)
        try:
            placed = place(content, outline(sheet_name), design(look))
        except LabelTooSmall:
            continue
        warned = "infants" in " ".join(mark.text for mark in placed.marks if isinstance(mark, Text))
        stops = set_of(content, [placed], case_of("us").warnings).stops
        assert warned or any("infants" in stop for stop in stops), (look, kind, sheet_name)


@pytest.mark.exhaustive(one_in=5)
@pytest.mark.parametrize("sheet_name", ("letter-2x5-102x51", "letter-3x3-64x76", "letter-2x3-102x85", *SMALL[2:]))
@pytest.mark.parametrize("look", NAMES)
def test_the_name_is_half_as_large_as_the_largest_print_at_least(look, sheet_name):
    """FDA, A Food Labeling Guide, on 21 CFR 101.3(d): the statement of identity beside the largest print (second-hand)."""
    for content in (content_of("us-fl"), label("ca"), label("eu")):
        placed = place(content, outline(sheet_name), design(look))
        texts = [mark for mark in placed.marks if isinstance(mark, Text)]
        capitals = {mark: mark.face.outline("H")[3] * mark.size / mark.face.units for mark in texts}
        name = min(high for mark, high in capitals.items() if mark.role == "name")
        assert 2 * name >= max(capitals.values()) - 1, (look, sheet_name, content.market)


@pytest.mark.parametrize("code", MARKETS)
@pytest.mark.parametrize("look", NAMES)
def test_every_height_has_a_reserve_for_a_printer_that_prints_small(look, code):
    """At 99 % of its size every letter is still as high as the law asks."""
    placed = place(label(code), outline("letter-2x3-102x85"), design(look))
    for row in placed.rows:
        if row.required is not None and row.item in ("net quantity", "product name", "infant caution", "address"):
            assert row.placed * Decimal("0.99") >= row.required, row
