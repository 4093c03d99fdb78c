"""Bounded knapsacks by dynamic programming over values: for each value, what is the least weight that reaches it?

Values count in small coins, so the table is short where a table of milligrams would not fit, and one table answers
every capacity. It serves twice: for the *surrogate relaxation*, in which all bins are one, and for *pricing*, the best
pattern of each bin when the items have given prices.

Sources, from memory: Martello and Toth, “Knapsack Problems”, 1990, section 2.6 (the table over values); Gilmore and
Gomory, “A linear programming approach to the cutting-stock problem”, Operations Research 9, 1961 (pricing).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

from labelkit.plan.search.packing import Item

LARGEST_TABLE = 3_000_000
WIDE = 64  # values: from so many on a pass over whole rows is quicker than doubling
MOST_TRIED = 128  # counts looked up at once


@dataclass(frozen=True)
class Run:
    """So many things of the same weight and value; ``item`` says whose they are."""

    item: int
    count: int
    value: int
    weight: int


@dataclass(frozen=True)
class Table:
    """For each value, counted in ``unit``, the least weight that reaches it, after each of the runs in turn."""

    runs: tuple[Run, ...]
    unit: int
    steps: tuple[Any, ...]  # one array before the first run, and one after each

    @cached_property
    def _at_least(self) -> Any:
        """The least weight that reaches each value or more."""
        import numpy as np

        return np.minimum.accumulate(self.steps[-1][::-1])[::-1]

    def places(self, capacities: Sequence[int]) -> Any:
        """For each capacity the place in the table of the highest value within it."""
        import numpy as np

        return np.searchsorted(self._at_least, np.asarray(capacities, dtype=self._at_least.dtype), side="right") - 1

    def counts(self, places: Any, items: int) -> Any:
        """How many of each item stand behind each place: an array, places x items."""
        import numpy as np

        places = places.astype(np.int64)
        counts = np.zeros((len(places), items), dtype=np.int64)
        for run, before, after in zip(self.runs[::-1], self.steps[-2::-1], self.steps[:0:-1], strict=True):
            taken = _taken(run.value // self.unit, run.weight, before, after, places)
            counts[:, run.item] += taken
            places = places - taken * (run.value // self.unit)
        return counts


def _taken(shift: int, weight: int, before: Any, after: Any, places: Any) -> Any:
    """How many of a run stand behind each place, the fewest that do."""
    import numpy as np

    taken = np.zeros(len(places), dtype=np.int64)
    wanted, left, n, step = after[places].astype(np.int64), np.arange(len(places)), 0, 8
    while len(left):
        tried = np.arange(n, n + step)
        place = places[left][:, None] - tried * shift
        met = (place >= 0) & (before[np.maximum(place, 0)] + tried * weight == wanted[left][:, None])
        found = met.any(axis=1)
        taken[left[found]] = n + met[found].argmax(axis=1)
        left, n, step = left[~found], n + step, min(MOST_TRIED, 2 * step)
    return taken


def table(runs: Sequence[Run], capacity: int) -> Table:
    """The table of all values that can be reached within ``capacity``."""
    import numpy as np

    runs = tuple(run for run in runs if run.value > 0 and run.count > 0 and run.weight <= capacity)
    unit, length = _length(runs, capacity)
    small = capacity < 1 << 29
    unreached = 1 << 30 if small else 1 << 60
    least = np.full(length, unreached, dtype=np.int32 if small else np.int64)
    least[0] = 0
    steps = [least]
    for run in runs:
        steps.append(_with_run(steps[-1], run, run.value // unit, capacity, unreached))
    return Table(runs, unit, tuple(steps))


def _length(runs: Sequence[Run], capacity: int) -> tuple[int, int]:
    """The unit the values have in common, and how many entries a table in this unit has."""
    unit = math.gcd(*(run.value for run in runs)) or 1
    return unit, _linear_bound(runs, capacity) // unit + 1


def _linear_bound(runs: Sequence[Run], capacity: int) -> int:
    """A value that cannot be exceeded: the best value for its weight first, the last one in part."""
    value = 0
    for run in sorted(runs, key=lambda run: run.weight / run.value):
        taken = min(run.count, max(0, capacity) // run.weight)
        value += taken * run.value
        capacity -= taken * run.weight
        if taken < run.count:
            return value + -(-capacity * run.value // run.weight)
    return value


def _with_run(least: Any, run: Run, shift: int, capacity: int, unreached: int) -> Any:
    """The table with one more run: row by row where its count holds nothing down, by doubling otherwise."""
    import numpy as np

    length, most = len(least), capacity // run.weight
    if shift >= length:
        return least
    if run.count >= most and shift >= WIDE:
        rows = -(-length // shift)
        grid = np.full(rows * shift, unreached, dtype=least.dtype)
        grid[:length] = least
        grid = grid.reshape(rows, shift)
        for above, row in pairwise(grid):
            np.minimum(row, above + least.dtype.type(run.weight), out=row)
        return grid.reshape(-1)[:length]
    least, count, chunk = least.copy(), min(run.count, most), 1
    while count and chunk * shift < length:
        taken = min(chunk, count)
        far = taken * shift
        np.minimum(least[far:], least[:-far] + least.dtype.type(taken * run.weight), out=least[far:])
        count -= taken
        chunk *= 2
    return least


@dataclass(frozen=True)
class Surrogate:
    """The bound and the totals that reach it with the least weight."""

    value: int
    totals: tuple[int, ...]


def solve_surrogate(items: tuple[Item, ...], capacity: int) -> Surrogate | None:
    """The most value within ``capacity``; none where the minimums alone are too heavy or the table would be too long.

    >>> solve_surrogate((Item(454, 0, 9, segments=((9, 1000),)), Item(227, 1, 3, base=600, segments=((2, 600),))), 1500)
    Surrogate(value=3200, totals=(2, 2))
    """
    capacity -= sum(item.weight * item.minimum for item in items)
    runs = _runs(items)
    if capacity < 0 or _length(runs, capacity)[1] > LARGEST_TABLE:
        return None
    made = table(runs, capacity)
    best = made.places([capacity])
    totals = [
        item.minimum + int(n) * item.case for item, n in zip(items, made.counts(best, len(items))[0], strict=True)
    ]
    return Surrogate(sum(item.base for item in items) + int(best[0]) * made.unit, tuple(totals))


def values_within(items: tuple[Item, ...], capacities: Sequence[int]) -> list[int] | None:
    """The most value within each of several capacities, all from one table, of items without minimums.

    >>> values_within((Item(454, 0, 9, segments=((9, 1000),)), Item(227, 0, 2, segments=((2, 600),))), [1500, 226])
    [3200, 0]
    """
    runs = _runs(items)
    if _length(runs, max(capacities))[1] > LARGEST_TABLE:
        return None
    made = table(runs, max(capacities))
    return [int(place) * made.unit for place in made.places(capacities)]


def price_bins(
    prices: Sequence[int], weights: Sequence[int], most: Sequence[int], capacities: Sequence[int]
) -> tuple[Any, Any]:
    """For each capacity the highest value of a pattern at these prices, and such a pattern: arrays, capacities and capacities x items.

    The higher the prices, the longer the table; the caller sees to that.

    >>> segments, patterns = price_bins([1000, 700], [454, 340], [9, 9], [1600, 700])
    >>> segments.tolist(), patterns.tolist()
    ([3400, 1400], [[2, 2], [0, 2]])
    """
    import numpy as np

    runs = [Run(i, n, p, w) for i, (n, p, w) in enumerate(zip(most, prices, weights, strict=True))]
    made = table(runs, max(capacities))
    places = made.places(capacities)
    return places.astype(np.int64) * made.unit, made.counts(places, len(prices))


def greedy_totals(items: tuple[Item, ...], capacity: int) -> tuple[int, ...]:
    """Totals by the best value for their weight first: near the best, and known at any scale.

    >>> greedy_totals((Item(454, 0, 9, segments=((9, 1000),)), Item(227, 1, 3, base=600, segments=((2, 600),))), 1500)
    (1, 3)
    """
    totals = [item.minimum for item in items]
    capacity -= sum(item.weight * item.minimum for item in items)
    for run in sorted(_runs(items), key=lambda run: (run.weight / run.value, run.item)):
        taken = min(run.count, max(0, capacity) // run.weight)
        totals[run.item] += taken * items[run.item].case
        capacity -= taken * run.weight
    return tuple(totals)


def _runs(items: Sequence[Item]) -> list[Run]:
    """Runs of whole cases beyond the minimums, those of an item falling, only those worth something.

    >>> [(run.count, run.value) for run in _runs([Item(454, 0, 12, 3, segments=((4, 1000), (8, 800)))])]
    [(1, 3000), (1, 2600), (2, 2400)]
    """
    runs: list[Run] = []
    for i, item in enumerate(items):
        at = end = 0
        for length, each in item.segments:
            end += length
            whole = end // item.case - at
            if whole > 0:
                runs.append(Run(i, whole, each * item.case, item.weight * item.case))
                at += whole
            if at * item.case < end and (at + 1) * item.case <= item.maximum - item.minimum:
                first = item.minimum + at * item.case  # a case that begins before the bend and ends behind it
                value = item.value(first + item.case) - item.value(first)
                runs.append(Run(i, 1, value, item.weight * item.case))
                at += 1
    return [run for run in runs if run.value > 0]
