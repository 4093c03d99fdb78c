"""Continuous rolls: as wide as they are, cut off where the label ends."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from math import isqrt

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.label_set import FRONTS
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import texts_of
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import Sheet

#: The lengths tried, micrometres. A cutter shorter than the first jams; our own eye for the rest, no source.
LENGTHS = range(18_000, 243_000, 3_000)
#: How large the name of a front has to come out, in thousandths of the side of a square as large as the label. Our own eye.
NAME = 75


def cut_to_length(content: LabelContent, roll: Sheet, design: Design, dpi: int) -> Sheet:
    """A continuous roll as the sheet of one label, cut where all words stand on it, those of a front with a name of a
    good size; any other sheet as it is.

    Raises :class:`~labelkit.errors.labels.LabelTooSmall` where no length is enough.
    """
    if not roll.continuous:
        return roll

    def holds(high: int) -> bool:
        try:
            placed = place(content, Outline(roll.wide, high), design, dpi=dpi)
        except LabelTooSmall:
            return False
        if content.kind not in FRONTS or placed.moved:
            return not placed.moved
        name = max((line.size for line in texts_of(placed.marks, "name")), default=0)
        return name * 1000 >= NAME * isqrt(roll.wide * high)

    number = bisect_left(LENGTHS, True, key=holds)
    # Where a good size is reached at no length, the longest is taken, which refuses by itself what it has no room for.
    high = LENGTHS[min(number, len(LENGTHS) - 1)]
    return replace(roll, name=f"{roll.name}x{high // 1000}", high=high, page_high=high)
