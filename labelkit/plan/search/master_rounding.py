"""From the master program of column generation to whole patterns: most bins take a pattern of one column as it is.

A basic solution of the master program leaves no more groups of bins with parts of several columns than there are items.
The bins of those groups choose once more, each for itself, and again no more bins than items are left with parts. These
and a few beside them are solved to the end with whatever the others left over.

Source, from memory: Joncour, Michel, Sadykov, Sverdlov and Vanderbeck, “Column generation based primal heuristics”,
Electronic Notes in Discrete Mathematics 36, 2010.
"""

from __future__ import annotations

from collections.abc import Sequence

from labelkit.plan.search.column_generation import MILLI, Columns
from labelkit.plan.search.dealing import Finish, complete, take_back, top_up
from labelkit.plan.search.packing import Patterns
from labelkit.plan.search.solver import INFINITE, Model, solve

PART = 1e-6  # a share below this is none
CHOOSING = 100  # bins that choose for themselves, if more are not left with parts
LAST = 8  # bins solved to the end, if more are not left with parts


def round_master(columns: Columns, totals: Sequence[int], bound: int, finish: Finish) -> Patterns | None:
    """Patterns whose totals are these or nearly; ``finish`` finds the best patterns of a few bins, up to a bound."""
    import numpy as np

    master = columns.solve_master(totals)
    if master is None:
        return None
    packing, taken = columns.packing, master.shares > PART
    free = (taken.sum(axis=0) != 1)[columns.group]
    free[:: max(1, len(free) // CHOOSING)] = True
    dealt = {
        b: tuple(columns.patterns[int(np.argmax(taken[:, columns.group[b]]))][b].tolist())
        for b in np.flatnonzero(~free).tolist()
    }
    left = [n - sum(pattern[i] for pattern in dealt.values()) for i, n in enumerate(totals)]
    dealt |= _chosen(columns, np.flatnonzero(free).tolist(), left)
    dealt = {b: pattern for b, pattern in dealt.items() if packing.weight(pattern) >= packing.bins[b].minimum}
    take_back(dealt, totals)
    last = max(0, LAST + len(dealt) - len(packing.bins))
    for b in _last(dealt, last):
        del dealt[b]
    top_up(packing, columns.capacities.tolist(), dealt, totals)
    return complete(packing, dealt, bound, finish)


def _chosen(columns: Columns, bins: Sequence[int], left: Sequence[int]) -> dict[int, tuple[int, ...]]:
    """One of its known patterns for nearly every bin, so that together they come near what is left of the totals."""
    model, choices = Model(), []
    one = [model.row(1, 1) for _ in bins]
    sums = [model.row(n, INFINITE) for n in left]
    for row, b in zip(one, bins, strict=True):
        for pattern in sorted({tuple(patterns[b].tolist()) for patterns in columns.patterns}):
            entries = [(row, 1.0), *((sums[i], n) for i, n in enumerate(pattern) if n)]
            choices.append((b, pattern, model.column(0, 1, entries, False)))
    for row, weight in zip(sums, columns.packing.weights, strict=True):
        model.column(-weight * MILLI, INFINITE, [(row, 1.0)], False)
    values = solve(model).values
    return {b: pattern for b, pattern, column in choices if values is not None and values[column] > 1 - PART}


def _last(dealt: dict[int, tuple[int, ...]], count: int) -> list[int]:
    """Bins from all over, and half of them of the most items: with one item alone they could hardly be filled."""
    mixed = sorted(dealt, key=lambda b: (-sum(map(bool, dealt[b])), b))[: count // 2]
    others = [b for b in sorted(dealt) if b not in mixed]
    more = count - len(mixed)
    return mixed + others[:: max(1, len(others) // max(1, more))][:more]
