"""Tags hang by a hole: words and weight stand under it, a plain ring lies round it, and the line to punch by is fine."""

from __future__ import annotations

import pytest

from labelkit.errors.labels import SheetImpossible
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import RING
from labelkit.labels.sheets import as_toml, read_sheets, sheet, sheets
from labelkit.measures import Length
from labelkit.paper.marks import Shape
from labelkit.season.label_paper import usual_sheet
from tests.labels.looking import crossing_the_frame, over_the_edge, overlaps
from tests.labels.samples import label

TAGS = [one.name for one in sheets().values() if one.hole]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("tag", TAGS)
def test_no_word_of_any_design_stands_in_the_hole_or_its_ring(tag, name):
    placed = place(label("us"), sheet(tag).outline, design(name))
    hole = placed.outline.hole_box.grown(RING)
    words = [mark.box for mark in placed.marks if not getattr(mark, "behind", False)]
    assert words and not any(box.meets(hole) for box in words)
    assert placed.ok and not list(overlaps(placed)) and not list(over_the_edge(placed))
    assert not list(crossing_the_frame(placed))
    ring, punch = (mark for mark in placed.marks if isinstance(mark, Shape) and mark.role == "hole")
    assert ring.fill and punch.fill is None and punch.box.width == pytest.approx(placed.outline.hole, abs=200)


def test_a_tag_of_ones_own_keeps_its_hole_in_its_file_and_a_hole_off_the_tag_is_refused():
    tag = sheet("letter-4x3-t51x89")
    assert read_sheets(as_toml(tag), "mine.toml") == [tag]
    with pytest.raises(SheetImpossible, match="hole"):
        read_sheets(as_toml(tag).replace('"7.500 mm"', '"3.000 mm"'), "mine.toml")


def test_no_tag_is_taken_for_a_jar_where_none_is_named():
    jar = {"diameter": Length.of_mm(70), "height": Length.of_mm(200)}
    assert sheet(usual_sheet("front", ("us",), jar)).hole == 0
