"""Small exchanges of items, all known beforehand, to make a share fit a bin to within a hair.

They are kept in two halves, one over every second item and one over the others, each sorted by weight: the best pair is
found by one sorted look-up for each exchange of the first half instead of by trying every pair.

Source, from memory: Horowitz and Sahni, “Computing partitions with applications to the knapsack problem”, Journal of the
ACM 21, 1974 (meet in the middle).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any


@dataclass(frozen=True)
class Half:
    """Exchanges over some of the items, lightest first: changes by row, their weights, and how much each moves."""

    items: list[int]
    changes: Any
    weights: Any
    moved: Any


@dataclass(frozen=True)
class Exchanges:
    """Small exchanges of the items ``used``, in two halves of at most ``length``."""

    weights: Sequence[int]
    used: Sequence[int]
    length: int = 30_000

    @cached_property
    def halves(self) -> tuple[Half, Half]:
        """The two halves, over every second item by weight."""
        places = sorted(self.used, key=lambda i: self.weights[i])
        return self._half(places[0::2]), self._half(places[1::2])

    def _half(self, items: list[int]) -> Half:
        import numpy as np

        if not items:
            nothing = np.zeros(1, dtype=np.int64)
            return Half(items, np.zeros((1, 0), dtype=np.int64), nothing, nothing)
        reach = int((self.length ** (1 / len(items)) - 1) / 2)
        steps = [np.arange(-reach, reach + 1, dtype=np.int64)] * len(items)
        grid = np.stack(np.meshgrid(*steps, indexing="ij"), axis=-1).reshape(-1, len(items))
        each = np.array([self.weights[i] for i in items], dtype=np.int64)
        weight, moved = grid @ each, np.abs(grid) @ each
        # Of equal weights the one that moves least comes last, where the look-up finds it.
        order = np.lexsort((-moved, weight))
        return Half(items, np.asfortranarray(grid[order]), weight[order], moved[order])

    def closest(self, capacity: int, down: Sequence[int], up: Sequence[int], loose: int) -> list[int] | None:
        """The exchange that adds the most weight not above ``capacity``, no item falling or rising by more than given.

        Of all that come within ``loose`` of the capacity, the one that moves least, so that what is left for the other
        bins stays as mixed as it was.
        """
        import numpy as np

        first, second = (_fair(half, down, up) for half in self.halves)
        partner = np.searchsorted(second.weights, capacity - first.weights, side="right") - 1
        fits = np.flatnonzero(partner >= 0)
        if not len(fits):
            return None
        gap = capacity - first.weights[fits] - second.weights[partner[fits]]
        near = fits[np.flatnonzero(gap <= max(loose, int(gap.min())))]
        best = near[int(np.argmin(first.moved[near] + second.moved[partner[near]]))]
        change = [0] * len(self.weights)
        for half, row in ((first, best), (second, partner[best])):
            for i, step in zip(half.items, half.changes[row], strict=True):
                change[i] = int(step)
        return change


def _fair(half: Half, down: Sequence[int], up: Sequence[int]) -> Half:
    """The exchanges in which no item falls or rises by more than given."""
    import numpy as np

    fair = np.ones(len(half.weights), dtype=bool)
    for column, i in enumerate(half.items):
        change = half.changes[:, column]
        reach = int(change.max(initial=0))
        if up[i] < reach:
            fair &= change <= up[i]
        if down[i] < reach:
            fair &= change >= -down[i]
    if fair.all():
        return half
    return Half(half.items, half.changes[fair], half.weights[fair], half.moved[fair])


def fair_share(
    left: Sequence[int], allowed: Sequence[bool], capacity: int, capacities: int, carried: int = 0
) -> list[int]:
    """What a bin of ``capacity`` out of ``capacities`` gets of everything left, in whole items, the roundings carried on.

    >>> fair_share([10, 3], [True, True], 1, 4)
    [2, 1]
    """
    share: list[int] = []
    if not capacities:
        return [0] * len(left)
    for n, ok in zip(left, allowed, strict=True):
        exact = n * capacity + carried if ok else 0
        share.append(min(n, exact // capacities))
        carried = exact - share[-1] * capacities if ok else carried
    return share


def fill_bin(
    share: Sequence[int], left: Sequence[int], allowed: Sequence[bool], capacity: int, exchanges: Exchanges, loose: int
) -> tuple[int, ...]:
    """The share of a bin after the exchange that fills its capacity best, within what is left."""
    base = sum(n * w for n, w in zip(share, exchanges.weights, strict=True))
    down = [n if ok else 0 for n, ok in zip(share, allowed, strict=True)]
    up = [n - taken if ok else 0 for n, taken, ok in zip(left, share, allowed, strict=True)]
    change = exchanges.closest(capacity - base, down, up, loose)
    return tuple(n + d for n, d in zip(share, change, strict=True)) if change else tuple(share)
