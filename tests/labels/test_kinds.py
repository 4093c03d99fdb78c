"""Every kind of label, every design, every sheet, every market: placed cleanly or refused with the millimetres."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from labelkit.errors.labels import DesignUnclear, LabelTooSmall
from labelkit.labels.design import NAMES, design
from labelkit.labels.label_set import MAY_SAY, low_enough, may_carry, missing_from, said_on, set_of
from labelkit.labels.layout.kinds import PLACERS, place
from labelkit.labels.other_content import bucket_tag_content, case_label_content, price_card_content
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import sheets
from labelkit.measures import Length
from labelkit.paper.marks import BarcodeMark, Text
from tests.labels.looking import crossing_the_frame, faint, over_the_edge, overlaps, unsaid
from tests.labels.samples import LOT, MARKETS, label, linked, outline

FACTS = [
    ("Gross", "28.4 kg (62 lb 9.8 oz)"),
    ("Tare", "1.1 kg"),
    ("Net", "27.3 kg (60 lb 3 oz)"),
    ("Moisture", "17.6 %"),
    ("Harvested", "12 July 2026"),
    ("Yard", "Pretend Hollow"),
    ("Hives", "H1, H4, H7"),
]
TAG = bucket_tag_content("B12", "Pretend Hollow", FACTS)
CASE = case_label_content(
    "Wildflower Honey",
    "Pretend Hollow",
    "16 oz (1 lb) 453 g",
    12,
    [LOT],
    best_before="30 June 2028",
    number="9521234543213",
)
CARD = price_card_content(
    "Wildflower Honey", "$12.00", unit_price="$0.75 per ounce · $26.46 per kilogram", net="Net Wt 16 oz (1 lb) 453 g"
)

#: Kind and the sheets on which it must fit in every design and market; elsewhere it may be refused.
MUST_FIT = {
    "back": {"letter-2x5-102x51", "letter-2x3-102x85", "a4-2x4-99x68", "letter-3x3-64x76", "a4-3x3-60x80"},
    "lid": {"letter-3x4-d64", "letter-4x5-d51", "a4-3x4-d64", "a4-4x6-d40", "letter-2x4-o83x57"},
    "wrap": {"letter-1x5-203x51", "a4-1x5-200x50"},
    "seal": {"letter-2x10-102x25", "a4-2x7-99x38"},
    "tag": {"letter-2x2-102x127", "a4-2x2-99x139", "letter-2x3-102x85"},
    "case": {"letter-2x2-102x127", "a4-2x2-99x139", "letter-2x3-102x85"},
    "card": {"letter-3x3-64x76", "a4-3x3-60x80", "a4-2x4-99x68"},
}


def of_kind(kind: str):
    other = {"tag": TAG, "case": CASE, "card": CARD}.get(kind)
    return [other] if other else [linked(label(code, kind)) for code in MARKETS]


@pytest.mark.exhaustive(one_in=24)
@pytest.mark.parametrize("sheet_name", sheets())
@pytest.mark.parametrize("look", NAMES)
def test_every_kind_keeps_its_place_and_its_words(look, sheet_name):
    for kind in MUST_FIT:
        for content in of_kind(kind):
            where = f"{kind} in {look} on {sheet_name} for {content.market}"
            try:
                placed = place(content, outline(sheet_name), design(look))
            except LabelTooSmall as told:
                assert sheet_name not in MUST_FIT[kind], f"{where}: {told}"
                continue
            assert not list(overlaps(placed)), where
            assert not list(over_the_edge(placed)), where
            assert not list(crossing_the_frame(placed)), where
            assert not list(faint(placed, design(look))), where
            assert not list(unsaid(placed.content, placed)), where
            assert [row for row in placed.rows if not row.ok] == [], where


def test_all_kinds_were_walked():
    assert set(PLACERS) == {"front", "nutrition", *MUST_FIT}
    with pytest.raises(DesignUnclear, match="no label of that kind"):
        place(replace(CARD, kind="banner"), outline("letter-2x3-102x85"), design("press"))


def test_a_back_label_carries_the_till_number_at_its_standard_height_where_there_is_room():
    """GS1 General Specifications: 18.28 mm at least for EAN-13 at 80 % magnification."""
    content = replace(label("us", "back"), number="9521234543213")
    placed = place(content, outline("letter-2x3-102x85"), design("press"))
    (till,) = [mark for mark in placed.marks if isinstance(mark, BarcodeMark) and mark.bars.kind.name == "EAN-13"]
    assert till.high >= 18_280 and till.module.dots == 8
    low = place(content, Outline(44_000, 60_000), design("press"))
    assert any("the standard asks 18.28 mm" in note for note in low.notes)


def test_a_case_carries_its_number_and_lot_for_the_carrier():
    placed = place(CASE, outline("a4-2x2-99x139"), design("ledger"))
    said = [mark.bars.text for mark in placed.marks if isinstance(mark, BarcodeMark)]
    assert said[0].startswith("(01)19521234543210")
    module = next(mark.module for mark in placed.marks if isinstance(mark, BarcodeMark))
    assert module.mm >= Decimal("0.495")  # GS1 General Specifications 5.4.4


def test_a_front_and_a_back_together_say_all_that_must_be_said():
    """What the small front leaves out stands on the back; without the back it is missed by name."""
    content = label("us")
    front = place(content, outline("letter-3x10-67x25"), design("press"))
    back = place(label("us", "back"), outline("letter-2x5-102x51"), design("press"))
    assert front.moved
    assert {one.role for one in missing_from(content, [front])} == {
        role for role in front.moved if content.of(role).must
    }
    assert missing_from(content, [front, back]) == ()


def test_name_and_net_quantity_on_a_lid_alone_are_not_a_front():
    content = label("us")
    lid = place(label("us", "lid"), outline("letter-3x4-d64"), design("press"))
    said = {one.role: one.says for one in missing_from(content, [lid])}
    assert "stands only on the lid" in said["name"] and "stands on none" in said["net"]


def test_the_front_has_to_be_stuck_low_enough_for_the_panel_of_the_jar():
    """21 CFR 101.7(f): the bottom 30 % is that of the panel. By hand: 30 % of 85 mm is 25.5 mm."""
    front = place(label("us"), outline("letter-2x5-102x51"), design("press"))
    top = max(mark.box.top for mark in front.marks if isinstance(mark, Text) and mark.role == "net") / 1000
    assert f"at most {int(25.5 - top)} mm above the foot" in low_enough(front, 85_000)
    assert low_enough(place(label("eu"), outline("letter-2x5-102x51"), design("press")), 85_000) == ""


@pytest.mark.parametrize("code", MARKETS)
def test_a_label_larger_than_the_side_of_its_jar_is_stopped_in_every_market(code):
    """By hand: 3.1416 × 30 mm is 94.2 mm round the jar, and the label is 101.6 mm wide and 50.8 mm high."""
    front, mm = place(label(code), outline("letter-2x5-102x51"), design("press")), Length.of_mm
    for side, short in (
        ({"diameter": mm(60), "height": mm(45)}, "50.8 mm high and the jar's side 45.0 mm"),
        ({"diameter": mm(30), "height": mm(60)}, "101.6 mm wide and the jar's way round it 94.2 mm"),
        ({"width": mm(80), "height": mm(60)}, "101.6 mm wide and the jar's side 80.0 mm"),
        ({"diameter": mm(60), "height": mm(60)}, None),
    ):
        stops = set_of(label(code), [front], (), side).stops
        assert any(short in stop for stop in stops) if short else not stops


def test_a_wrap_has_the_information_panel_to_the_right_of_the_front():
    """21 CFR 101.2(a)."""
    placed = place(label("us", "wrap"), outline("letter-1x5-203x51"), design("meadow"))
    name = [mark.box for mark in placed.marks if getattr(mark, "role", "") == "name"]
    caution = [mark.box for mark in placed.marks if getattr(mark, "role", "") == "caution"]
    assert min(box.left for box in caution) > max(box.right for box in name)
    assert missing_from(label("us"), [placed]) == ()


#: A roomy sheet for each kind that is only a part of a set.
ROOMY = {"back": "letter-2x3-102x85", "lid": "letter-3x4-d64", "seal": "letter-2x10-102x25"}


@pytest.mark.parametrize("kind", [kind for kind in MAY_SAY if kind != "nutrition"])
@pytest.mark.parametrize("look", NAMES)
def test_where_a_missing_word_may_go_is_where_that_kind_says_it(look, kind):
    """The table the check speaks from, held against what each kind says where it has room."""
    content = label("us", kind)
    placed = place(content, outline(ROOMY[kind]), design(look))
    said = set(said_on(placed))
    assert {words.role for words in content.words if words.must and set(words.all) <= said} == {
        words.role for words in content.words if words.must and words.role in MAY_SAY[kind]
    }
    # Name and net quantity belong on the front, whoever else repeats them (21 CFR 101.3(a) and 101.7(a)).
    assert {role for role in MAY_SAY[kind] if kind not in may_carry(role)} == {"name"}
