"""What a front that does not fit would need: how many millimetres, in which direction.

The net quantity is reckoned from its smallest lawful setting; everything else is found by trying ever larger labels until
one takes what may not move to another: maker, name and net quantity.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import LabelContent
from labelkit.labels.layout.arrange import tries
from labelkit.labels.layout.board import Board, Plan, board, closer
from labelkit.labels.layout.net import Net, nets
from labelkit.labels.outline import Outline

#: How finely, and how far, larger labels are tried.
STEP, MOST = 500, 256


def front_too_small(content: LabelContent, bare: Board, stays: LabelContent) -> LabelTooSmall:
    """The refusal of a front, with the millimetres that are wanting; ``stays`` is what cannot move to another label."""
    outline, room = bare.outline, bare.box.width
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
    short = f"name and net quantity at their least sizes want {_more(bare, stays)}"
    do = "Choose a larger label, shorten the name, or put a soft hyphen (U+00AD) where a long word may break."
    if len(content.the("name").all) > 1:
        do = f"{do} Both languages have to be of one size, so neither can give way to the other."
    return LabelTooSmall("The front", label, short, do)


def _more(bare: Board, stays: LabelContent) -> str:
    """How much wider or higher the label would have to be, for people."""
    if bare.outline.shape == "round":
        across = _least(bare, stays, 1, 1)
        return f"a label {_mm(across)} more across" if across else "a label of another kind"
    wider, higher = _least(bare, stays, 1, 0), _least(bare, stays, 0, 1)
    two = len(stays.the("name").all) > 1 and bare.outline.shape == "rectangle"
    found = [
        f"{_mm(more)} more {side}{way if two else ''}"
        for more, side, way in (
            (wider, "width", " for its languages side by side"),
            (higher, "height", " for one language above the other"),
        )
        if more
    ]
    both = _least(bare, stays, 1, 1)
    return " or ".join(found) or (f"{_mm(both)} more of both width and height" if both else "a label of another kind")


def _mm(um: int) -> str:
    return f"{um / 1000:.1f} mm"


def _least(bare: Board, stays: LabelContent, wider: int, higher: int) -> int:
    """By how much the label has to grow in that direction; 0 when no growth helps."""

    def fits(steps: int) -> bool:
        grown = replace(
            bare.outline, wide=bare.outline.wide + wider * steps * STEP, high=bare.outline.high + higher * steps * STEP
        )
        return _takes(grown, bare, stays)

    high = 1
    while high <= MOST and not fits(high):
        high *= 2
    if high > MOST:
        return 0
    low = high // 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high * STEP


def _takes(outline: Outline, bare: Board, stays: LabelContent) -> bool:
    larger = closer(board(outline, bare.design, bare.bleed, bare.dpi))
    return next(tries(larger, Plan(stays, ())), None) is not None


def _room_low(bare: Board, net: Net, share) -> int:
    """The chord free for a block of this height that ends where the bottom share of the label ends."""
    top = int(bare.outline.high * share)
    span = bare.outline.span(max(bare.inset, top - net.high), max(bare.inset, top), bare.inset)
    return span[1] - span[0] if span else 0
