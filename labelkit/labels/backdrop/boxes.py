"""Words in boxes of the maker's: each box its own words, from its upper edge down, the net quantity and symbols at its foot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import combinations, product

from labelkit.errors.labels import LabelTooSmall, WordBoxUnfit
from labelkit.labels.backdrop.picture import WordBox
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.arrange import clear_space, net_at, standing
from labelkit.labels.layout.board import BLOCK_GAP, LEAST_INSET, Board
from labelkit.labels.layout.codes import Block, block_size, link_squares, lot_symbols, rows_marks, till_bars
from labelkit.labels.layout.flow import INFO_ROLES, Paragraph, flow, paragraphs, sizes_for
from labelkit.labels.layout.net import Net, nets
from labelkit.labels.layout.placed import Placed
from labelkit.labels.layout.title import set_title
from labelkit.labels.ornaments import Room
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, Text, rectangle, shifted

#: Lines that are read together, and bear one colour.
TITLE, NET = ("maker", "name", "line"), ("net",)
#: Where the net quantity stands, and what a box may say.
FRONTS = ("front", "wrap")
SAYS = ("maker", "name", "line", "net", *INFO_ROLES, "codes", "rest")
#: Room inside a box that has a ground of its own, and from the edge of the label, micrometres.
PAD, EDGE = 800, 1000
LARGEST_NAME, CORNER, DEEP = 18_000, 1_200, 150_000


@dataclass(frozen=True)
class BoxedWords:
    """What stands in the boxes: the words that were named, and the marks of all boxes."""

    content: LabelContent
    marks: tuple[Mark, ...]
    moved: tuple[str, ...]
    notes: tuple[str, ...]


def in_boxes(
    placer: Callable[..., Placed],
    boxes: Sequence[WordBox],
    content: LabelContent,
    outline: Outline,
    design: Design,
    dpi: int,
) -> BoxedWords:
    """Set each box; one that says all, or name and net quantity, is placed as a label of its own.

    Raises :class:`~labelkit.errors.labels.WordBoxUnfit` and :class:`~labelkit.errors.labels.LabelTooSmall` with what is
    wanting.
    """
    must_lie_apart(boxes, outline)
    named = {role for box in boxes for role in box.words}
    roles = {words.role for words in content.words}
    codes = _codes(content, design, dpi)
    marks: list[Mark] = []
    moved = [] if "rest" in named else [words.role for words in content.words if words.role not in named]
    notes: list[str] = []
    for number, box in enumerate(boxes, start=1):
        mine = {*box.words, *(roles - named if "rest" in box.words else ())}
        own = codes if "codes" in box.words or ("rest" in box.words and "codes" not in named) else []
        part = content.without(*roles - mine)
        if part.words == content.words or (part.of("name") and part.of("net")):
            placed = _as_a_label(
                placer, box, part if own else replace(part, link=None, number=None), outline, design, dpi
            )
            marks += _coloured(box, [*_ground(box, outline), *placed.marks])
            moved += placed.moved
            notes += placed.notes
        else:
            marks += _box(number, box, part, own, outline, design, dpi)
    gone = ["the symbols"] if codes and not {"codes", "rest"} & named else []
    gone += [role.replace("_", " ") for role in dict.fromkeys(moved) if role in roles - named and "rest" not in named]
    notes += [f"No box says: {', '.join(gone)}."] if gone else []
    return BoxedWords(content.without(*moved), tuple(marks), tuple(dict.fromkeys(moved)), tuple(notes))


def _as_a_label(
    placer: Callable[..., Placed], box: WordBox, content: LabelContent, outline: Outline, design: Design, dpi: int
) -> Placed:
    """What a box says placed within it, as if it were a label; its marks where they lie on the whole label."""
    place, rule = box.on(outline), content.net_rule
    # Words keep so far from the edge of what they are placed on; a ground of their own has its edge there.
    room = place if box.ground is not None else place.grown(LEAST_INSET)
    if rule.bottom_share is not None and content.kind in FRONTS:
        # The share is that of the whole label.
        low = (Decimal(int(outline.high * rule.bottom_share)) - room.bottom) / room.height
        rule = replace(rule, bottom_share=max(Decimal(0), min(low, Decimal(1))))
    look = replace(design, align=box.align or design.align, paper=box.ground or design.paper)
    placed = placer(replace(content, net_rule=rule), Outline(room.width, room.height), look, dpi=dpi)
    return replace(placed, marks=tuple(shifted(mark, room.left, room.bottom, dpi) for mark in placed.marks))


def must_lie_apart(boxes: Sequence[WordBox], outline: Outline) -> None:
    """Refuse boxes off the label, or over one another. Raises :class:`~labelkit.errors.labels.WordBoxUnfit`."""
    for number, box in enumerate(boxes, start=1):
        if not outline.holds(box.on(outline), EDGE):
            raise WordBoxUnfit(
                f"Box {number}",
                f"{box.wide / 1000:g} × {box.high / 1000:g} mm at {box.left / 1000:g} mm from the left and "
                f"{box.top / 1000:g} mm from the top does not lie on the label of {outline.wide / 1000:g} × "
                f"{outline.high / 1000:g} mm, {EDGE / 1000:g} mm within its edge",
            )
    for (one, first), (two, second) in combinations(enumerate(boxes, start=1), 2):
        if first.on(outline).meets(second.on(outline)):
            raise WordBoxUnfit(f"Box {two}", f"it lies over box {one}")


def _codes(content: LabelContent, design: Design, dpi: int) -> list[Block]:
    """The symbols asked for, as high as they are on the label of this kind."""
    lots = [group[0] for group in lot_symbols(content, design, dpi) if group]
    till = till_bars(content, design, dpi, 18_280) if content.number and content.kind in ("back", "wrap") else None
    return [block for block in (till, link_squares(content, dpi), *lots[:1]) if block]


def _box(
    number: int, box: WordBox, content: LabelContent, codes: Sequence[Block], outline: Outline, design: Design, dpi: int
) -> list[Mark]:
    """The marks of one box, its ground first."""
    place = box.on(outline)
    room = place.grown(-PAD) if box.ground is not None else place
    align = box.align or design.align
    look = replace(design, align=align, paper=box.ground or design.paper)
    board = Board(outline, look, Room.even(0), (0, 0), dpi)
    settings: Sequence[Net | None] = (None,)
    if content.of("net"):
        settings = nets(content, look.type["net"], board.small * 4 // 100)
    said = _small(content, look)
    sizes = sizes_for(said, max(2300, board.small // 30))
    best: tuple[int, list[Mark]] | None = None
    for size, net in product(sizes, settings):
        found = _set(board, room, content, codes, said, size, net)
        if found is not None and (best is None or found[0] > best[0]):
            best = found
        if best is not None and best[0] >= board.small * 95 // 1000:
            break
    if best is not None:
        return _coloured(box, [*_ground(box, outline), *best[1]])
    words = ", ".join(word.replace("_", " ") for word in box.words)
    # The same box on a label that goes on below, until it is high enough.
    deep = replace(board, outline=Outline(outline.wide, outline.high + DEEP))
    lower = ((um, replace(room.moved(0, DEEP), bottom=room.bottom + DEEP - um)) for um in range(1000, DEEP, 1000))
    least = sizes[-1]
    short = next(
        (um for um, one in lower if any(_set(deep, one, content, codes, said, least, net) for net in settings)), 0
    )
    raise LabelTooSmall(
        f"What box {number} says ({words})",
        f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm",
        f"the box is {box.wide / 1000:g} × {box.high / 1000:g} mm, and at the least lawful sizes it wants "
        + (f"{short / 1000:g} mm more height" if short else "more width"),
        "Make the box larger, or say some of it in another box.",
    )


def _ground(box: WordBox, outline: Outline) -> list[Mark]:
    if box.ground is None:
        return []
    return [Shape(rectangle(box.on(outline), CORNER), fill=box.ground, behind=True, role="plate")]


def _coloured(box: WordBox, marks: list[Mark]) -> list[Mark]:
    return [replace(mark, colour=box.ink) if box.ink is not None and isinstance(mark, Text) else mark for mark in marks]


def _small(content: LabelContent, design: Design) -> list[Paragraph]:
    """The small print of a box; maker and lines too where the name, which they belong to, stands elsewhere."""
    if content.of("name"):
        return paragraphs(content, design)
    apart = [words for role in ("maker", "line") for words in content.every(role)]
    heads = [
        Paragraph(words.role, design.type[words.role].cased(words.text), design.type[words.role].face, words.height)
        for words in apart
    ]
    return [*heads, *paragraphs(content, design)]


def _set(
    board: Board,
    room: Box,
    content: LabelContent,
    codes: Sequence[Block],
    said: list[Paragraph],
    size: int,
    net: Net | None,
) -> tuple[int, list[Mark]] | None:
    """A box from its foot up: symbols, net quantity, small print, and the title in what is left; with the size of its
    name, or nought. Where there is no name, small print begins at the top."""
    design, bottom, marks = board.design, room.bottom, list[Mark]()
    inks = design.type["info"].colour, design.type["caution"].colour
    if codes:
        wide, high = block_size(list(codes), room.width, BLOCK_GAP)
        if wide > room.width:
            return None
        marks += rows_marks(
            list(codes), replace(room, top=bottom + high), BLOCK_GAP, board.align, design.paper, inks[0]
        )
        bottom += high + BLOCK_GAP
    if net is not None:
        put = net_at(board, net, bottom, room)
        if put is None:
            return None
        marks += put
        bottom += net.high + (clear_space(content, net) if said or content.of("name") else 0)
    name = content.of("name")
    if said:
        zone = board.zone(replace(room, bottom=bottom))
        laid = (
            standing(said, zone, bottom, size, board.align, content.spoken, inks)
            if name
            else flow(said, zone.span, room.top, size, board.align, content.spoken, inks)
        )
        if laid is None or laid.bottom < bottom:
            return None
        marks += laid.marks
        bottom = laid.top + BLOCK_GAP if name else bottom
    if bottom > room.top:
        return None
    if not name:
        return 10**9, marks
    title = set_title(content, design, board.zone(replace(room, bottom=bottom)), LARGEST_NAME)
    return None if title is None else (title.size, [*title.marks, *marks])
