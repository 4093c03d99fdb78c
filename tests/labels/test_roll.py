"""A continuous roll is cut where the label ends: every word on it, no longer than it has to be."""

from __future__ import annotations

import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.design import design
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import Outline
from labelkit.labels.roll import cut_to_length
from labelkit.labels.sheets import sheet
from tests.labels.samples import label


@pytest.mark.parametrize("code", ["us", "eu"])
def test_every_word_stands_on_the_length_that_is_cut_and_not_on_a_shorter_one(code):
    cut = cut_to_length(label(code), sheet("roll-62"), design("press"), 600)
    assert (cut.name, cut.page_high) == (f"roll-62x{cut.high // 1000}", cut.high)
    assert not place(label(code), Outline(62_000, cut.high), design("press")).moved
    shorter = Outline(62_000, cut.high - 6_000)
    try:
        found = place(label(code), shorter, design("press"))
    except LabelTooSmall:
        return
    name = max(mark.size for mark in found.marks if getattr(mark, "role", "") == "name")
    assert found.moved or name * 1000 < 75 * (62_000 * shorter.high) ** 0.5


def test_a_sheet_and_a_roll_of_labels_stay_as_they_are():
    for name in ("letter-2x5-102x51", "roll-102x76"):
        assert cut_to_length(label("us"), sheet(name), design("press"), 600) == sheet(name)


def test_a_roll_too_narrow_for_the_net_quantity_is_refused():
    narrow = cut_to_length(label("us"), sheet("roll-12"), design("press"), 600)
    with pytest.raises(LabelTooSmall):
        place(label("us"), Outline(narrow.wide, narrow.high), design("press"))
