"""How full a bin can be made at all: the heaviest pattern not above its capacity, exactly, to the milligram.

All patterns at once are one large whole number whose bit ``n`` says whether some pattern weighs ``n``: taking one more item
shifts it, and any number of items is a few shifts by doubling. Python's whole numbers do that for tens of millions of
bits in hundredths of a second.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from labelkit.plan.search.packing import Bin, Packing

LONGEST = 64_000_000  # bits
FEW = 20  # capacities; more are read off the bytes, which a large number is turned into once


def max_fills(packing: Packing) -> list[int]:
    """How full each bin of a packing can be made."""
    groups: dict[tuple[bool, ...], list[Bin]] = {}
    for bin_ in packing.bins:
        groups.setdefault(bin_.allowed, []).append(bin_)
    full: dict[Bin, int] = {}
    for allowed, bins in groups.items():
        items = [item for item, ok in zip(packing.items, allowed, strict=True) if ok and item.maximum]
        patterns = max_fill(
            [item.weight for item in items], [item.maximum for item in items], [bin_.capacity for bin_ in bins]
        )
        full |= dict(zip(bins, patterns, strict=True))
    return [full[bin_] for bin_ in packing.bins]


def max_fill(weights: Sequence[int], most: Sequence[int], capacities: Sequence[int]) -> list[int]:
    """The heaviest pattern that each capacity takes, of items of these weights, each at most so many times.

    A tank of many hundred kilograms is taken to fill to the brim; the gap that leaves is a milligram or two.

    >>> max_fill([6, 9, 20], [9, 9, 9], [43, 8, 5])
    [42, 6, 0]
    >>> max_fill([6, 9, 20], [1, 0, 9], [43])
    [40]
    """
    unit = math.gcd(*weights) or 1
    capacities = [capacity // unit for capacity in capacities]
    largest = max(capacities, default=0)
    if largest > LONGEST:
        return [capacity * unit for capacity in capacities]
    mask = (1 << (largest + 1)) - 1
    patterns = 1
    for weight, count in zip(weights, most, strict=True):
        weight //= unit
        count = min(count, largest // weight)
        chunk = 1
        while count > 0:
            taken = min(chunk, count)
            patterns |= (patterns << (taken * weight)) & mask
            count -= taken
            chunk *= 2
    if len(capacities) <= FEW:
        return [((patterns & ((1 << (capacity + 1)) - 1)).bit_length() - 1) * unit for capacity in capacities]
    return [full * unit for full in _read_off(patterns, capacities, largest)]


def _read_off(patterns: int, capacities: list[int], largest: int) -> list[int]:
    """The highest bit at or below each of many places, through the bytes that are not empty."""
    import numpy as np

    octets = np.frombuffer(patterns.to_bytes(largest // 8 + 1, "little"), dtype=np.uint8)
    taken = np.flatnonzero(octets)
    full = []
    for capacity in capacities:
        here = int(octets[capacity >> 3]) & ((2 << (capacity & 7)) - 1)
        place = capacity >> 3
        if not here:
            place = int(taken[np.searchsorted(taken, place) - 1])
            here = int(octets[place])
        full.append(8 * place + here.bit_length() - 1)
    return full
