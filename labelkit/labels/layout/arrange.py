"""Arrangements of a front: what stands where when the words, the net quantity and the symbols have to share one label.

*Beside*: title and net quantity on the left, small print and symbols in a column on the right, exactly as wide as its
widest line that may not part. *Between*: title, small print, net quantity at the foot. *Below*: title, net quantity,
small print. Each gives every way it fits, the most comfortable first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import BLOCK_GAP, CLEAR, Board, Plan, Try, crowned, inks_on, symbol_ground
from labelkit.labels.layout.codes import (
    Block,
    above_symbols,
    block_size,
    row_marks,
    rows_marks,
    side_by_side,
)
from labelkit.labels.layout.flow import Flow, Paragraph, flow, natural_width, paragraphs, sizes_for
from labelkit.labels.layout.net import Net, nets
from labelkit.labels.outline import Zone
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Text, shifted

#: Between the words of two columns side by side, and the least of a label's width that is the name's, in hundredths.
#: Our own eye, no source.
AISLE, LEAST_SHARE = 5_400, 42
#: How much wider the column of small words is tried where their lines would be too many, in hundredths.
WIDER = (100, 112, 126, 142, 160, 180, 205)
#: How far a column that does not fill its height is let down at the most.
LOWERED = 2_000
#: Small words in two columns under a title: the least between the two, and how many times its size the
#: first is wide at the least.
BETWEEN_COLUMNS, LEAST_SIZES = 2_600, 8
#: What stands in the second of two columns: who made it, and the marks of the jar.
SECOND = ("address", "best_before", "lot")


def tries(bare: Board, plan: Plan) -> Iterator[Try]:
    """Every arrangement of a plan that fits."""
    order: tuple[Callable[[Board, Plan], Iterator[Try]], ...]
    order = (beside, between, below) if bare.outline.lean else (between, beside, below)
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
    design, outline, whole = bare.design, bare.outline, bare.box
    said = _small_print(plan, design, joined=bare.align == "centre")
    settings = nets(plan.content, design.type["net"], bare.small * 4 // 100)

    @lru_cache(maxsize=64)
    def at_bottom(size: int, bottom: int):
        return _columns(bare, plan, size, whole, bottom) or _foot(bare, plan, said, size, whole, bottom)

    def foot(size: int, bottom: int):
        if outline.shape != "rectangle" or outline.corner > bare.inset:
            return at_bottom(size, bottom)
        # On a rectangle the foot is the same at every height.
        found, up = at_bottom(size, whole.bottom), bottom - whole.bottom
        if found is None or found[1] + up > whole.top:
            return None
        return tuple(shifted(mark, 0, up, bare.dpi) for mark in found[0]) if up else found[0], found[1] + up

    def at(size: int) -> Try | None:
        return next(
            filter(None, (_stack(bare, plan, whole, said, foot, size, net, net_first) for net in settings)), None
        )

    yield from _comfortable(at, sizes_for(said, max(2300, bare.small // 30)))


def _columns(bare: Board, plan: Plan, size: int, whole: Box, bottom: int):
    """Small words in two columns from one height, the second as wide as its widest line; None where they do not fit so."""
    if plan.codes or bare.outline.shape != "rectangle" or len(plan.content.spoken) > 1:
        return None
    said = _small_print(plan, bare.design, apart=True)
    parts = [one for one in said if one.roles not in SECOND], [one for one in said if one.roles in SECOND]
    if not all(parts):
        return None
    wide = natural_width(parts[1], size)
    first = Box(whole.left, bottom, whole.right - wide - BETWEEN_COLUMNS, whole.top)
    second = Box(whole.right - wide, bottom, whole.right, whole.top)
    if first.width < max(natural_width(parts[0], size), size * LEAST_SIZES):
        return None
    one, other = (_flush(bare, plan, held, box, size) for held, box in zip(parts, (first, second), strict=True))
    if one is None or other is None:
        return None
    up = bottom - min(one.bottom, other.bottom)
    return tuple(shifted(mark, 0, up, bare.dpi) for mark in (*one.marks, *other.marks)), up


def _flush(bare: Board, plan: Plan, held: list[Paragraph], box: Box, size: int) -> Flow | None:
    """Paragraphs from height 0 down, ranged left in a box however high."""
    spoken, inks = plan.content.spoken, inks_on(bare.design)
    return flow(held, lambda low, high: (box.left, box.right), 0, size, "left", spoken, inks)


def _comfortable(at: Callable[[int], Try | None], sizes: list[int]) -> Iterator[Try]:
    """What fits at each size, the largest first. Where the least does not fit, none does, and that is seen at once."""
    least = at(sizes[-1])
    if least is not None:
        yield from filter(None, map(at, sizes[:-1]))
        yield least


def _stack(
    bare: Board, plan: Plan, whole: Box, said: list[Paragraph], standing: Callable, size: int, net: Net, net_first: bool
) -> Try | None:
    clear, share = clear_space(plan.content, net), plan.content.net_rule.bottom_share
    if net_first:
        net_bottom = _lowest(bare, net, whole)
        net_marks = net_at(bare, net, net_bottom, whole)
        if net_marks is None:
            return None
        net_top = net_bottom + net.high
        if share is not None and net_top > int(bare.outline.high * share):
            return None
        foot = standing(size, net_top + clear + (bare.room.foot if said else 0))
        if foot is None:
            return None
        top = foot[1] + max(BLOCK_GAP, CLEAR, bare.room.sill)
        if not (said or plan.codes):
            top = net_top + clear + bare.room.over
    else:
        foot = standing(size, whole.bottom)
        if foot is None:
            return None
        net_bottom = foot[1] + clear if (said or plan.codes) else _lowest(bare, net, whole)
        net_marks = net_at(bare, net, net_bottom, whole)
        if net_marks is None:
            return None
        net_top = net_bottom + net.high
        top = net_top + clear
    if share is not None and net_top > int(bare.outline.high * share):
        return None
    return crowned(bare, plan, whole, top, (*net_marks, *foot[0]))


def beside(bare: Board, plan: Plan) -> Iterator[Try]:
    """Title and net quantity on the left, small print and symbols in a column on the right."""
    outline, whole = bare.outline, bare.box
    if outline.shape != "rectangle" or outline.wide < outline.high * 11 // 10:
        return
    ways = [_small_print(plan, bare.design, apart=apart) for apart in (True, False)]
    if not ways[0] and not plan.codes:
        return
    for size in sizes_for(ways[0], max(2300, bare.small // 30)):
        for said in ways:
            widths = dict.fromkeys(natural_width(said, size) * share // 100 for share in WIDER)
            yield from filter(None, (_beside(bare, plan, said, size, whole, wide) for wide in widths))


def _beside(bare: Board, plan: Plan, said: list[Paragraph], size: int, whole: Box, wide: int) -> Try | None:
    """The same with a column so wide, or as wide as the symbols in it."""
    codes = list(plan.codes)
    wide = max(wide, *(block.wide for block in codes)) if codes else wide
    column = Box(whole.right - wide, whole.bottom + bare.room.aside, whole.right, whole.top)
    main = Box(whole.left, whole.bottom, column.left - min(AISLE, bare.outline.wide * 6 // 100), whole.top)
    if main.width * 100 < bare.outline.wide * LEAST_SHARE:
        return None
    codes_wide, codes_high = block_size(codes, column.width, BLOCK_GAP)
    floor = column.bottom + (codes_high + BLOCK_GAP if codes else 0)
    zone = bare.zone(Box(column.left, floor, column.right, column.top))
    put = flow(said, zone.span, column.top, size, "left", plan.content.spoken, inks_on(bare.design))
    if put is None or codes_wide > column.width:
        return None
    down = min((put.bottom - floor) // 2, LOWERED)
    put = Flow(tuple(shifted(mark, 0, -down, bare.dpi) for mark in put.marks), put.top - down, put.bottom - down)
    return _beside_at(bare, plan, main, column, put)


def _beside_at(bare: Board, plan: Plan, main: Box, column: Box, set_print: Flow) -> Try | None:
    design, edge = bare.design, (main.right + column.left) // 2
    ground = symbol_ground(design)
    symbols = rows_marks(list(plan.codes), column, BLOCK_GAP, "left", ground, inks_on(design)[0])
    for net in nets(plan.content, design.type["net"], bare.small * 4 // 100):
        net_marks = net_at(bare, net, main.bottom, main)
        share = plan.content.net_rule.bottom_share
        if net_marks is None or (share is not None and main.bottom + net.high > int(bare.outline.high * share)):
            continue
        if column.left - main.right < int(plan.content.net_rule.clear_n_widths * net.n_width) and not _clear_aside(
            net_marks, column, plan, net
        ):
            continue
        top = main.bottom + net.high + clear_space(plan.content, net) + bare.room.over
        found = crowned(bare, plan, main, top, (*net_marks, *set_print.marks, *symbols), edge)
        if found is not None:
            return found
    return None


def _clear_aside(net_marks: tuple[Text, ...], column: Box, plan: Plan, net: Net) -> bool:
    needed = int(plan.content.net_rule.clear_n_widths * net.n_width)
    return max(mark.box.right for mark in net_marks) + needed <= column.left


def _small_print(plan: Plan, design: Design, joined: bool = False, apart: bool = False) -> list[Paragraph]:
    captioned = [block.words.role for block in plan.codes if block.words]
    return paragraphs(plan.content, design, captioned, joined, apart)


def clear_space(content: LabelContent, net: Net) -> int:
    """Room above and below the net quantity: what the law asks, and at least what looks well."""
    return max(CLEAR, net.letter // 2, int(content.net_rule.clear_heights * net.letter) + max(150, net.letter // 50))


def _lowest(bare: Board, net: Net, whole: Box) -> int:
    """How low the net quantity can stand: on the floor of a rectangle, where the chord is long enough on a round."""
    if bare.outline.shape == "rectangle":
        return whole.bottom
    if net not in bare.lowest:
        bottom = whole.bottom
        while bottom < bare.outline.high // 2 and net_at(bare, net, bottom, whole) is None:
            bottom += 100
        bare.lowest[net] = bottom
    return bare.lowest[net]


def net_at(bare: Board, net: Net, bottom: int, whole: Box) -> tuple[Text, ...] | None:
    """The net quantity standing on ``bottom``; None when a line is wider than its room."""
    colour = bare.design.type["net"].colour
    zone = bare.zone(Box(whole.left, bottom, whole.right, whole.top))
    marks: list[Text] = []
    for one, y in zip(net.lines, net.baselines(bottom), strict=True):
        ink = one.ink
        span = zone.span(y + ink.bottom, y + ink.top)
        if span is None or ink.width > span[1] - span[0]:
            return None
        x = span[0] if bare.align == "left" else (span[0] + span[1] - ink.width) // 2
        marks += one.marks(x - ink.left, y, colour)
    return tuple(marks)


def _foot(bare: Board, plan: Plan, said: list[Paragraph], size: int, whole: Box, bottom: int):
    """Small print and symbols standing on ``bottom``: their marks and their top, or None."""
    design = bare.design
    codes = list(plan.codes)
    wide, high = side_by_side(codes, BLOCK_GAP)
    if not said and not codes:
        return (), bottom
    inks, ground = inks_on(design), symbol_ground(design)
    if codes and said and bare.outline.shape == "rectangle" and whole.width - wide - 2 * BLOCK_GAP >= 24_000:
        zone = bare.zone(Box(whole.left, bottom, whole.right - wide - 2 * BLOCK_GAP, whole.top))
        put = standing(said, zone, bottom, size, "left", plan.content.spoken, inks)
        if put is None:
            return _foot_over(bare, said, codes, size, whole, bottom, plan.content.spoken)
        symbols = row_marks(
            codes, Box(whole.left, bottom, whole.right, bottom + high), BLOCK_GAP, "right", ground, inks[0]
        )
        found = (*put.marks, *symbols), max(put.top, bottom + high + above_symbols(ground) - BLOCK_GAP)
        if all(len(one.texts) == 1 for one in said):
            return found
        # Two languages in columns across the whole label, the symbols under them, are often lower than beside them.
        under = _foot_over(bare, said, codes, size, whole, bottom, plan.content.spoken)
        return under if under is not None and under[1] < found[1] else found
    return _foot_over(bare, said, codes, size, whole, bottom, plan.content.spoken)


def _foot_over(
    bare: Board, said: list[Paragraph], codes: list[Block], size: int, whole: Box, bottom: int, langs: Sequence[str]
):
    """Small print over symbols."""
    wide, high = side_by_side(codes, BLOCK_GAP)
    inks, ground = inks_on(bare.design), symbol_ground(bare.design)
    symbols: list[Mark] = []
    if codes:
        span = bare.zone(whole).span(bottom, bottom + high)
        if span is None or span[1] - span[0] < wide:
            return None
        side = bare.align
        symbols = row_marks(codes, Box(span[0], bottom, span[1], bottom + high), BLOCK_GAP, side, ground, inks[0])
        bottom += high + above_symbols(ground)
    if not said:
        return tuple(symbols), bottom
    zone = bare.zone(Box(whole.left, bottom, whole.right, whole.top))
    put = standing(said, zone, bottom, size, bare.align, langs, inks)
    return None if put is None else ((*put.marks, *symbols), put.top)


def standing(
    said: list[Paragraph], zone: Zone, bottom: int, size: int, align: str, langs: Sequence[str], inks
) -> Flow | None:
    """Small print whose last ink stands on ``bottom``: set, measured, moved, set again, until it stays."""
    box = zone.box
    if zone.outline.shape == "rectangle" and zone.outline.corner <= zone.inset:
        # Here the room is everywhere as wide, so that where the print ends tells where it has to begin.
        put = flow(said, lambda low, high: (box.left, box.right), box.top, size, align, langs, inks)
        if put is None or put.bottom < bottom:
            return None
        down = put.bottom - bottom
        return Flow(tuple(shifted(mark, 0, -down, 600) for mark in put.marks), put.top - down, bottom)
    top = bottom + size * len(said) * 2
    for _ in range(6):
        top = min(top, zone.box.top)
        room = Zone(zone.outline, Box(zone.box.left, -(10**6), zone.box.right, zone.box.top), zone.inset).span
        put = flow(said, room, top, size, align, langs, inks, zone.outline.shape == "rectangle")
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
