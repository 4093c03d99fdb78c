"""All boxes poured into one: what the items could be worth if only the sum of the room counted.

A bound for every packing, since boxes only take away freedom; and the totals that reach it are the first thing worth
trying to split over the boxes. Solved exactly by asking the other way round: for each worth, what is the least weight
that earns it? Worth counts in small coins, so the table is short where a table of milligrams would not fit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.plan.search.packing import Item

UNREACHED = 1 << 60
LARGEST_TABLE = 3_000_000


@dataclass(frozen=True)
class Pool:
    """The bound and the totals that reach it with the least weight."""

    worth: int
    totals: tuple[int, ...]


def pool(items: tuple[Item, ...], room: int) -> Pool | None:
    """The most worth within ``room``; none where the floors alone are too heavy or the table would be too long.

    >>> pool((Item(454, 0, 9, worths=((9, 1000),)), Item(227, 1, 3, base=600, worths=((2, 600),))), 1500)
    Pool(worth=3200, totals=(2, 2))
    """
    made = _made(items, room)
    if made is None:
        return None
    import numpy as np

    steps, unit, tables = made
    floors = sum(item.weight * item.floor for item in items)
    best = int(np.flatnonzero(tables[-1] <= room - floors)[-1])
    cases = _trace(items, steps, unit, tables, best)
    totals = tuple(item.floor + n * item.case for item, n in zip(items, cases, strict=True))
    return Pool(sum(item.base for item in items) + best * unit, totals)


def worths_within(items: tuple[Item, ...], rooms: Sequence[int]) -> list[int] | None:
    """The most worth within each of several rooms, all from one table, of items without floors.

    >>> worths_within((Item(454, 0, 9, worths=((9, 1000),)), Item(227, 0, 2, worths=((2, 600),))), [1500, 226])
    [3200, 0]
    """
    made = _made(items, max(rooms))
    if made is None:
        return None
    import numpy as np

    _, unit, tables = made
    least = np.minimum.accumulate(tables[-1][::-1])[::-1]
    best = np.searchsorted(least, np.array(rooms, dtype=np.int64), side="right") - 1
    return [int(place) * unit for place in best]


def _made(items: tuple[Item, ...], room: int):
    """The runs of cases, the unit of worth, and the tables; none where they cannot be made."""
    room -= sum(item.weight * item.floor for item in items)
    if room < 0:
        return None
    steps = [_cases(item) for item in items]
    unit = math.gcd(*(gain for runs in steps for _, gain in runs)) or 1
    length = _most(items, steps, room) // unit + 1
    return (steps, unit, _tables(items, steps, unit, length)) if length <= LARGEST_TABLE else None


def greedy_totals(items: tuple[Item, ...], room: int) -> tuple[int, ...]:
    """Totals by the best worth for their weight first: near the best, and known at any scale.

    >>> greedy_totals((Item(454, 0, 9, worths=((9, 1000),)), Item(227, 1, 3, base=600, worths=((2, 600),))), 1500)
    (1, 3)
    """
    totals = [item.floor for item in items]
    room -= sum(item.weight * item.floor for item in items)
    runs = [(gain, item.weight * item.case, n, i) for i, item in enumerate(items) for n, gain in _cases(item)]
    for _, weight, n, i in sorted(runs, key=lambda run: (run[1] / run[0], run[3])):
        taken = min(n, max(0, room) // weight)
        totals[i] += taken * items[i].case
        room -= taken * weight
    return tuple(totals)


def _cases(item: Item) -> list[tuple[int, int]]:
    """Runs of whole cases beyond the floor: ``(how many, worth of each)``, falling, only those worth something.

    >>> _cases(Item(454, 0, 12, 3, worths=((4, 1000), (8, 800))))
    [(1, 3000), (1, 2600), (2, 2400)]
    """
    runs: list[tuple[int, int]] = []
    at = end = 0
    for length, each in item.worths:
        end += length
        whole = end // item.case - at
        if whole > 0:
            runs.append((whole, each * item.case))
            at += whole
        if at * item.case < end and (at + 1) * item.case <= item.most - item.floor:
            first = item.floor + at * item.case  # a case that begins before the bend and ends behind it
            runs.append((1, item.worth(first + item.case) - item.worth(first)))
            at += 1
    return [(many, gain) for many, gain in runs if gain > 0]


def _most(items: tuple[Item, ...], steps, room: int) -> int:
    """A worth that cannot be exceeded: the best worth per weight first, the last one in part."""
    runs = [(gain, item.weight * item.case, n) for item, runs in zip(items, steps, strict=True) for n, gain in runs]
    worth = 0
    for gain, weight, n in sorted(runs, key=lambda run: run[1] / run[0]):
        taken = min(n, room // weight)
        worth += taken * gain
        room -= taken * weight
        if taken < n:
            return worth + -(-room * gain // weight)
    return worth


def _tables(items: tuple[Item, ...], steps, unit: int, length: int) -> list:
    """For each number of items in turn, the least weight of each worth; runs by doubling, so few passes are made."""
    import numpy as np

    table = np.full(length, UNREACHED, dtype=np.int64)
    table[0] = 0
    tables = [table]
    for item, runs in zip(items, steps, strict=True):
        table = table.copy()
        for count, gain in runs:
            chunk = 1
            while count:
                taken = min(chunk, count)
                shift, weight = taken * gain // unit, taken * item.weight * item.case
                if shift < length:
                    np.minimum(table[shift:], table[:-shift] + weight, out=table[shift:])
                count -= taken
                chunk *= 2
        tables.append(table)
    return tables


def _trace(items: tuple[Item, ...], steps, unit: int, tables, at: int) -> list[int]:
    """How many cases of each item stand behind the least weight of a worth."""
    cases = []
    for item, runs, before, table in zip(
        reversed(items), reversed(steps), reversed(tables[:-1]), reversed(tables[1:]), strict=True
    ):
        weight, taken, worth = int(table[at]), 0, 0
        gains = [gain for count, gain in runs for _ in range(count)]
        while worth > at or int(before[at - worth]) + taken * item.weight * item.case != weight:
            worth += gains[taken] // unit
            taken += 1
        cases.append(taken)
        at -= worth
    return cases[::-1]
