"""The seal: a strip that runs over lid and glass."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import Board, bald, board
from labelkit.labels.layout.flow import Paragraph, flow, sizes_for
from labelkit.labels.layout.placed import WHERE, Placed, rows_of
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Mark, Shape, line, shifted


def place_seal(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """A seal in three parts: the middle over the lid says who made it, the ends on the glass say lot and date."""
    bare = board(outline, bald(design), bleed, dpi)
    edges = (0, outline.wide * 3 // 10, outline.wide - outline.wide * 3 // 10, outline.wide)
    marks: list[Mark] = []
    if design.ground is not None:
        marks.append(Shape(outline.path(bleed[1], bleed[0]), fill=design.ground, behind=True, role="ground"))
    for x in edges[1:3]:
        marks += _dashes(bare, x)
    for part, roles in enumerate((("lot",), ("maker", "name"), ("best_before",))):
        box = Box(edges[part] + bare.inset, bare.inset, edges[part + 1] - bare.inset, outline.high - bare.inset)
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
    held = bare.design.type
    said = [
        Paragraph(
            words.role,
            held[_style(words.role)].cased(words.text),
            held[_style(words.role)].face,
            words.height,
            tuple(map(held[_style(words.role)].cased, words.also)),
        )
        for words in content.every(*roles)
    ]
    if not said:
        return ()
    zone = bare.zone(box)
    for size in sizes_for(said, max(2600, bare.outline.high // 7)):
        put = flow(
            said, zone.span, box.top, size, "centre", content.spoken, (held["info"].colour, held["caution"].colour)
        )
        if put is not None:
            spare = (put.bottom - box.bottom) // 2
            moved = (shifted(mark, 0, -spare, bare.dpi) for mark in put.marks)
            return tuple(replace(mark, colour=held[_style(mark.role)].colour) for mark in moved)
    raise _too_small(content, bare.outline, f"{_named(roles)} at the least size {_wanting(bare, content, said, box)}")


def _named(roles: tuple[str, ...]) -> str:
    return " and ".join(WHERE.get(role, role) for role in roles)


def _wanting(bare: Board, content: LabelContent, said: list[Paragraph], box: Box) -> str:
    """How much wider the whole seal would have to be for one of its parts."""
    least = sizes_for(said, 0)[-1]
    outline_share = bare.outline.wide / (box.width + 2 * bare.inset)
    for more in range(500, 400_000, 500):

        def room(low: int, high: int, more=more) -> tuple[int, int]:
            return box.left, box.right + more

        put = flow(said, room, box.top, least, "centre", content.spoken, (BLACK, BLACK))
        if put is not None and put.bottom >= box.bottom:
            return f"{'wants' if len(said) == 1 else 'want'} {more * outline_share / 1000:.1f} mm more width of the whole strip"
    put = flow(
        said,
        lambda low, high: (box.left, box.right + 400_000),
        box.top,
        least,
        "centre",
        content.spoken,
        (BLACK, BLACK),
    )
    return f"want {(box.bottom - put.bottom) / 1000:.1f} mm more height" if put else "fit no strip"


def _style(role: str) -> str:
    return role if role in ("maker", "name") else "info"


def _too_small(content: LabelContent, outline: Outline, reason: str) -> LabelTooSmall:
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    return LabelTooSmall(f"The {content.kind}", label, reason, "Choose a larger label of that kind, or say less on it.")
