"""Which placer a kind of label goes to."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from labelkit.errors.labels import DesignUnclear, LabelTooSmall
from labelkit.labels.backdrop.placing import place_on_artwork
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.front import place_front
from labelkit.labels.layout.lid import place_lid
from labelkit.labels.layout.panel import place_panel
from labelkit.labels.layout.placed import Placed
from labelkit.labels.layout.recipes import RECIPES
from labelkit.labels.layout.strip import place_seal
from labelkit.labels.layout.wrap import place_wrap
from labelkit.labels.nutrition.layout import place_nutrition
from labelkit.labels.outline import Outline

PLACERS: dict[str, Callable[..., Placed]] = {
    "front": place_front,
    "lid": place_lid,
    "wrap": place_wrap,
    "seal": place_seal,
    "nutrition": place_nutrition,
    **{kind: partial(place_panel, recipe=recipe) for kind, recipe in RECIPES.items()},
}

#: The kinds whose words a jar's own label file holds; tags, case labels and price cards say other things.
OF_A_JAR = ("front", "back", "wrap", "lid", "seal", "nutrition")


def place(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a label of any kind on an outline; without its maker's name beside the address where it fits no other way."""
    placer = PLACERS.get(content.kind)
    if placer is None:
        raise DesignUnclear(content.kind, "there is no label of that kind", sorted(PLACERS))
    if content.artwork is not None:
        placer = partial(place_on_artwork, placer, content.artwork)
    try:
        return placer(content, outline, design, dpi=dpi, bleed=bleed)
    except LabelTooSmall:
        if content.brief is content:
            raise
        return placer(content.brief, outline, design, dpi=dpi, bleed=bleed)
