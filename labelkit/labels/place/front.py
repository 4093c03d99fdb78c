"""The front label: which things go where, and what gives way when room is short.

Three arrangements are tried. *Below*: title, net quantity, small print. *Between*: title, small print, net quantity.
*Beside*: title and net quantity on the left, small print and symbols in a column on the right. What cannot be kept
moves to another label of the set, the least needed on the front first; the product name and the net quantity never
move. Nothing is ever set under its required height.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from math import isqrt

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.barcodes.dots import snapped
from labelkit.labels.barcodes.linear import code128, widest_on_jar
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.fonts import Box
from labelkit.labels.marks import Clipped, Mark, Shape, Text, line, rectangle
from labelkit.labels.ornaments.bands import BANDS
from labelkit.labels.ornaments.frames import FRAMES
from labelkit.labels.outline import Outline, Zone
from labelkit.labels.place.codes import (
    BAR_HEIGHTS,
    Block,
    block_size,
    link_squares,
    lot_bars,
    lot_squares,
    row_marks,
    rows_marks,
    side_by_side,
)
from labelkit.labels.place.flow import Flow, Paragraph, flow, paragraphs, sizes_for
from labelkit.labels.place.net import Net, nets
from labelkit.labels.place.placed import Placed, rows_of
from labelkit.labels.place.title import SMALLEST_NAME, Title, set_title

CLEAR = 1300
# Under this a frame takes more room than it gives grace.
SMALLEST_FRAMED = 30_000
BLOCK_GAP = 1500

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


@dataclass(frozen=True)
class Plan:
    """What is to be placed in one try."""

    content: LabelContent
    codes: tuple[Block, ...]
    moved: tuple[str, ...] = ()


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
    """One arrangement that fitted."""

    title: Title
    marks: tuple[Mark, ...]
    plan: Plan


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
    design, dpi = bare.design, bare.dpi
    best: Try | None = None
    for plan in plans(content, design, dpi):
        if best is not None and plan.moved and best.title.size >= bare.small * 55 // 1000:
            break
        for found in tries(bare, plan):
            if found.title.size >= bare.small * 95 // 1000:
                return finished(bare, content, found)
            if best is None or found.title.size > best.title.size:
                best = found
    if best is None:
        raise _too_small(content, bare)
    return finished(bare, content, best)


def plans(content: LabelContent, design: Design, dpi: int) -> Iterator[Plan]:
    """What to try, the fullest label first."""
    link = link_squares(content, dpi)
    bars = [lot_bars(content, design, dpi, high) for high in BAR_HEIGHTS]
    squares = lot_squares(content, design, dpi)
    for lot in (*bars, squares):
        for also in (link, None) if link else (None,):
            codes = tuple(block for block in (lot, also) if block)
            if lot is not None:
                yield Plan(content, codes, () if also or not link else ("link",))
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
        yield Plan(left, codes, tuple(gone))
        yield Plan(left, (), tuple(gone))


def tries(bare: Board, plan: Plan) -> Iterator[Try]:
    """Every arrangement of a plan that fits."""
    order = (beside, below, between) if bare.outline.lean else (below, between, beside)
    if bare.outline.shape != "rectangle":
        order = (between, below)
    for arrange in order:
        yield from arrange(bare, plan)


def below(bare: Board, plan: Plan) -> Iterator[Try]:
    """Title, net quantity, small print at the foot."""
    yield from _stacked(bare, plan, net_first=False)


def between(bare: Board, plan: Plan) -> Iterator[Try]:
    """Title, small print, net quantity at the foot."""
    yield from _stacked(bare, plan, net_first=True)


def _stacked(bare: Board, plan: Plan, net_first: bool) -> Iterator[Try]:
    design, outline, inset = bare.design, bare.outline, bare.inset
    whole = Box(inset, inset, outline.wide - inset, outline.high - inset)
    align = bare.align
    said = _small_print(plan, design, joined=align == "centre")

    def at(size: int) -> Try | None:
        settings = nets(plan.content, design.type["net"], bare.small * 8 // 100)
        return next(filter(None, (_stack(bare, plan, whole, said, size, net, net_first) for net in settings)), None)

    yield from _comfortable(at, sizes_for(said, max(2300, bare.small // 30)))


def _comfortable(at: Callable[[int], Try | None], sizes: list[int]) -> Iterator[Try]:
    """What fits at each size, the largest first. Where the least does not fit, none does, and that is seen at once."""
    least = at(sizes[-1])
    if least is not None:
        yield from filter(None, map(at, sizes[:-1]))
        yield least


def _stack(
    bare: Board, plan: Plan, whole: Box, said: list[Paragraph], size: int, net: Net, net_first: bool
) -> Try | None:
    clear = _clear(plan.content, net)
    if net_first:
        net_bottom = _lowest(bare, net, whole)
        net_marks = _net_at(bare, net, net_bottom, whole)
        if net_marks is None:
            return None
        net_top = net_bottom + net.high
        foot = _foot(bare, plan, said, size, whole, net_top + clear)
        if foot is None:
            return None
        top = foot[1] + max(BLOCK_GAP, CLEAR)
        if not (said or plan.codes):
            top = net_top + clear
    else:
        foot = _foot(bare, plan, said, size, whole, whole.bottom)
        if foot is None:
            return None
        net_bottom = foot[1] + clear if (said or plan.codes) else _lowest(bare, net, whole)
        net_marks = _net_at(bare, net, net_bottom, whole)
        if net_marks is None:
            return None
        net_top = net_bottom + net.high
        top = net_top + clear
    share = plan.content.net_rule.bottom_share
    if share is not None and net_top > int(bare.outline.high * share):
        return None
    return crowned(bare, plan, whole, top, (*net_marks, *foot[0]))


def beside(bare: Board, plan: Plan) -> Iterator[Try]:
    """Title and net quantity on the left, small print and symbols in a column on the right."""
    outline, inset, design = bare.outline, bare.inset, bare.design
    if outline.shape != "rectangle" or outline.wide < outline.high * 11 // 10:
        return
    said = _small_print(plan, design, joined=False)
    if not said and not plan.codes:
        return
    for share in (34, 38, 42, 46, 50):
        edge = outline.wide - outline.wide * share // 100
        column = Box(edge + inset // 2 + 700, inset, outline.wide - inset, outline.high - inset)
        codes_wide, codes_high = block_size(list(plan.codes), column.width, BLOCK_GAP)
        if codes_wide > column.width:
            continue
        floor = column.bottom + (codes_high + BLOCK_GAP if plan.codes else 0)
        zone = bare.zone(Box(column.left, floor, column.right, column.top))

        def at(size: int, edge=edge, column=column, zone=zone) -> Try | None:
            set_print = flow(said, zone.span, column.top, size, "left", plan.content.lang, inks_on(design, "side"))
            return None if set_print is None else _beside_at(bare, plan, edge, column, set_print)

        found = next(_comfortable(at, sizes_for(said, max(2300, bare.small // 30))), None)
        if found is not None:
            yield found


def _beside_at(bare: Board, plan: Plan, edge: int, column: Box, set_print: Flow) -> Try | None:
    design, inset = bare.design, bare.inset
    main = Box(inset, inset, edge - inset // 2 - 700, bare.outline.high - inset)
    ground = design.side or design.under
    symbols = rows_marks(list(plan.codes), column, BLOCK_GAP, "left", ground, inks_on(design, "side")[0])
    for net in nets(plan.content, design.type["net"], bare.small * 8 // 100):
        net_marks = _net_at(bare, net, main.bottom, main)
        share = plan.content.net_rule.bottom_share
        if net_marks is None or (share is not None and main.bottom + net.high > int(bare.outline.high * share)):
            continue
        if column.left - main.right < int(plan.content.net_rule.clear_n_widths * net.n_width) and not _clear_aside(
            net_marks, column, plan, net
        ):
            continue
        top = main.bottom + net.high + _clear(plan.content, net)
        rule = _side_ground(bare, edge)
        found = crowned(bare, plan, main, top, (*net_marks, *set_print.marks, *symbols), (*rule,), right=edge)
        if found is not None:
            return found
    return None


def _clear_aside(net_marks: tuple[Text, ...], column: Box, plan: Plan, net: Net) -> bool:
    needed = int(plan.content.net_rule.clear_n_widths * net.n_width)
    return max(mark.box.right for mark in net_marks) + needed <= column.left


def _side_ground(bare: Board, edge: int) -> list[Mark]:
    """A block of colour under the column, or a hair line beside it."""
    design, outline, (bx, by) = bare.design, bare.outline, bare.bleed
    if design.side is not None:
        block = Box(edge, -by, outline.wide + bx, outline.high + by)
        return list(_clip(bare, [Shape(rectangle(block), fill=design.side, behind=True, role="ground")]))
    colour = design.palette[1 % len(design.palette)]
    rule = line(edge, bare.inset, edge, outline.high - bare.inset)
    return [Shape(rule, stroke=colour, width=130, behind=True, role="frame")]


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
    room = whole.top - top
    if room < SMALLEST_NAME:
        return None
    ground = _base(bare, top, right)
    shelf = top
    if bare.design.base is not None or marks_above(marks) != "net":
        top += 900
    for share in (34, 27, 20) if design.band in BANDS and room > 14_000 else ():
        high = room * share // 100
        zone = bare.zone(Box(whole.left, top + high + CLEAR, whole.right, whole.top))
        title = set_title(plan.content, design, zone, most)
        band = _band(bare, whole, shelf if design.base else top, high, right)
        if band and title is not None and title.size >= bare.small * 9 // 100:
            return Try(title, (*under, *band, *ground, *title.marks, *marks), plan)
    title = set_title(plan.content, design, bare.zone(Box(whole.left, top, whole.right, whole.top)), most)
    return Try(title, (*under, *ground, *title.marks, *marks), plan) if title else None


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
    return _clip(bare, [block])


def _band(bare: Board, whole: Box, bottom: int, high: int, right: int | None) -> tuple[Mark, ...]:
    draw, bx = BANDS[bare.design.band], bare.bleed[0]
    if bare.design.band == "meadow":
        span = bare.outline.span(bottom, bottom + high, bare.inset)
        if span is None:
            return ()
        box = Box(max(whole.left, span[0]), bottom, min(whole.right, span[1]), bottom + high)
        return tuple(draw(box, bare.design.palette))
    left, end = (-bx, bare.outline.wide + bx if right is None else right)
    floor = bottom - 300 if bare.design.base else bottom
    return _clip(bare, draw(Box(left, floor, end, bottom + high), bare.design.palette))


def _clip(bare: Board, marks: list[Shape]) -> tuple[Mark, ...]:
    shown = tuple(replace(mark, behind=True) for mark in marks)
    return (Clipped(bare.outline.path(bare.bleed[1], bare.bleed[0]), shown),)


def _small_print(plan: Plan, design: Design, joined: bool) -> list[Paragraph]:
    captioned = [block.words.role for block in plan.codes if block.words]
    return paragraphs(plan.content, design, captioned, joined)


def inks_on(design: Design, where: str):
    plain, strong = design.type["info"], design.type["caution"]
    if where == "side" and design.side is not None:
        return plain.on_side or plain.colour, strong.on_side or strong.colour
    if where == "base" and design.base is not None:
        return plain.on_base or plain.colour, strong.on_base or strong.colour
    return plain.colour, strong.colour


def _clear(content: LabelContent, net: Net) -> int:
    """Room above and below the net quantity: what the law asks, and at least what looks well."""
    return max(CLEAR, int(content.net_rule.clear_heights * net.letter) + 150)


def _lowest(bare: Board, net: Net, whole: Box) -> int:
    """How low the net quantity can stand: on the floor of a rectangle, where the chord is long enough on a round."""
    if bare.outline.shape == "rectangle":
        return whole.bottom
    if net not in bare.lowest:
        bottom = whole.bottom
        while bottom < bare.outline.high // 2 and _net_at(bare, net, bottom, whole) is None:
            bottom += 100
        bare.lowest[net] = bottom
    return bare.lowest[net]


def _net_at(bare: Board, net: Net, bottom: int, whole: Box) -> tuple[Text, ...] | None:
    """The net quantity standing on ``bottom``; None when a line is wider than its room."""
    design, held = bare.design, bare.design.type["net"]
    zone = bare.zone(Box(whole.left, bottom, whole.right, whole.top))
    colour = (held.on_base or held.colour) if design.base is not None else held.colour
    marks = []
    for one, y in zip(net.lines, net.baselines(bottom), strict=True):
        ink = one.ink
        span = zone.span(y + ink.bottom, y + ink.top)
        if span is None or ink.width > span[1] - span[0]:
            return None
        x = span[0] if bare.align == "left" else (span[0] + span[1] - ink.width) // 2
        marks.append(Text(one.face, one.size, one.text, x - ink.left, y, colour, one.tracking, "net"))
    return tuple(marks)


def _foot(bare: Board, plan: Plan, said: list[Paragraph], size: int, whole: Box, bottom: int):
    """Small print and symbols standing on ``bottom``: their marks and their top, or None."""
    design = bare.design
    codes = list(plan.codes)
    wide, high = side_by_side(codes, BLOCK_GAP)
    if not said and not codes:
        return (), bottom
    inks, ground = inks_on(design, "base"), design.base or design.under
    if codes and said and bare.outline.shape == "rectangle" and whole.width - wide - 2 * BLOCK_GAP >= 24_000:
        zone = bare.zone(Box(whole.left, bottom, whole.right - wide - 2 * BLOCK_GAP, whole.top))
        put = _standing(said, zone, bottom, size, "left", plan.content.lang, inks)
        if put is None:
            return None
        symbols = row_marks(
            codes, Box(whole.left, bottom, whole.right, bottom + high), BLOCK_GAP, "right", ground, inks[0]
        )
        return (*put.marks, *symbols), max(put.top, bottom + high)
    symbols: list[Mark] = []
    if codes:
        span = bare.zone(whole).span(bottom, bottom + high)
        if span is None or span[1] - span[0] < wide:
            return None
        side = bare.align
        symbols = row_marks(codes, Box(span[0], bottom, span[1], bottom + high), BLOCK_GAP, side, ground, inks[0])
        bottom += high + BLOCK_GAP * 2 // 3
    if not said:
        return tuple(symbols), bottom
    zone = bare.zone(Box(whole.left, bottom, whole.right, whole.top))
    put = _standing(said, zone, bottom, size, bare.align, plan.content.lang, inks)
    return None if put is None else ((*put.marks, *symbols), put.top)


def _standing(said: list[Paragraph], zone: Zone, bottom: int, size: int, align: str, lang: str, inks) -> Flow | None:
    """Small print whose last ink stands on ``bottom``: set, measured, moved, set again, until it stays."""
    top = bottom + size * len(said) * 2
    for _ in range(6):
        top = min(top, zone.box.top)
        room = Zone(zone.outline, Box(zone.box.left, -(10**6), zone.box.right, zone.box.top), zone.inset).span
        put = flow(said, room, top, size, align, lang, inks)
        if put is None:
            if top >= zone.box.top:
                return None
            top += size * 2
            continue
        off = put.bottom - bottom
        if off == 0 or (0 < off < 250 and zone.outline.shape != "rectangle"):
            return put
        top -= off
    return put if put is not None and put.bottom >= bottom else None


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
    if content.lot and content.kind == "front" and "bars" not in kinds and found.plan.content.of("lot"):
        instead = "in a Data Matrix beside its plain text" if "squares" in kinds else "in plain text"
        yield f"{_why_no_bars(content, bare)}; the lot stands {instead}."
    if found.plan.moved:
        said = ", ".join(role.replace("_", " ") for role in found.plan.moved)
        yield f"Not on this label, and needed on another one of the jar: {said}."


def _why_no_bars(content: LabelContent, bare: Board) -> str:
    bars = code128(content.lot)
    module = snapped(bars.kind.usual_x, bare.dpi, bars.kind.least_x)
    field = module.um(len(bars.modules))
    if content.diameter is not None and field > widest_on_jar(content.diameter).um:
        widest = widest_on_jar(content.diameter).mm
        return (
            f"Bars for the lot would be {field / 1000:.1f} mm wide, and on a jar of {content.diameter.mm:.0f} mm "
            f"across {widest:.1f} mm is the most a scanner sees round"
        )
    return f"The label has no room for bars of {module.um(bars.across) / 1000:.1f} mm"


def _too_small(content: LabelContent, bare: Board) -> LabelTooSmall:
    """How much is wanting, reckoned from the smallest lawful net quantity and the smallest name."""
    outline, room = bare.outline, bare.outline.wide - 2 * bare.inset
    label = f"{outline.wide / 1000:.1f} × {outline.high / 1000:.1f} mm"
    settings = list(nets(content, bare.design.type["net"], 0))
    narrowest = min(settings, key=lambda net: net.wide)
    if narrowest.wide > room and outline.shape == "rectangle":
        short = f"the net quantity at its least lawful size is {(narrowest.wide - room) / 1000:.1f} mm too wide"
        return LabelTooSmall(
            "The net quantity", label, short, "Choose a wider label, or a design with a narrower frame."
        )
    share = content.net_rule.bottom_share
    if outline.shape != "rectangle" and share is not None:
        best = max(settings, key=lambda net: _room_low(bare, net, share) - net.wide)
        free = _room_low(bare, best, share)
        if free < best.wide:
            short = (
                f"its lines at their least lawful size are {best.wide / 1000:.1f} mm wide, and that low down, in the bottom "
                f"{share:.0%} of the label, {free / 1000:.1f} mm are free: {(best.wide - free) / 1000:.1f} mm too few"
            )
            return LabelTooSmall("The net quantity", label, short, "Choose a larger round label, or a rectangular one.")
    lowest = min(settings, key=lambda net: net.high)
    needed = lowest.high + _clear(content, lowest) + SMALLEST_NAME * 2
    have = outline.high - 2 * bare.inset
    short = (
        f"name and net quantity need {needed / 1000:.1f} mm of height at their least sizes, and {have / 1000:.1f} mm are free"
        if needed > have
        else f"the name is too long even at {SMALLEST_NAME / 1000:.0f} mm in four lines; it needs a label about "
        f"{_wanting(content, bare) / 1000:.0f} mm wider"
    )
    return LabelTooSmall(
        "The front", label, short,
        "Choose a larger label, shorten the name, or put a soft hyphen (U+00AD) where a long word may break.",
    )  # fmt: skip


def _room_low(bare: Board, net: Net, share) -> int:
    """The chord free for a block of this height that ends where the bottom share of the label ends."""
    top = int(bare.outline.high * share)
    span = bare.outline.span(max(bare.inset, top - net.high), max(bare.inset, top), bare.inset)
    return span[1] - span[0] if span else 0


def _wanting(content: LabelContent, bare: Board) -> int:
    from labelkit.labels.fonts import face_for

    held, name = bare.design.type["name"], content.of("name")
    text = held.cased(name.text)
    longest = max(face_for(held.face, word).width(word, SMALLEST_NAME) for word in text.split())
    return max(1000, longest - (bare.outline.wide - 2 * bare.inset))
