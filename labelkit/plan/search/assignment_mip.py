"""The plain road: one whole number for each jar size in each bucket, handed to branch and bound.

Always right, seldom fast; the other roads are there so that this one has little left to do.
"""

from __future__ import annotations

import math

from labelkit.plan.search.packing import Found, Guard, Item, Loads, Packing, between, totals_of
from labelkit.plan.search.solver import INFINITE, Model, solve

# HiGHS holds a row to 1e-6, so weights reach it in grams: a thousandth of a milligram is then the most it can overlook.
MILLI = 0.001


def branch(packing: Packing, nodes: int, known: Loads | None = None, bound: int | None = None) -> Found:
    """Search for the best loads; ``known`` are loads to begin from and ``bound`` a bound known from elsewhere."""
    if known is not None and not packing.admits(known):
        known = None
    model, columns = _model(packing)
    start = None if known is None else _start(packing, known)
    answer = solve(model, nodes, start=start, target=bound)
    best = known
    if answer.values is not None:
        loads = tuple(
            tuple(round(answer.values[column]) if column is not None else 0 for column in row) for row in columns
        )
        if packing.admits(loads) and (best is None or packing.value(loads) > packing.value(best)):
            best = loads
    honest = packing.ceiling() if not math.isfinite(answer.bound) else whole_bound(answer.bound)
    if bound is not None:
        honest = min(honest, bound)
    if answer.optimal and best is not None and packing.value(best) == round(answer.worth):
        honest = min(honest, packing.value(best))
    if best is None:
        return Found(None, 0, honest, impossible=answer.infeasible)
    return Found(best, packing.value(best), max(honest, packing.value(best)))


def whole_bound(bound: float) -> int:
    """A float bound as a whole one. Before it is rounded down, ten times what HiGHS may be off by is added.

    >>> whole_bound(626006.9999999993)
    626007
    """
    return math.floor(bound + max(0.01, 1e-7 * abs(bound)))


def _model(packing: Packing) -> tuple[Model, list[list[int | None]]]:
    model = Model()
    loads = [model.row(box.least * MILLI, box.room * MILLI) for box in packing.boxes]
    sums = [model.row(0, 0) for _ in packing.items]
    cases = [model.row(-item.floor, -item.floor) if item.case > 1 else None for item in packing.items]
    guards = _guards(packing)
    sames = [[model.row(0, 0) for _ in guard.items] for guard in guards]
    columns: list[list[int | None]] = []
    for b, box in enumerate(packing.boxes):
        columns.append(
            [
                model.column(0, box.room // item.weight, [(loads[b], item.weight * MILLI), (sums[i], 1)], True)
                if box.allowed[i] and item.weight <= box.room
                else None
                for i, item in enumerate(packing.items)
            ]
        )
    for i, item in enumerate(packing.items):
        entries = [(sums[i], -1.0)] + ([(cases[i], -1.0)] if cases[i] is not None else [])
        model.column(item.base / item.floor if item.floor else 0, item.floor, entries, False, lower=item.floor)
        for length, each in item.worths:
            model.column(each, length, [*entries, *((same[i], 1.0) for same in sames)], False)
        if cases[i] is not None:
            model.column(0, (item.most - item.floor) // item.case, [(cases[i], item.case)], True)
    for guard, same in zip(guards, sames, strict=True):
        row = model.row(guard.least - sum(item.base for item in guard.items), INFINITE)
        for i, item in enumerate(guard.items):
            for length, each in item.worths:
                model.column(0, length, [(same[i], -1.0), (row, each)], False)
    return model, columns


def _start(packing: Packing, known: Loads) -> list[float]:
    start: list[float] = []
    for box, load in zip(packing.boxes, known, strict=True):
        start += [
            n for n, item, ok in zip(load, packing.items, box.allowed, strict=True) if ok and item.weight <= box.room
        ]
    for item, total in zip(packing.items, totals_of(known, len(packing.items)), strict=True):
        start += [item.floor, *_spread(item, total)]
        if item.case > 1:
            start.append((total - item.floor) // item.case)
    for guard in _guards(packing):
        for item, total in zip(guard.items, totals_of(known, len(packing.items)), strict=True):
            start += _spread(item, total)
    return [float(value) for value in start]


def _spread(item: Item, total: int) -> list[int]:
    """How a total stands over the segments of worth."""
    beyond, spread = total - item.floor, []
    for length, _ in item.worths:
        spread.append(min(beyond, length))
        beyond -= spread[-1]
    return spread


def _guards(packing: Packing) -> list[Guard]:
    """The guards over the floors and ceilings the items have now."""
    return [
        Guard(tuple(between(g, i.floor, i.most) for g, i in zip(guard.items, packing.items, strict=True)), guard.least)
        for guard in packing.guards
    ]
