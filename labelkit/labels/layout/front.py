"""The front label: which things go on it, and what gives way when room is short.

Three arrangements are tried (:mod:`.arrange`). What cannot be kept moves to another label of the set, the least needed
on the front first; the product name and the net quantity never move. Nothing is ever set under its required height.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from labelkit.barcodes.dots import snapped
from labelkit.barcodes.linear import code128
from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.arrange import tries
from labelkit.labels.layout.board import Board, Plan, Try, board
from labelkit.labels.layout.codes import (
    BAR_HEIGHTS,
    bends_away,
    link_squares,
    lot_bars,
    lot_squares,
    round_the_jar,
)
from labelkit.labels.layout.placed import Placed, rows_of
from labelkit.labels.layout.wanting import front_too_small
from labelkit.labels.outline import Outline
from labelkit.paper.marks import Mark, Shape

# What moves to another label when room is short, first the least needed on the front. The product name and the net
# quantity must stand together on it (21 CFR 101.3 and 101.7; Regulation (EU) 1169/2011 Art. 13(5)), so they stay.
GIVE_WAY = (
    "link",
    "storage",
    "ingredients",
    "grade",
    "wording",
    "origin",
    "best_before",
    "address",
    "caution",
    "lot",
    "line",
)


#: The size of the name in thousandths of the label's side: fine as it is; enough not to give up a symbol; enough not to
#: send words to another label. Our own eye, no source.
COMFORTABLE, READY, ENOUGH = 95, 75, 55


def place_front(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a front label. Raises :class:`~labelkit.errors.labels.LabelTooSmall` when name and net do not fit."""
    bare = board(outline, design, bleed, dpi)
    try:
        return _placed_on(bare, content)
    except LabelTooSmall:
        if not bare.frame:
            raise
    # A frame is the first thing to give way.
    return _placed_on(replace(board(outline, replace(design, frame="none"), bleed, dpi), design=design), content)


def _placed_on(bare: Board, content: LabelContent) -> Placed:
    # Two names share the room of one.
    comfortable = COMFORTABLE if len(content.of("name").all) == 1 else READY
    best: Try | None = None
    for plan in plans(content, bare.design, bare.dpi):
        if best is not None and plan.level > best.plan.level and _enough(bare, best, plan):
            break
        for found in tries(bare, plan):
            if found.title.size >= bare.small * comfortable // 1000:
                return finished(bare, content, found)
            if best is None or found.title.size > best.title.size:
                best = found
    if best is None:
        raise front_too_small(content, bare, content.without(*GIVE_WAY))
    return finished(bare, content, best)


def _enough(bare: Board, best: Try, plan: Plan) -> bool:
    """Whether the name of the best arrangement so far is large enough not to give up what the next plan would."""
    return best.title.size >= bare.small * (ENOUGH if plan.moved else READY) // 1000


def plans(content: LabelContent, design: Design, dpi: int) -> Iterator[Plan]:
    """What to try, the fullest label first: the lot in bars, in turned bars, in squares; the link before words."""
    link = link_squares(content, dpi)
    squares = lot_squares(content, design, dpi)
    upright = [lot_bars(content, design, dpi, high) for high in BAR_HEIGHTS]
    turned = [lot_bars(content, design, dpi, high, ladder=True) for high in BAR_HEIGHTS]
    level = 0
    for also in (link, None) if link else (None,):
        for lots in (upright, turned, [squares]) if squares else ([None],):
            for lot in lots:
                if squares and lot is None:
                    continue
                codes = tuple(block for block in (lot, also) if block)
                yield Plan(content, codes, () if also or not link else ("link",), level)
            level += 1
    gone: list[str] = []
    for role in GIVE_WAY:
        if role == "link":
            gone += ["link"] if link else []
        elif content.of(role):
            gone.append(role)
        else:
            continue
        left = content.without(*gone)
        codes = (squares,) if squares and left.of("lot") else ()
        yield Plan(left, codes, tuple(gone), level := level + 1)
        yield Plan(left, (), tuple(gone), level := level + 1)


def finished(bare: Board, content: LabelContent, found: Try) -> Placed:
    design, outline, (bx, by) = bare.design, bare.outline, bare.bleed
    ground: tuple[Mark, ...] = ()
    if design.ground is not None:
        ground = (Shape(outline.path(by, bx), fill=design.ground, behind=True, role="ground"),)
    marks = (*ground, *(replace(mark, behind=True) for mark in bare.frame), *found.marks)
    rows = rows_of(found.plan.content, marks, outline, bare.inset)
    notes = tuple(_notes(content, found, bare))
    return Placed(found.plan.content, design.name, outline, marks, rows, found.plan.moved, notes)


def _notes(content: LabelContent, found: Try, bare: Board) -> Iterator[str]:
    kinds = {block.kind for block in found.plan.codes}
    turned = any(block.ladder for block in found.plan.codes)
    if content.lot and content.kind == "front" and ("bars" not in kinds or turned) and found.plan.content.of("lot"):
        instead = "in bars turned a quarter round" if turned else "in plain text"
        instead = "in a Data Matrix beside its plain text" if "squares" in kinds else instead
        yield f"{why_not_upright(content, bare)}; the lot stands {instead}."
    if found.plan.moved:
        said = ", ".join(role.replace("_", " ") for role in found.plan.moved)
        yield f"Not on this label, and needed on another one of the jar: {said}."


def why_not_upright(content: LabelContent, bare: Board) -> str:
    """Why the lot does not stand in upright bars, with the millimetres."""
    bars = code128(content.lot)
    module = snapped(bars.kind.usual_x, bare.dpi, bars.kind.least_x)
    if bends_away(content, bars, module):
        return f"Bars for the lot would be {round_the_jar(content, bars, module)}"
    return f"The label has no room for upright bars of {module.um(bars.across) / 1000:.1f} mm"
