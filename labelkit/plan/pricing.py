"""What a box is worth at given prices of the items: one knapsack table for all boxes that may hold the same items.

The table counts room in a unit coarser than the milligram. Taking weights and room *down* to the unit can only make
more fit than really does, so what the table says is never below the truth: it is a bound. Taking weights *up* can only
make less fit, so every load it gives is real. Where one unit measures all weights (whole grams), both are exact.
Prices are whole numbers of a small fraction of a coin, so that a bound stays exact whatever the prices were before.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LONGEST = 700_000


def unit_for(weights: Sequence[int], room: int, longest: int = LONGEST) -> int:
    """The unit, in milligrams, that loses least of the weights while a table up to ``room`` stays short enough.

    >>> unit_for([340_000, 454_000], 27_000_000)
    2000
    >>> unit_for([28_349, 56_699, 453_592], 27_000_000)
    28349
    """
    common = math.gcd(*weights)
    if room // common <= longest:
        return common
    import numpy as np

    units = np.arange(max(2, room // longest + 1), min(weights) + 1, dtype=np.int64)
    lost = np.max([weight % units / weight for weight in weights], axis=0)
    # Loss being equal to a part in a hundred thousand, the coarser unit makes the shorter table.
    return int(units[np.flatnonzero(lost <= lost.min() + 1e-5)[-1]])


@dataclass(frozen=True)
class Table:
    """Best price of a load for every room in units, with the tables of fewer items that led to it.

    ``stages[k]`` uses the items ``order[k:]`` only; ``stages[0]`` uses all, ``stages[-1]`` none.
    """

    unit: int
    order: tuple[int, ...]
    sizes: tuple[int, ...]  # weight of each item in units
    prices: tuple[int, ...]
    stages: tuple

    def best(self, room: int) -> int:
        """The best price of a load for a room in milligrams."""
        return int(self.stages[0][room // self.unit])

    def load(self, room: int, items: int) -> tuple[int, ...]:
        """A load of that price, as counts of each of ``items`` items."""
        counts, at = [0] * items, room // self.unit
        for k, i in enumerate(self.order):
            size, price = self.sizes[i], self.prices[i]
            while at >= size and self.stages[k][at] != self.stages[k + 1][at] and (
                self.stages[k][at - size] + price == self.stages[k][at]
            ):  # fmt: skip
                counts[i] += 1
                at -= size
        return tuple(counts)


def table(
    weights: Sequence[int], prices: Sequence[int], allowed: Sequence[bool], room: int, unit: int, up: bool
) -> Table:
    """The table for rooms up to ``room``; ``up`` takes weights up to the unit instead of down.

    >>> ounces = table([2, 3], [10, 16], [True, True], 7, 1, up=False)
    >>> ounces.best(7), ounces.load(7, 2)
    (36, (2, 1))
    """
    import numpy as np

    sizes = tuple(-(-w // unit) if up else max(1, w // unit) for w in weights)
    length = room // unit + 1
    # Light items last in the order, so that walking down the order settles the heavy ones first.
    order = tuple(sorted((i for i, ok in enumerate(allowed) if ok and prices[i] > 0), key=lambda i: -sizes[i]))
    best = np.zeros(length, dtype=np.int64)
    stages = [best]
    for i in reversed(order):
        best = best.copy()
        _take(best, sizes[i], prices[i])
        stages.append(best)
    return Table(unit, order, sizes, tuple(prices), tuple(reversed(stages)))


def _take(best, size: int, price: int) -> None:
    """Let any number of one item be taken, a whole stretch of rooms at a time."""
    import numpy as np

    length = len(best)
    rows = length // size
    if rows < 1 or size >= length:
        return
    # Rooms a multiple of the size apart stand in one column; going down it each step adds one item.
    whole = best[: rows * size].reshape(rows, size)
    added = (np.arange(rows, dtype=np.int64) * price)[:, None]
    whole[:] = np.maximum.accumulate(whole - added, axis=0) + added
    rest = length - rows * size
    if rest:
        np.maximum(best[-rest:], best[-rest - size : length - size] + price, out=best[-rest:])
