"""Which placer a kind of label goes to."""

from __future__ import annotations

from labelkit.errors.labels import DesignUnclear
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.outline import Outline
from labelkit.labels.place.front import place_front
from labelkit.labels.place.placed import Placed

PLACERS = {"front": place_front}


def place(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a label of any kind on an outline."""
    placer = PLACERS.get(content.kind)
    if placer is None:
        raise DesignUnclear(content.kind, "there is no label of that kind", sorted(PLACERS))
    return placer(content, outline, design, dpi=dpi, bleed=bleed)
