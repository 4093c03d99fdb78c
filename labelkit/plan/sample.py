"""Inner prices of the items from columns over a few boxes that stand for many, and the bound those prices give all."""

from __future__ import annotations

import math
from dataclasses import replace

from labelkit.plan.columns import FINE, Columns, known_halves
from labelkit.plan.packing import Item, Packing
from labelkit.plan.pricing import LONGEST, table

BOXES = 16
ROUNDS = 60
MOST_LOOKS = 40_000_000


def sample_prices(packing: Packing, smaller: Packing, rooms: list[int]) -> tuple[tuple[int, ...] | None, int]:
    """The prices, in millionths of a coin, and a bound for all loads of ``packing``; no prices where loads are too many.

    ``smaller`` is the packing without what cannot stand in a better answer.
    """
    few = _sample(smaller, rooms)
    halves = known_halves(few)
    lowest = Columns(few, halves).close_in(ROUNDS) if halves is not None else None
    if lowest is None:
        return None, packing.ceiling()
    return lowest.prices, _bound(packing, smaller, rooms, lowest.prices)


def _sample(packing: Packing, rooms: list[int]) -> Packing:
    """A few boxes from the least to the most room, and their part of every floor and ceiling."""
    order = sorted(range(len(rooms)), key=lambda b: (packing.boxes[b].allowed, rooms[b]))
    count = min(BOXES, len(order))
    chosen = [order[(2 * k + 1) * len(order) // (2 * count)] for k in range(count)]
    part, whole = sum(rooms[b] for b in chosen), sum(rooms)
    boxes = tuple(replace(packing.boxes[b], room=max(rooms[b], packing.boxes[b].least)) for b in chosen)
    return Packing(boxes, tuple(_part_of(item, part, whole) for item in packing.items))


def _part_of(item: Item, part: int, whole: int) -> Item:
    floor = item.floor * part // whole
    worths = [(-(-length * part // whole), each) for length, each in item.worths]
    return Item(item.weight, floor, floor + sum(length for length, _ in worths), 1, 0, tuple(worths))


def _bound(packing: Packing, smaller: Packing, rooms: list[int], prices: tuple[int, ...]) -> int:
    """What all boxes are worth at these prices, and every item's best count against its price, in whole numbers."""
    fine = sum(item.best_at(price, FINE)[0] for item, price in zip(packing.items, prices, strict=True))
    unit = math.gcd(*packing.weights)
    for kind in {box.allowed for box in packing.boxes}:
        mine = [room for box, room in zip(packing.boxes, rooms, strict=True) if box.allowed == kind]
        if max(mine) // unit <= LONGEST:
            best = table(packing.weights, prices, kind, max(mine), unit, up=False)
            fine += sum(best.best(room) for room in mine)
            continue
        halves = (known_halves(Packing(tuple(b for b in smaller.boxes if b.allowed == kind), smaller.items)) or {}).get(
            kind
        )
        if halves is None or len(halves.first.weights) * len(mine) > MOST_LOOKS:
            return packing.ceiling()
        fine += sum(worth for worth, _ in halves.best(prices, mine))
    return fine // FINE
