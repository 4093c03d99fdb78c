"""Splitting given totals over the boxes: box by box, each filled to within a hair, so that the last one gets the rest.

A box first gets its fair share of every item, rounded; then a small exchange of items makes the share fit.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.search.local_exchange import Exchanges, fair_share, filled
from labelkit.plan.search.packing import Box, Loads, Packing, totals_of

TRIES = 6


def split(packing: Packing, totals: tuple[int, ...], tries: int = TRIES) -> Loads | None:
    """Loads that add up to these totals and keep every box, or none if no split was found (there may be one)."""
    exchanges = Exchanges(packing.weights, tuple(i for i, n in enumerate(totals) if n))
    order = sorted(range(len(packing.boxes)), key=lambda b: (sum(packing.boxes[b].allowed), packing.boxes[b].room))
    for turn in range(tries):
        loads = _in_turn(packing, totals, order[turn % len(order) :] + order[: turn % len(order)], exchanges, turn)
        if loads is not None:
            return loads
    return None


def _in_turn(
    packing: Packing, totals: tuple[int, ...], order: list[int], exchanges: Exchanges, turn: int, blocks: bool = False
) -> Loads | None:
    left = list(totals)
    spare = sum(box.room for box in packing.boxes) - sum(n * w for n, w in zip(totals, packing.weights, strict=True))
    loads: dict[int, tuple[int, ...]] = {}
    for place, b in enumerate(order):
        box = packing.boxes[b]
        rooms = sum(packing.boxes[other].room for other in order[place:])
        loose = spare // (2 * (len(order) - place))
        if place < len(order) - 1:
            if blocks:
                share = _blocks(packing, left, box)
            else:
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


def in_few_sizes(packing: Packing, loads: Loads) -> Loads:
    """The same totals with fewer items to a box: every size of jar filled from a bucket is one more label to print."""
    totals = totals_of(loads, len(packing.items))
    exchanges = Exchanges(packing.weights, tuple(i for i, n in enumerate(totals) if n))
    opened = [b for b, load in enumerate(loads) if any(load)]
    chosen = replace(packing, boxes=tuple(packing.boxes[b] for b in opened))
    best = loads
    for order in (sorted(range(len(opened)), key=lambda b: chosen.boxes[b].room), list(range(len(opened)))[::-1]):
        found = _in_turn(chosen, totals, order, exchanges, 0, blocks=True)
        if found is None:
            continue
        placed = dict(zip(opened, found, strict=True))
        other = tuple(placed.get(b, (0,) * len(packing.items)) for b in range(len(loads)))
        if packing.admits(other) and _pairs(other) < _pairs(best):
            best = other
    return best


def _pairs(loads: Loads) -> int:
    return sum(1 for load in loads for n in load if n)


def _blocks(packing: Packing, left: list[int], box: Box) -> list[int]:
    """As many as fit of the heaviest item left, then of the next: the small ones stay for the fine fit."""
    share, room = [0] * len(left), box.room
    for i in sorted(range(len(left)), key=lambda i: (-packing.weights[i], i)):
        if box.allowed[i]:
            share[i] = min(left[i], room // packing.weights[i])
            room -= share[i] * packing.weights[i]
    return share
