"""How full a box can be made at all: the heaviest load not above its room, exactly, to the milligram.

All loads at once are one large whole number whose bit ``n`` says whether some load weighs ``n``: taking one more item
shifts it, and any number of items is a few shifts by doubling. Python's whole numbers do that for tens of millions of
bits in hundredths of a second.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from labelkit.plan.search.packing import Box, Packing

LONGEST = 64_000_000  # bits
FEW = 20  # rooms; more are read off the bytes, which a large number is turned into once


def fullest(packing: Packing) -> list[int]:
    """How full each box of a packing can be made."""
    groups: dict[tuple[bool, ...], list[Box]] = {}
    for box in packing.boxes:
        groups.setdefault(box.allowed, []).append(box)
    full: dict[Box, int] = {}
    for allowed, boxes in groups.items():
        items = [item for item, ok in zip(packing.items, allowed, strict=True) if ok and item.most]
        loads = heaviest([item.weight for item in items], [item.most for item in items], [box.room for box in boxes])
        full |= dict(zip(boxes, loads, strict=True))
    return [full[box] for box in packing.boxes]


def heaviest(weights: Sequence[int], most: Sequence[int], rooms: Sequence[int]) -> list[int]:
    """The heaviest load that each room takes, of items of these weights, each at most so many times.

    A tank of many hundred kilograms is taken to fill to the brim; the gap that leaves is a milligram or two.

    >>> heaviest([6, 9, 20], [9, 9, 9], [43, 8, 5])
    [42, 6, 0]
    >>> heaviest([6, 9, 20], [1, 0, 9], [43])
    [40]
    """
    unit = math.gcd(*weights) or 1
    rooms = [room // unit for room in rooms]
    largest = max(rooms, default=0)
    if largest > LONGEST:
        return [room * unit for room in rooms]
    mask = (1 << (largest + 1)) - 1
    loads = 1
    for weight, count in zip(weights, most, strict=True):
        weight //= unit
        count = min(count, largest // weight)
        chunk = 1
        while count > 0:
            taken = min(chunk, count)
            loads |= (loads << (taken * weight)) & mask
            count -= taken
            chunk *= 2
    if len(rooms) <= FEW:
        return [((loads & ((1 << (room + 1)) - 1)).bit_length() - 1) * unit for room in rooms]
    return [full * unit for full in _read_off(loads, rooms, largest)]


def _read_off(loads: int, rooms: list[int], largest: int) -> list[int]:
    """The highest bit at or below each of many places, through the bytes that are not empty."""
    import numpy as np

    octets = np.frombuffer(loads.to_bytes(largest // 8 + 1, "little"), dtype=np.uint8)
    taken = np.flatnonzero(octets)
    full = []
    for room in rooms:
        here = int(octets[room >> 3]) & ((2 << (room & 7)) - 1)
        place = room >> 3
        if not here:
            place = int(taken[np.searchsorted(taken, place) - 1])
            here = int(octets[place])
        full.append(8 * place + here.bit_length() - 1)
    return full
