"""Every design on every sheet in every market: nothing over the edge, nothing overlapping, nothing too low, nothing lost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.sheets import sheets
from labelkit.paper.marks import BarcodeMark, MatrixMark
from tests.labels.looking import crossing_the_frame, faint, over_the_edge, overlaps, unsaid
from tests.labels.samples import MARKETS, barred, label, linked, outline

# A jar of 70 × 85 mm owes letters of 3.2 mm in the United States, in the bottom 30 % of its label: on a round of 40 mm
# the chord there is 30 mm long, and the shortest lawful statement is longer.
TOO_SMALL = {("a4-4x6-d40", "us")}


@pytest.mark.exhaustive(one_in=24)
@pytest.mark.parametrize("sheet_name", sheets())
@pytest.mark.parametrize("look", NAMES)
def test_a_front_keeps_its_place_its_height_and_its_words(look, sheet_name):
    for code in MARKETS:
        content = label(code)
        if (sheet_name, code) in TOO_SMALL:
            with pytest.raises(LabelTooSmall):
                place(content, outline(sheet_name), design(look))
            continue
        placed = place(content, outline(sheet_name), design(look))
        where = f"{look} on {sheet_name} for {code}"
        assert not list(overlaps(placed)), where
        assert not list(over_the_edge(placed)), where
        assert not list(crossing_the_frame(placed)), where
        assert not list(unsaid(content, placed)), where
        assert not list(faint(placed, design(look))), where
        assert [row for row in placed.rows if not row.ok] == [], where
        assert {"name", "net"}.isdisjoint(placed.moved)


@pytest.mark.parametrize("look", NAMES)
def test_a_large_label_moves_nothing_and_carries_bars_and_link(look):
    for name in ("a4-2x2-99x139", "letter-2x3-102x85"):
        placed = place(barred(linked(label("us"))), outline(name), design(look))
        assert placed.moved == ()
        symbols = [type(mark) for mark in placed.marks if isinstance(mark, BarcodeMark | MatrixMark)]
        assert len(symbols) == 2 and set(symbols) == {BarcodeMark, MatrixMark}
        assert not list(overlaps(placed)) and not list(over_the_edge(placed))


@pytest.mark.parametrize(
    ("lot_bars", "symbols"), [("none", []), ("code128", ["BarcodeMark"]), ("datamatrix", ["MatrixMark"])]
)
@pytest.mark.parametrize(
    ("kind", "sheet_name"),
    [("front", "letter-2x3-102x85"), ("back", "letter-2x3-102x85"), ("wrap", "letter-1x5-203x51")],
)
def test_the_lot_stands_in_letters_and_in_bars_only_where_they_are_asked_for(kind, sheet_name, lot_bars, symbols):
    content = replace(label("us", kind), lot_bars=lot_bars)
    placed = place(content, outline(sheet_name), design("press"))
    assert [type(mark).__name__ for mark in placed.marks if isinstance(mark, BarcodeMark | MatrixMark)] == symbols
    assert sum("L26195AXR" in getattr(mark, "text", "") for mark in placed.marks) == 1


def test_bars_with_no_room_leave_the_lot_in_letters_and_that_is_said():
    placed = place(barred(label("us")), outline("letter-4x5-d51"), design("press"))
    assert not [mark for mark in placed.marks if isinstance(mark, BarcodeMark)]
    assert any("no room for the bars of the lot" in note for note in placed.notes)


def test_what_does_not_fit_the_front_is_named_as_moved():
    placed = place(label("us"), outline("letter-3x10-67x25"), design("press"))
    assert set(placed.moved) >= {"origin", "best_before"}
    assert any("needed on another one of the jar" in note for note in placed.notes)


def test_the_net_quantity_of_the_united_states_stands_in_the_bottom_30_per_cent_with_clear_space():
    """21 CFR 101.7(f): bottom 30 %, its own height clear above and below, twice the width of its N beside."""
    placed = place(label("us"), outline("letter-2x3-102x85"), design("ledger"))
    rows = {row.item: row for row in placed.rows}
    assert rows["net quantity, place"].placed <= rows["net quantity, place"].required
    assert rows["net quantity, clear above and below"].placed >= rows["net quantity"].placed
    assert rows["net quantity, height to width"].placed <= 3


def test_a_net_quantity_too_wide_for_the_label_is_refused_with_the_millimetres():
    from labelkit.labels.outline import Outline

    with pytest.raises(LabelTooSmall) as told:
        place(label("us"), Outline(24_000, 60_000), design("press"))
    assert "mm too wide" in told.value.what and "wider label" in told.value.do


def test_a_long_name_is_broken_and_set_smaller_but_never_under_its_height():
    content = label("us")
    name = replace(
        content.of("name"),
        text="Late Summer Wildflower, Goldenrod and Aster Honey of the Upper Nowhere Valley and Its Seven Invented Side Valleys",
    )
    longer = replace(content, words=tuple(name if words.role == "name" else words for words in content.words))
    placed = place(longer, outline("letter-2x3-102x85"), design("press"))
    assert not list(unsaid(longer, placed)) and not list(overlaps(placed)) and not list(over_the_edge(placed))
    assert placed.ok


def test_one_long_word_breaks_where_its_language_breaks_it():
    content = label("eu")
    placed = place(content, outline("letter-3x3-64x76"), design("press"))
    lines = [mark.text for mark in placed.marks if getattr(mark, "role", "") == "name"]
    assert lines in (["Lindenblütenhonig"], ["Lindenblü-", "tenhonig"], ["Lindenblüten-", "honig"])


def test_two_languages_both_stand_on_the_label_at_the_same_size():
    """Safe Food for Canadians Regulations s. 206(1): both languages."""
    placed = place(label("ca"), outline("a4-2x4-99x68"), design("meadow"))
    sizes = {mark.size for mark in placed.marks if getattr(mark, "role", "") == "name"}
    said = " ".join(mark.text for mark in placed.marks if getattr(mark, "role", "") == "name")
    assert "Clover" in said and "Miel" in said and len(sizes) == 1


def test_bars_stand_on_whole_dots_and_fit_the_jar():
    from labelkit.measures import Length

    wide = replace(barred(label("us")), diameter=Length.read("90 mm", "en_US"))
    narrow = replace(barred(label("us")), diameter=Length.read("50 mm", "en_US"))
    sheet_name = "letter-2x3-102x85"
    (bars,) = [
        mark
        for mark in place(wide, outline(sheet_name), design("press"), dpi=300).marks
        if isinstance(mark, BarcodeMark)
    ]
    assert bars.module.dpi == 300 and bars.module.dots == 3
    placed = place(narrow, outline(sheet_name), design("press"))
    (bars,) = [mark for mark in placed.marks if isinstance(mark, BarcodeMark)]
    assert bars.ladder
    # By hand: a sixth of the way round is 3.1416 × 50 / 6 = 26.18 mm.
    assert any(
        "a jar of 50 mm across 26.2 mm" in note or "a jar of 50 mm across 26.1 mm" in note for note in placed.notes
    )
    assert any("turned a quarter round" in note for note in placed.notes)
    assert not list(overlaps(placed)) and not list(over_the_edge(placed)) and not list(unsaid(narrow, placed))


def test_the_same_label_is_placed_the_same_way_twice():
    one, two = (place(label("us"), outline("letter-2x5-102x51"), design("meadow")) for _ in range(2))
    assert one.marks == two.marks
