"""Designs with less ink and with one ink alone."""

from __future__ import annotations

from itertools import chain

import pytest

from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.paper.marks import Clipped, Shape, Text
from tests.labels.samples import label, outline

FRONT = "letter-2x5-102x51"


def colours(name: str, ink: str, kind: str = "front", sheet: str = FRONT) -> set:
    """Every colour a label is printed in; bare paper is none."""
    look = design(name, ink)
    marks = place(label("us", kind), outline(sheet), look).marks
    flat = chain.from_iterable(mark.marks if isinstance(mark, Clipped) else (mark,) for mark in marks)
    found = set()
    for mark in flat:
        if isinstance(mark, Text):
            found.add(mark.colour)
        elif isinstance(mark, Shape):
            found |= {mark.fill, mark.stroke}
    return found - {None, look.paper, (255, 255, 255)}


@pytest.mark.parametrize("kind, sheet", [("front", FRONT), ("lid", "letter-4x5-d51")])
@pytest.mark.parametrize("name", NAMES)
def test_a_design_in_one_ink_is_printed_in_one_colour_alone(name, kind, sheet):
    assert len(colours(name, "one", kind, sheet)) == 1


@pytest.mark.parametrize("name", NAMES)
def test_a_design_with_less_ink_lays_no_ground(name):
    assert design(name, "less").ground is None


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("ink", ["less", "one"])
def test_with_less_ink_every_word_stays_on_the_label_at_its_height(name, ink):
    full, other = (place(label("us"), outline(FRONT), design(name, how)) for how in ("full", ink))
    assert other.ok and not set(other.moved) - set(full.moved)
