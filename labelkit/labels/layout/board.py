"""The board: one label as it lies before us, with its frame, its ground, its title and the picture under the title."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import isqrt

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.codes import (
    Block,
)
from labelkit.labels.layout.net import Net
from labelkit.labels.layout.title import SMALLEST_NAME, Title, set_title
from labelkit.labels.ornaments.bands import BANDS
from labelkit.labels.ornaments.frames import FRAMES
from labelkit.labels.outline import Outline, Zone
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Clipped, Mark, Shape, Text, rectangle

CLEAR = 1300
# Under this a frame takes more room than it gives grace.
SMALLEST_FRAMED = 30_000
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
    """The label as it lies before us: outline, design, room from the edge, colour over the edge."""

    outline: Outline
    design: Design
    inset: int
    bleed: tuple[int, int]
    frame: tuple[Mark, ...]
    dpi: int
    lowest: dict[Net, int] = field(default_factory=dict, compare=False)
    full: dict[tuple, int] = field(default_factory=dict, compare=False)

    @property
    def small(self) -> int:
        """The side of a square as large as the label: what its type is scaled by."""
        return isqrt(self.outline.wide * self.outline.high)

    @property
    def align(self) -> str:
        """Round labels are centred whatever the design likes."""
        return self.design.align if self.outline.shape == "rectangle" else "centre"

    def zone(self, box: Box) -> Zone:
        return Zone(self.outline, box, self.inset)


@dataclass(frozen=True)
class Try:
    """One arrangement that fitted. Its picture is drawn only when it is taken: a meadow has thousands of stems."""

    title: Title
    words: tuple[Mark, ...]
    plan: Plan
    under: tuple[Mark, ...] = ()
    picture: Callable[[], tuple[Mark, ...]] | None = None
    ground: tuple[Mark, ...] = ()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All of it, what lies behind first."""
        picture = self.picture() if self.picture else ()
        return (*self.under, *picture, *self.ground, *self.title.marks, *self.words)


def board(outline: Outline, design: Design, bleed: tuple[int, int] = (0, 0), dpi: int = 600) -> Board:
    """Frame and inset of a design on an outline."""
    small = min(outline.wide, outline.high)
    edge = max(1300, min(3000, small // 26))
    framed = FRAMES.get(design.frame)
    if framed is None or small < SMALLEST_FRAMED:
        return Board(outline, design, edge + small // 60, bleed, (), dpi)
    marks, inset = framed(outline, design.palette, edge)
    # On a round label the words keep away from the frame by themselves wherever they are not at their widest.
    pad = max(900, small // 40) if outline.shape == "rectangle" else 600
    return Board(outline, design, inset + pad, bleed, tuple(marks), dpi)


def closer(bare: Board) -> Board:
    """The same label with no ornament and the least margin that a cutter leaves alone."""
    bald = replace(bare.design, frame="none", band="none", divider="none")
    return replace(bare, design=bald, frame=(), inset=min(bare.inset, LEAST_INSET), lowest={}, full={})


def crowned(
    bare: Board,
    plan: Plan,
    whole: Box,
    top: int,
    marks: tuple[Mark, ...],
    under: tuple[Mark, ...] = (),
    right: int | None = None,
) -> Try | None:
    """The title into what is left above ``top``, with the design's band between where there is room for it."""
    design = bare.design
    most = min(18_000, bare.small * 17 // 100)
    beside = max((mark.face.extent("H", mark.size)[1] for mark in marks if isinstance(mark, Text)), default=0)
    room = whole.top - top
    if room < SMALLEST_NAME:
        return None
    ground = _base(bare, top, right)
    shelf = top
    if bare.design.base is not None or marks_above(marks) != "net":
        top += 1500 if design.band in ("meadow", "sun") else 900
    for share in (34, 27, 20) if design.band in BANDS and room > 14_000 else ():
        high = room * share // 100
        band = _band(bare, whole, shelf if design.base else top, high, right)
        if band is None:
            continue
        zone = bare.zone(Box(whole.left, top + high + CLEAR, whole.right, whole.top))
        title = set_title(plan.content, design, zone, most, beside=beside)
        if title is not None and title.size >= bare.small * 9 // 100:
            return Try(title, marks, plan, under, band, ground)
    # Where the title found no room above one height, it finds none above a greater one.
    asked = (plan.content.every("maker", "name", "line"), whole.left, whole.right)
    if top >= bare.full.get(asked, top + 1):
        return None
    zone = bare.zone(Box(whole.left, top, whole.right, whole.top))
    title = set_title(plan.content, design, zone, most, beside=beside)
    if title is None:
        bare.full[asked] = top
        return None
    return Try(title, marks, plan, under, None, ground)


def marks_above(marks: tuple[Mark, ...]) -> str:
    """What stands highest of what is already placed: small print wants more air under the title than the net does."""
    texts = [mark for mark in marks if isinstance(mark, Text)]
    return max(texts, key=lambda mark: mark.y).role if texts else "net"


def _base(bare: Board, top: int, right: int | None) -> tuple[Mark, ...]:
    """The block of colour under the net quantity, if the design has one."""
    if bare.design.base is None:
        return ()
    bx, by = bare.bleed
    edge = bare.outline.wide + bx if right is None else right
    block = Shape(rectangle(Box(-bx, -by, edge, top - 300)), fill=bare.design.base, behind=True, role="ground")
    return clip(bare, [block])


def _band(bare: Board, whole: Box, bottom: int, high: int, right: int | None) -> Callable[[], tuple[Mark, ...]] | None:
    """The picture of the design in so much height, still to be drawn; None where the label is too narrow for it."""
    draw, bx, palette = BANDS[bare.design.band], bare.bleed[0], bare.design.palette
    if bare.design.band == "meadow":
        span = bare.outline.span(bottom, bottom + high, bare.inset)
        if span is None:
            return None
        box = Box(max(whole.left, span[0]), bottom, min(whole.right, span[1]), bottom + high)
        return lambda: tuple(draw(box, palette))
    left, end = (-bx, bare.outline.wide + bx if right is None else right)
    floor = bottom - 300 if bare.design.base else bottom
    return lambda: clip(bare, draw(Box(left, floor, end, bottom + high), palette))


def clip(bare: Board, marks: list[Shape]) -> tuple[Mark, ...]:
    shown = tuple(replace(mark, behind=True) for mark in marks)
    return (Clipped(bare.outline.path(bare.bleed[1], bare.bleed[0]), shown),)


def inks_on(design: Design, where: str):
    plain, strong = design.type["info"], design.type["caution"]
    if where == "side" and design.side is not None:
        return plain.on_side or plain.colour, strong.on_side or strong.colour
    if where == "base" and design.base is not None:
        return plain.on_base or plain.colour, strong.on_base or strong.colour
    return plain.colour, strong.colour
