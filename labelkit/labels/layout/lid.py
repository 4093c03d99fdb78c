"""The lid: maker, name and, if wished, date and lot; round as a rule."""

from __future__ import annotations

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import CLEAR, Board, Plan, Try, bald, board, crowned, inks_on
from labelkit.labels.layout.flow import flow, paragraphs, sizes_for
from labelkit.labels.layout.front import finished
from labelkit.labels.layout.placed import Placed
from labelkit.labels.outline import Outline

#: What a lid may carry beside maker, name and free lines; the rest belongs on the glass.
SMALL = ("best_before", "lot")


def place_lid(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a lid. Raises :class:`~labelkit.errors.labels.LabelTooSmall` when the name does not fit."""
    for roles in (("maker", "name", *SMALL), ("maker", "name")):
        held = LabelContent(
            "lid", content.every(*roles), content.lang, content.langs, lot=content.lot, market=content.market
        )
        for look in (design, bald(design)):
            bare = board(outline, look, bleed, dpi, "lid")
            found = _lid(bare, held)
            if found is not None:
                return finished(bare, held, found, design, "lid")
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    raise LabelTooSmall(
        "The lid",
        label,
        "the name does not fit it even at its smallest",
        "Choose a larger lid label or a shorter name.",
    )


def _lid(bare: Board, content: LabelContent) -> Try | None:
    outline, whole, plan = bare.outline, bare.box, Plan(content, ())
    said = paragraphs(content, bare.design)
    if not said:
        return crowned(bare, plan, whole, whole.bottom, ())
    for size in sizes_for(said, max(2300, bare.small // 30)):
        for raised in range(0, outline.high // 3, 400):
            top = whole.bottom + raised + size * 13 // 10 * len(said)
            put = flow(
                said,
                bare.zone(whole).span,
                top,
                size,
                bare.align,
                content.spoken,
                inks_on(bare.design),
                outline.shape == "rectangle",
            )
            if put is not None:
                return crowned(bare, plan, whole, put.top + max(CLEAR, bare.room.foot), put.marks)
    return None
