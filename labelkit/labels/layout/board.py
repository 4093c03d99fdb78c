"""The board: one label as it lies before us, with the room its ornament leaves, and the title set into what is free."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import isqrt

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design, contrast
from labelkit.labels.layout.codes import (
    Block,
)
from labelkit.labels.layout.net import Net
from labelkit.labels.layout.title import SMALLEST_NAME, Title, set_title
from labelkit.labels.ornaments import Room, ornament
from labelkit.labels.outline import Outline, Zone
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Colour, Mark, Text

CLEAR = 1300
BLOCK_GAP = 1500
#: The least room from the edge, micrometres: what cutting by hand leaves alone. Common practice, no source.
LEAST_INSET = 1500


@dataclass(frozen=True)
class Plan:
    """What is to be placed in one try; ``level`` counts upwards as less is kept.

    ``wanted`` is how large the name has to come out, in thousandths of the label's side, for this not to be tried.
    """

    content: LabelContent
    codes: tuple[Block, ...]
    moved: tuple[str, ...] = ()
    level: int = 0
    wanted: int = 0


@dataclass(frozen=True)
class Board:
    """The label as it lies before us: outline, design, the room for words, colour over the edge."""

    outline: Outline
    design: Design
    room: Room
    bleed: tuple[int, int]
    dpi: int
    lowest: dict[Net, int] = field(default_factory=dict, compare=False)
    full: dict[tuple, int] = field(default_factory=dict, compare=False)

    @property
    def small(self) -> int:
        """The side of a square as large as the label: what its type is scaled by."""
        return isqrt(self.outline.wide * self.outline.high)

    @property
    def inset(self) -> int:
        """The least of the room from any edge."""
        return min(self.room.left, self.room.bottom, self.room.right, self.room.top)

    @property
    def box(self) -> Box:
        """The room for words."""
        room = self.room
        return Box(room.left, room.bottom, self.outline.wide - room.right, self.outline.high - room.top)

    @property
    def align(self) -> str:
        """Round labels are centred whatever the design likes."""
        return self.design.align if self.outline.shape == "rectangle" else "centre"

    def zone(self, box: Box) -> Zone:
        return Zone(self.outline, box, self.inset)


@dataclass(frozen=True)
class Try:
    """One arrangement that fitted; ``edge`` is the middle between its columns, where it has two."""

    title: Title
    words: tuple[Mark, ...]
    plan: Plan
    edge: int | None = None

    @property
    def marks(self) -> tuple[Mark, ...]:
        return (*self.title.marks, *self.words)


def board(
    outline: Outline, design: Design, bleed: tuple[int, int] = (0, 0), dpi: int = 600, kind: str = "front"
) -> Board:
    """A design on an outline, with the room its ornament leaves."""
    own = ornament(design.ornament)
    room = own.room(outline, kind) if own else None
    small = min(outline.wide, outline.high)
    if room is None:
        design, room = bald(design), Room.even(max(1300, min(3000, small // 26)) + small // 60)
    elif room.centred:
        design = replace(design, align="centre")
    return Board(outline, design, _under_the_hole(room, outline), bleed, dpi)


def bald(design: Design) -> Design:
    """A design with no ornament, its words all on the one ground."""
    return replace(design, ornament="", base=None, side=None)


def closer(bare: Board) -> Board:
    """The same label with no ornament and the least margin that a cutter leaves alone."""
    return replace(
        bare,
        design=bald(bare.design),
        room=_under_the_hole(Room.even(min(bare.inset, LEAST_INSET)), bare.outline),
        lowest={},
        full={},
    )


def _under_the_hole(room: Room, outline: Outline) -> Room:
    return replace(room, top=max(room.top, outline.top_kept))


def crowned(
    bare: Board, plan: Plan, whole: Box, top: int, marks: tuple[Mark, ...], edge: int | None = None
) -> Try | None:
    """The title into what is left above ``top``."""
    most = min(18_000, bare.small * 17 // 100)
    beside = max((mark.face.extent("H", mark.size)[1] for mark in marks if isinstance(mark, Text)), default=0)
    # Where the title found no room above one height, it finds none above a greater one.
    asked = (plan.content.every("maker", "name", "line"), whole.left, whole.right)
    if whole.top - top < SMALLEST_NAME or top >= bare.full.get(asked, top + 1):
        return None
    zone = bare.zone(Box(whole.left, top, whole.right, whole.top - bare.room.crown))
    title = set_title(plan.content, bare.design, zone, most, beside=beside, room=bare.room)
    if title is None:
        bare.full[asked] = top
        return None
    return Try(title, marks, plan, edge)


def symbol_ground(design: Design) -> Colour:
    """The darkest of what a symbol may come to stand on: a patch under it has to be lighter than that."""
    held = design.type["info"]
    grounds = (design.under, held.on_base and design.base, held.on_side and design.side)
    return min(filter(None, grounds), key=lambda ground: contrast(ground, BLACK))


def inks_on(design: Design):
    """The colours of small words: plain, and of what warns."""
    return design.type["info"].colour, design.type["caution"].colour
