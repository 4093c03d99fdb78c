"""Strips: the one-piece wrap, and the seal that runs over lid and glass."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.barcodes.dots import on_grid
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.fonts import Box
from labelkit.labels.marks import Mark, Shape, line, rectangle, shifted
from labelkit.labels.outline import Outline
from labelkit.labels.place.board import BLOCK_GAP, Board, board, inks_on
from labelkit.labels.place.codes import block_size, rows_marks
from labelkit.labels.place.flow import INFO_ROLES, flow, paragraphs, sizes_for
from labelkit.labels.place.front import place_front
from labelkit.labels.place.placed import Placed, rows_of
from labelkit.labels.place.recipes import back_codes

#: The middle panel of a wrap is the one that faces the buyer: 40 % of the way round (21 CFR 101.1(b)).
FRONT_SHARE = 40


def place_wrap(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """A wrap in three panels: symbols on the left, the front in the middle, the small print on the right of it.

    The small print stands to the right of the front, where 21 CFR 101.2(a) looks for the information panel.
    """
    if outline.shape != "rectangle" or outline.wide < 3 * outline.high:
        raise _too_small(content, outline, "a wrap is at least three times as wide as it is high")
    # Each panel keeps its own inset, and the middle begins on a whole dot so that bars in it stay whole.
    wide = outline.wide * FRONT_SHARE // 100
    left = on_grid((outline.wide - wide) // 2, dpi) * 25_400 // dpi
    middle = Outline(wide, outline.high)
    plain = replace(design, frame="none", ground=None)
    front = place_front(
        replace(content.without(*INFO_ROLES), lot=None, link=None, number=None, diameter=None),
        middle,
        plain,
        dpi=dpi,
        bleed=(0, bleed[1]),
    )
    bare = board(outline, replace(design, frame="none"), bleed, dpi)
    right_panel = _print_panel(
        bare, content, Box(left + wide + bare.inset, bare.inset, outline.wide - bare.inset, outline.high - bare.inset)
    )
    left_panel = _code_panel(bare, content, Box(bare.inset, bare.inset, left - bare.inset, outline.high - bare.inset))
    marks = (
        *_grounds(bare, left, wide),
        *(shifted(mark, left, 0, dpi) for mark in front.marks),
        *left_panel,
        *right_panel,
    )
    rows = rows_of(content, marks, outline, bare.inset)
    return Placed(content, design.name, outline, marks, rows, (), front.notes)


def _grounds(bare: Board, left: int, wide: int) -> Iterable[Mark]:
    design, outline, (bx, by) = bare.design, bare.outline, bare.bleed
    if design.ground is not None:
        yield Shape(outline.path(by, bx), fill=design.ground, behind=True, role="ground")
    if design.side is not None:
        for box in (
            Box(-bx, -by, left, outline.high + by),
            Box(left + wide, -by, outline.wide + bx, outline.high + by),
        ):
            yield Shape(rectangle(box), fill=design.side, behind=True, role="ground")
        return
    colour = design.palette[1 % len(design.palette)]
    for x in (left, left + wide):
        yield Shape(
            line(x, bare.inset, x, outline.high - bare.inset), stroke=colour, width=130, behind=True, role="frame"
        )


def _print_panel(bare: Board, content: LabelContent, box: Box) -> tuple[Mark, ...]:
    design = bare.design
    said = paragraphs(content, design, ("lot",) if _lot_beside(bare, content, box) else ())
    zone = bare.zone(box)
    for size in sizes_for(said, max(2400, bare.outline.high // 15)):
        put = flow(said, zone.span, box.top, size, "left", content.lang, inks_on(design, "side"))
        if put is not None:
            spare = (put.bottom - box.bottom) // 2
            return tuple(shifted(mark, 0, -spare, bare.dpi) for mark in put.marks)
    raise _too_small(
        content,
        bare.outline,
        f"the small print does not fit {box.width / 1000:.0f} × {box.height / 1000:.0f} mm at its least sizes",
    )


def _lot_beside(bare: Board, content: LabelContent, box: Box) -> bool:
    return any(block.words for block in _codes(bare, content, box))


def _codes(bare: Board, content: LabelContent, box: Box):
    for codes in back_codes(content, bare.design, bare.dpi):
        wide, high = block_size(codes, box.width, BLOCK_GAP)
        if wide <= box.width and high <= box.height:
            return codes
    return []


def _code_panel(bare: Board, content: LabelContent, box: Box) -> list[Mark]:
    design = bare.design
    codes = _codes(bare, content, box)
    spare = (box.height - block_size(codes, box.width, BLOCK_GAP)[1]) // 2
    floor = Box(box.left, box.bottom + spare, box.right, box.top)
    return rows_marks(codes, floor, BLOCK_GAP, "centre", design.side or design.under, inks_on(design, "side")[0])


def place_seal(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """A seal in three parts: the middle over the lid says who made it, the ends on the glass say lot and date."""
    bare = board(outline, replace(design, frame="none", base=None, side=None, band="none"), bleed, dpi)
    third = outline.wide // 3
    marks: list[Mark] = []
    if design.ground is not None:
        marks.append(Shape(outline.path(bleed[1], bleed[0]), fill=design.ground, behind=True, role="ground"))
    for x in (third, outline.wide - third):
        marks += _dashes(bare, x)
    for part, roles in enumerate((("lot",), ("maker", "name"), ("best_before",))):
        box = Box(part * third + bare.inset, bare.inset, (part + 1) * third - bare.inset, outline.high - bare.inset)
        marks += _seal_part(bare, content, roles, box)
    said = LabelContent(
        "seal", content.every("maker", "name", "lot", "best_before"), content.lang, content.langs, market=content.market
    )
    return Placed(said, design.name, outline, tuple(marks), rows_of(said, marks, outline, bare.inset))


def _dashes(bare: Board, x: int) -> Iterable[Mark]:
    """Where the seal bends over the edge of the lid."""
    colour = bare.design.type["info"].colour
    for y in range(bare.inset, bare.outline.high - bare.inset, 2400):
        yield Shape(
            line(x, y, x, min(y + 1200, bare.outline.high - bare.inset)),
            stroke=colour,
            width=120,
            behind=True,
            role="frame",
        )


def _seal_part(bare: Board, content: LabelContent, roles: tuple[str, ...], box: Box) -> tuple[Mark, ...]:
    from labelkit.labels.place.flow import Paragraph

    held = bare.design.type
    said = [
        Paragraph(
            words.role,
            held[_style(words.role)].cased(" / ".join(words.all)),
            held[_style(words.role)].face,
            words.height,
        )
        for words in content.every(*roles)
    ]
    if not said:
        return ()
    zone = bare.zone(box)
    for size in sizes_for(said, max(2600, bare.outline.high // 7)):
        put = flow(
            said, zone.span, box.top, size, "centre", content.lang, (held["info"].colour, held["caution"].colour)
        )
        if put is not None:
            spare = (put.bottom - box.bottom) // 2
            moved = (shifted(mark, 0, -spare, bare.dpi) for mark in put.marks)
            return tuple(replace(mark, colour=held[_style(mark.role)].colour) for mark in moved)
    raise _too_small(content, bare.outline, f"{' and '.join(roles)} do not fit a third of it")


def _style(role: str) -> str:
    return role if role in ("maker", "name") else "info"


def _too_small(content: LabelContent, outline: Outline, reason: str) -> LabelTooSmall:
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    return LabelTooSmall(f"The {content.kind}", label, reason, "Choose a larger label of that kind, or say less on it.")
