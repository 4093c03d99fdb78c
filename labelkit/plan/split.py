"""Splitting given totals over the boxes: box by box, each filled to within a hair, so that the last one gets the rest.

A box first gets its fair share of every item, rounded; then a small exchange of items makes the share fit.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.exchange import Exchanges, fair_share, filled
from labelkit.plan.packing import Loads, Packing, totals_of

TRIES = 6


def split(packing: Packing, totals: tuple[int, ...], tries: int = TRIES) -> Loads | None:
    """Loads that add up to these totals and keep every box, or none if no split was found (there may be one)."""
    exchanges = Exchanges(packing.weights, tuple(i for i, n in enumerate(totals) if n))
    order = sorted(range(len(packing.boxes)), key=lambda b: (sum(packing.boxes[b].allowed), packing.boxes[b].room))
    for turn in range(tries):
        loads = _in_turn(packing, totals, order[turn % len(order):] + order[: turn % len(order)], exchanges, turn)  # fmt: skip
        if loads is not None:
            return loads
    return None


def _in_turn(
    packing: Packing, totals: tuple[int, ...], order: list[int], exchanges: Exchanges, turn: int
) -> Loads | None:
    left = list(totals)
    spare = sum(box.room for box in packing.boxes) - sum(n * w for n, w in zip(totals, packing.weights, strict=True))
    loads: dict[int, tuple[int, ...]] = {}
    for place, b in enumerate(order):
        box = packing.boxes[b]
        rooms = sum(packing.boxes[other].room for other in order[place:])
        loose = spare // (2 * (len(order) - place))
        if place < len(order) - 1:
            share = fair_share(left, box.allowed, box.room, rooms, turn * rooms // 7)
            load = filled(share, left, box.allowed, box.room, exchanges, loose)
        else:
            load = tuple(left)
        weight = sum(n * w for n, w in zip(load, packing.weights, strict=True))
        spare -= box.room - weight
        if (
            weight > box.room
            or weight < box.least
            or any(n and not ok for n, ok in zip(load, box.allowed, strict=True))
        ):
            return None
        if spare < 0 and place < len(order) - 1:
            return None
        left = [n - taken for n, taken in zip(left, load, strict=True)]
        loads[b] = load
    return tuple(loads[b] for b in range(len(order)))


def in_few_boxes(packing: Packing, loads: Loads) -> Loads:
    """The same totals in as few boxes as possible, so that none is opened for a few jars another has honey for."""
    totals = totals_of(loads, len(packing.items))
    weight = sum(n * w for n, w in zip(totals, packing.weights, strict=True))
    order = sorted(range(len(loads)), key=lambda b: (packing.boxes[b].least == 0, -packing.boxes[b].room, b))
    opened = sum(1 for load in loads if any(load))
    for count in range(1, opened):
        chosen = order[:count]
        if sum(packing.boxes[b].room for b in chosen) < weight:
            continue
        found = split(replace(packing, boxes=tuple(packing.boxes[b] for b in chosen)), totals, tries=2)
        if found is not None:
            placed = dict(zip(chosen, found, strict=True))
            fewer = tuple(placed.get(b, (0,) * len(packing.items)) for b in range(len(loads)))
            if packing.admits(fewer):
                return fewer
    return loads
