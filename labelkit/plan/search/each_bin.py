"""Each box on its own: the best plan of all where stock and demand hold nothing down.

One table serves every box: for each worth the least weight that earns it, exact to the milligram and the coin.
"""

from __future__ import annotations

import math

from labelkit.plan.search.packing import Found, Packing

UNREACHED = 1 << 60
LARGEST_TABLE = 3_000_000


def each_alone(packing: Packing) -> Found | None:
    """The best load of every box by itself, if all together they keep every limit; none otherwise.

    >>> from labelkit.plan.search.packing import Box, Item
    >>> items = (Item(454, 0, 9, worths=((9, 1000),)), Item(340, 0, 9, worths=((9, 700),)))
    >>> each_alone(Packing((Box(1600, 0, (True, True)), Box(700, 0, (True, True))), items)).loads
    ((2, 2), (0, 2))
    """
    if packing.guards or any(item.floor or len(item.worths) > 1 for item in packing.items):
        return None
    loads: list[tuple[int, ...]] = [()] * len(packing.boxes)
    for kind in {box.allowed for box in packing.boxes}:
        mine = [b for b, box in enumerate(packing.boxes) if box.allowed == kind]
        best = _best(packing, kind, [packing.boxes[b].room for b in mine])
        if best is None:
            return None
        for b, load in zip(mine, best, strict=True):
            loads[b] = load
    found = tuple(loads)
    return Found(found, packing.value(found), packing.value(found)) if packing.admits(found) else None


def _best(packing: Packing, kind: tuple[bool, ...], rooms: list[int]) -> list[tuple[int, ...]] | None:
    import numpy as np

    size = len(packing.items)
    used = [
        i for i, item in enumerate(packing.items) if kind[i] and item.most and item.worths and item.worths[0][1] > 0
    ]
    gains = {i: packing.items[i].worths[0][1] for i in used}
    unit = math.gcd(*gains.values()) or 1
    largest = max(rooms)
    length = max((largest * gains[i] // packing.items[i].weight for i in used), default=0) // unit + 1
    if length > LARGEST_TABLE:
        return None
    tables = [np.full(length, UNREACHED, dtype=np.int64)]
    tables[0][0] = 0
    for i in used:
        tables.append(_more(np, tables[-1], gains[i] // unit, packing.items[i].weight, largest))
    # The most that is worth for a room stands where the least weight of that worth or more still fits.
    least = np.minimum.accumulate(tables[-1][::-1])[::-1]
    at = np.searchsorted(least, np.array(rooms, dtype=np.int64), side="right") - 1
    counts = np.zeros((len(rooms), size), dtype=np.int64)
    for k, i in reversed(list(enumerate(used))):
        counts[:, i] = _counts(np, tables[k], tables[k + 1], at, gains[i] // unit, packing.items[i].weight)
        at = at - counts[:, i] * (gains[i] // unit)
    return [tuple(row) for row in counts.tolist()]


def _more(np, table, shift: int, weight: int, largest: int):
    """The table with any number of one more item, by doubling."""
    table, count = table.copy(), 1
    while count * weight <= largest and count * shift < len(table):
        far = count * shift
        np.minimum(table[far:], table[:-far] + count * weight, out=table[far:])
        count *= 2
    return table


def _counts(np, before, after, at, shift: int, weight: int):
    """How many of an item stand behind each place of the table, the fewest that do."""
    counts = np.zeros(len(at), dtype=np.int64)
    wanted, open_ = after[at], np.arange(len(at))
    n = 0
    while len(open_):
        place = at[open_] - n * shift
        met = (place >= 0) & (before[np.maximum(place, 0)] + n * weight == wanted[open_])
        counts[open_[met]] = n
        open_ = open_[~met]
        n += 1
    return counts
