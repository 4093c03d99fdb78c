"""The best totals of each item that keep to given cuts, whatever bin they come from: minimums, ceilings, whole cases.

What the bins can reach is hemmed in by cuts over the totals alone, so a packing of thousands of bins becomes an integer
program over a handful of whole numbers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.plan.search.assignment_mip import whole_bound
from labelkit.plan.search.packing import Item, value_of
from labelkit.plan.search.reduced_cost_fixing import Cut
from labelkit.plan.search.solver import INFINITE, Model, solve

NODES = 2_000


@dataclass(frozen=True)
class Best:
    """Totals in whole cases that keep to the cuts (none where none were found), and a bound no such totals exceed."""

    totals: tuple[int, ...] | None
    bound: int
    infeasible: bool = False  # it is certain that no totals keep to the cuts


def best_totals(items: Sequence[Item], cuts: Sequence[Cut]) -> Best:
    """The best totals within the cuts.

    >>> pound, half = Item(454, 0, 9, 2, segments=((9, 1000),)), Item(227, 1, 3, base=600, segments=((2, 600),))
    >>> best_totals([pound, half], [Cut((454, 227), 1500, 1)])
    Best(totals=(2, 2), bound=3200, infeasible=False)
    """
    model, cases = Model(), []
    rows = []
    for cut in cuts:
        scale = max(1, *cut.prices)
        minimums = sum(price * item.minimum for price, item in zip(cut.prices, items, strict=True))
        rows.append((scale, cut, model.row(-INFINITE, (cut.maximum - minimums) / scale)))
    for i, item in enumerate(items):
        whole = model.row(0, 0)
        entries = [(row, cut.prices[i] / scale) for scale, cut, row in rows if cut.prices[i]]
        cases.append(model.column(0, (item.maximum - item.minimum) // item.case, [(whole, item.case)], True))
        for length, value in item.segments:
            model.column(value, length, [*entries, (whole, -1.0)], False)
    answer = solve(model, NODES)
    # What the minimums are worth is added in whole numbers, so that the float bound is one of small figures.
    base = sum(item.base for item in items)
    bound = base + (
        whole_bound(answer.bound) if math.isfinite(answer.bound) else sum(i.best_at(0)[0] - i.base for i in items)
    )
    if answer.values is None:
        return Best(None, bound, answer.infeasible)
    counts = [answer.values[column] for column in cases]
    totals = tuple(item.minimum + item.case * round(n) for item, n in zip(items, counts, strict=True))
    return Best(totals, max(bound, value_of(items, totals)))
