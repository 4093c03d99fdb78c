"""The seal: a strip that runs over lid and glass."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NoReturn

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import Board, bald, board
from labelkit.labels.layout.flow import Paragraph, flow, sizes_for
from labelkit.labels.layout.front import dressed, left_out
from labelkit.labels.layout.placed import WHERE, Placed, rows_of
from labelkit.labels.ornaments import Scene
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Mark, shifted


def place_seal(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """A seal in three parts: the middle over the lid says who made it, the ends on the glass say lot and date.

    A small ornament stands in the middle where the words leave it the room.
    """
    framed = board(outline, design, bleed, dpi, "seal")
    plain = board(outline, bald(design), bleed, dpi, "seal")
    words = _words(framed, content) if framed.design.ornament else None
    bare = framed if words else plain
    marks, drawn = dressed(
        Scene("seal", bare.design, outline, bleed, words or _words(plain, content) or _refused(plain, content))
    )
    said = LabelContent(
        "seal", content.every("maker", "name", "lot", "best_before"), content.lang, content.langs, market=content.market
    )
    notes = tuple(left_out(drawn, design))
    return Placed(said, design.name, outline, marks, rows_of(said, marks, outline, bare.inset), notes=notes)


#: What each part says, and how much of the strip each end is, in hundredths.
END = 27
PARTS = (("lot",), ("maker", "name"), ("best_before",))


def _boxes(bare: Board) -> Iterator[tuple[tuple[str, ...], Box]]:
    """Each part with its box; the middle leaves its room to the ornament."""
    outline, inset = bare.outline, bare.inset
    edges = (0, outline.wide * END // 100, outline.wide * (100 - END) // 100, outline.wide)
    for part, roles in enumerate(PARTS):
        aside, crown = (bare.room.aside, bare.room.crown) if part == 1 else (0, 0)
        yield (
            roles,
            Box(
                edges[part] + inset + aside,
                bare.room.bottom,
                edges[part + 1] - inset - aside,
                outline.high - inset - crown,
            ),
        )


def _words(bare: Board, content: LabelContent) -> tuple[Mark, ...] | None:
    """The words of all three parts; None where one does not fit."""
    marks: list[Mark] = []
    for roles, box in _boxes(bare):
        part = _seal_part(bare, content, roles, box)
        if part is None:
            return None
        marks += part
    return tuple(marks)


def _refused(bare: Board, content: LabelContent) -> NoReturn:
    for roles, box in _boxes(bare):
        if _seal_part(bare, content, roles, box) is None:
            said = _said(bare, content, roles)
            raise _too_small(
                content, bare.outline, f"{_named(roles)} at the least size {_wanting(bare, content, said, box)}"
            )
    raise AssertionError("every part of the seal fits")


def _said(bare: Board, content: LabelContent, roles: tuple[str, ...]) -> list[Paragraph]:
    held = bare.design.type
    return [
        Paragraph(
            words.role,
            held[_style(words.role)].cased(words.text),
            held[_style(words.role)].face,
            words.height,
            tuple(map(held[_style(words.role)].cased, words.also)),
        )
        for words in content.every(*roles)
    ]


def _seal_part(bare: Board, content: LabelContent, roles: tuple[str, ...], box: Box) -> tuple[Mark, ...] | None:
    """The words of a part; None where they do not fit."""
    held, said = bare.design.type, _said(bare, content, roles)
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
    return None


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
