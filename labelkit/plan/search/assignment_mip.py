"""The plain strategy: one whole number for each jar size in each bucket, handed to branch and bound.

Always right, seldom fast; the other strategy are there so that this one has little left to do.
"""

from __future__ import annotations

import math

from labelkit.plan.search.packing import GoalConstraint, Item, Packing, Patterns, Solution, restrict, totals_of
from labelkit.plan.search.solver import INFINITE, Model, solve

# HiGHS holds a row to 1e-6, so weights reach it in grams: a thousandth of a milligram is then the most it can overlook.
MILLI = 0.001


def solve_assignment(packing: Packing, nodes: int, known: Patterns | None = None, bound: int | None = None) -> Solution:
    """Search for the best patterns; ``known`` are patterns to begin from and ``bound`` a bound known from elsewhere."""
    if known is not None and not packing.is_feasible(known):
        known = None
    model, columns = _model(packing)
    start = None if known is None else _start(packing, known)
    answer = solve(model, nodes, start=start, target=bound)
    best = known
    if answer.values is not None:
        patterns = tuple(
            tuple(round(answer.values[column]) if column is not None else 0 for column in row) for row in columns
        )
        if packing.is_feasible(patterns) and (best is None or packing.value(patterns) > packing.value(best)):
            best = patterns
    honest = packing.trivial_bound() if not math.isfinite(answer.bound) else whole_bound(answer.bound)
    if bound is not None:
        honest = min(honest, bound)
    if answer.optimal and best is not None and packing.value(best) == round(answer.objective):
        honest = min(honest, packing.value(best))
    if best is None:
        return Solution(None, 0, honest, infeasible=answer.infeasible)
    return Solution(best, packing.value(best), max(honest, packing.value(best)))


def whole_bound(bound: float) -> int:
    """A float bound as a whole one. Before it is rounded down, ten times what HiGHS may be off by is added.

    >>> whole_bound(626006.9999999993)
    626007
    """
    return math.floor(bound + max(0.01, 1e-7 * abs(bound)))


def _model(packing: Packing) -> tuple[Model, list[list[int | None]]]:
    model = Model()
    patterns = [model.row(bin_.minimum * MILLI, bin_.capacity * MILLI) for bin_ in packing.bins]
    sums = [model.row(0, 0) for _ in packing.items]
    cases = {i: model.row(-item.minimum, -item.minimum) for i, item in enumerate(packing.items) if item.case > 1}
    constraints = _constraints(packing)
    sames = [[model.row(0, 0) for _ in constraint.items] for constraint in constraints]
    columns: list[list[int | None]] = []
    for b, bin_ in enumerate(packing.bins):
        columns.append(
            [
                model.column(0, bin_.capacity // item.weight, [(patterns[b], item.weight * MILLI), (sums[i], 1)], True)
                if bin_.allowed[i] and item.weight <= bin_.capacity
                else None
                for i, item in enumerate(packing.items)
            ]
        )
    for i, item in enumerate(packing.items):
        entries = [(sums[i], -1.0)] + ([(cases[i], -1.0)] if i in cases else [])
        model.column(item.base / item.minimum if item.minimum else 0, item.minimum, entries, False, lower=item.minimum)
        for length, each in item.segments:
            model.column(each, length, [*entries, *((same[i], 1.0) for same in sames)], False)
        if i in cases:
            model.column(0, (item.maximum - item.minimum) // item.case, [(cases[i], item.case)], True)
    for constraint, same in zip(constraints, sames, strict=True):
        row = model.row(constraint.minimum - sum(item.base for item in constraint.items), INFINITE)
        for i, item in enumerate(constraint.items):
            for length, each in item.segments:
                model.column(0, length, [(same[i], -1.0), (row, each)], False)
    return model, columns


def _start(packing: Packing, known: Patterns) -> list[float]:
    start: list[float] = []
    for bin_, pattern in zip(packing.bins, known, strict=True):
        start += [
            n
            for n, item, ok in zip(pattern, packing.items, bin_.allowed, strict=True)
            if ok and item.weight <= bin_.capacity
        ]
    for item, total in zip(packing.items, totals_of(known, len(packing.items)), strict=True):
        start += [item.minimum, *_spread(item, total)]
        if item.case > 1:
            start.append((total - item.minimum) // item.case)
    for constraint in _constraints(packing):
        for item, total in zip(constraint.items, totals_of(known, len(packing.items)), strict=True):
            start += _spread(item, total)
    return [float(value) for value in start]


def _spread(item: Item, total: int) -> list[int]:
    """How a total stands over the segments of value."""
    beyond, spread = total - item.minimum, []
    for length, _ in item.segments:
        spread.append(min(beyond, length))
        beyond -= spread[-1]
    return spread


def _constraints(packing: Packing) -> list[GoalConstraint]:
    """The guards over the minimums and ceilings the items have now."""
    return [
        GoalConstraint(
            tuple(restrict(g, i.minimum, i.maximum) for g, i in zip(constraint.items, packing.items, strict=True)),
            constraint.minimum,
        )
        for constraint in packing.constraints
    ]
