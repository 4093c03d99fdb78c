"""The best totals that keep to given lines, whatever box they come from: whole cases, floors, ceilings, falling worth.

What the boxes can reach is hemmed in by lines over the totals alone, so a plan for thousands of boxes becomes a search
over a handful of whole numbers. It is a branch and bound whose every bound is reckoned in whole numbers: a linear
program only proposes how much each line counts, and any such weights, right or wrong, give a bound (weak duality).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

from labelkit.plan.packing import Item, between
from labelkit.plan.reach import Line
from labelkit.plan.solver import INFINITE, Model, solve

PARTS = 1 << 64  # weights of lines are whole parts
WHOLE = 1e-5  # of a case: nearer to a whole number than this counts as whole
Span = tuple[int, int]  # cases beyond the floor, from and to


@dataclass(frozen=True)
class Best:
    """Totals, and a bound no totals within the lines exceed; ``whole`` where the totals reach it and are in whole cases."""

    totals: tuple[int, ...]
    bound: int
    whole: bool


def best_totals(items: Sequence[Item], lines: Sequence[Line], nodes: int) -> Best | None:
    """The best totals within the lines, after at most so many nodes; none where no totals keep to them all.

    >>> pound, half = Item(454, 0, 9, 2, worths=((9, 1000),)), Item(227, 1, 3, base=600, worths=((2, 600),))
    >>> best_totals([pound, half], [Line((454, 227), 1500)], 20)
    Best(totals=(2, 2), bound=3200, whole=True)
    """
    lines = list(
        {line.prices: line for line in sorted(lines, key=lambda line: -line.most) if any(line.prices)}.values()
    )
    root = [(0, (item.most - item.floor) // item.case) for item in items]
    turn, first = count(), _look(items, lines, root)
    if first is None:
        return None
    queue = [(-first[0], next(turn), root, first[1])]
    for _ in range(nodes):
        bound, _, spans, point = queue[0]
        place = _broken(items, spans, point)
        if place is None:
            return Best(_rounded(items, spans, point), -bound, True)
        heapq.heappop(queue)
        cut = math.floor((point[place] - items[place].floor) / items[place].case)
        for span in ((spans[place][0], cut), (cut + 1, spans[place][1])):
            narrower = [*spans[:place], span, *spans[place + 1 :]]
            looked = _look(items, lines, narrower)
            if looked is not None:
                heapq.heappush(queue, (max(bound, -looked[0]), next(turn), narrower, looked[1]))
        if not queue:
            return None
    bound, _, spans, point = queue[0]
    return Best(_rounded(items, spans, point), -bound, False)


def _look(items: Sequence[Item], lines: Sequence[Line], spans: Sequence[Span]) -> tuple[int, list[float]] | None:
    """A bound of all totals within the spans, and where the linear program stands; none where there are no totals."""
    within = [
        between(item, item.floor + low * item.case, item.floor + high * item.case)
        for item, (low, high) in zip(items, spans, strict=True)
    ]
    # All prices are above nothing, so the smallest counts keep to every line, or none do.
    if not all(line.holds([item.floor for item in within]) for line in lines):
        return None
    model = Model()
    scales = [max(line.prices) for line in lines]
    rows = [model.row(-INFINITE, line.most / scale) for line, scale in zip(lines, scales, strict=True)]
    of_item: list[list[int]] = []
    for i, item in enumerate(within):
        entries = [
            (row, line.prices[i] / scale)
            for row, line, scale in zip(rows, lines, scales, strict=True) if line.prices[i]
        ]  # fmt: skip
        of_item.append([model.column(0, item.floor, entries, False, lower=item.floor)])
        of_item[-1] += [model.column(worth, length, entries, False) for length, worth in item.worths]
    answer = solve(model)
    duals = answer.duals or [0.0] * len(lines)
    weights = [max(0, int(dual * PARTS / scale)) for dual, scale in zip(duals, scales, strict=True)]
    price = [sum(w * line.prices[i] for w, line in zip(weights, lines, strict=True)) for i in range(len(items))]
    bound = sum(w * line.most for w, line in zip(weights, lines, strict=True))
    bound += sum(item.best_at(each, PARTS)[0] for item, each in zip(within, price, strict=True))
    values = answer.values or model.lower
    return bound // PARTS, [sum(values[column] for column in columns) for columns in of_item]


def _broken(items: Sequence[Item], spans: Sequence[Span], point: Sequence[float]) -> int | None:
    """The item whose count is furthest from a whole number of cases by weight, or none where all are whole."""
    worst, place = 0.0, None
    for i, (item, (low, high), n) in enumerate(zip(items, spans, point, strict=True)):
        cases = (n - item.floor) / item.case
        off = abs(cases - round(cases))
        if low < high and off > WHOLE and off * item.case * item.weight > worst:
            worst, place = off * item.case * item.weight, i
    return place


def _rounded(items: Sequence[Item], spans: Sequence[Span], point: Sequence[float]) -> tuple[int, ...]:
    return tuple(
        item.floor + item.case * max(low, min(high, math.floor((n - item.floor) / item.case + WHOLE)))
        for item, (low, high), n in zip(items, spans, point, strict=True)
    )
