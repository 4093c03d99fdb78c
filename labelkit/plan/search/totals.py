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

from labelkit.plan.search.column_generation import Line
from labelkit.plan.search.packing import Item, between
from labelkit.plan.search.solver import INFINITE, Model, solve

PARTS = 1 << 64  # weights of lines are whole parts
WHOLE = 1e-5  # of a case: nearer to a whole number than this counts as whole
Span = tuple[int, int]  # cases beyond the floor, from and to


@dataclass(frozen=True)
class Best:
    """Totals in whole cases within the lines, and a bound no such totals exceed; ``whole`` where the totals reach it."""

    totals: tuple[int, ...]
    bound: int
    whole: bool


@dataclass(frozen=True)
class Node:
    """Totals within spans: a bound on what they are worth, and where the linear program stands."""

    bound: int
    spans: tuple[Span, ...]
    point: tuple[float, ...]


def best_totals(items: Sequence[Item], lines: Sequence[Line], nodes: int) -> Best | None:
    """The best totals within the lines, after at most so many nodes; none where no totals keep to them all.

    Where the nodes do not suffice, the totals are those at the foot of the most promising branch.

    >>> pound, half = Item(454, 0, 9, 2, worths=((9, 1000),)), Item(227, 1, 3, base=600, worths=((2, 600),))
    >>> best_totals([pound, half], [Line((454, 227), 1500)], 20)
    Best(totals=(2, 2), bound=3200, whole=True)
    """
    lowest = {line.prices: line for line in sorted(lines, key=lambda line: -line.most) if any(line.prices)}
    search = _Search(tuple(items), tuple(lowest.values()))
    first = search.look(tuple((0, (item.most - item.floor) // item.case) for item in items))
    if first is None:
        return None
    # Lines far from where the program stands seldom matter, and without them each look is quicker.
    near = _Search(search.items, tuple(line for line in search.lines if line.is_near(first.point))).best(first, nodes)
    if near is None or all(line.holds(near.totals) for line in search.lines):
        return near
    return search.best(first, nodes)


@dataclass(frozen=True)
class _Search:
    items: tuple[Item, ...]
    lines: tuple[Line, ...]

    def best(self, first: Node, nodes: int) -> Best | None:
        """The best totals below the first node."""
        turn = count()
        queue = [(-first.bound, next(turn), first)]
        for _ in range(nodes):
            top = queue[0][2]
            if self.broken(top) is None:
                return Best(self.rounded(top), top.bound, True)
            heapq.heappop(queue)
            for node in self.parts(top):
                heapq.heappush(queue, (-node.bound, next(turn), node))
            if not queue:
                return None
        top = node = queue[0][2]
        while self.broken(node) is not None:
            parts = self.parts(node)
            if not parts:
                break
            node = max(parts, key=lambda part: part.bound)
        return Best(self.rounded(node), top.bound, False)

    def look(self, spans: tuple[Span, ...], above: int | None = None) -> Node | None:
        """A bound of all totals within the spans, never over ``above``; none where there are no totals."""
        within = [
            between(item, item.floor + low * item.case, item.floor + high * item.case)
            for item, (low, high) in zip(self.items, spans, strict=True)
        ]
        # No price is below nothing, so the smallest counts keep to every line, or none do.
        if not all(line.holds([item.floor for item in within]) for line in self.lines):
            return None
        duals, point = _program(within, self.lines)
        weights = [max(0, int(dual * PARTS / max(line.prices))) for dual, line in zip(duals, self.lines, strict=True)]
        bound = sum(w * line.most for w, line in zip(weights, self.lines, strict=True))
        for i, item in enumerate(within):
            price = sum(w * line.prices[i] for w, line in zip(weights, self.lines, strict=True))
            bound += item.best_at(price, PARTS)[0]
        bound //= PARTS
        return Node(bound if above is None else min(bound, above), spans, tuple(point))

    def broken(self, node: Node) -> int | None:
        """The item whose count is furthest from a whole number of cases by weight, or none where all are whole."""
        worst, place = 0.0, None
        for i, (item, (low, high), n) in enumerate(zip(self.items, node.spans, node.point, strict=True)):
            cases = (n - item.floor) / item.case
            off = abs(cases - round(cases))
            if low < high and off > WHOLE and off * item.case * item.weight > worst:
                worst, place = off * item.case * item.weight, i
        return place

    def parts(self, node: Node) -> list[Node]:
        """The node in two: below the broken count, and above it."""
        place = self.broken(node)
        item, (low, high) = self.items[place], node.spans[place]
        cut = math.floor((node.point[place] - item.floor) / item.case)
        halves = [
            self.look((*node.spans[:place], span, *node.spans[place + 1 :]), node.bound)
            for span in ((low, cut), (cut + 1, high))
        ]
        return [part for part in halves if part is not None]

    def rounded(self, node: Node) -> tuple[int, ...]:
        """The totals a node stands at, taken down to whole cases."""
        return tuple(
            item.floor + item.case * max(low, min(high, math.floor((n - item.floor) / item.case + WHOLE)))
            for item, (low, high), n in zip(self.items, node.spans, node.point, strict=True)
        )


def _program(items: Sequence[Item], lines: Sequence[Line]) -> tuple[list[float], list[float]]:
    """What each line counts for in the linear program, jars cut as it likes, and how many of each item it takes."""
    model = Model()
    scales = [max(line.prices) for line in lines]
    rows = [model.row(-INFINITE, line.most / scale) for line, scale in zip(lines, scales, strict=True)]
    of_item: list[list[int]] = []
    for i, item in enumerate(items):
        entries = [
            (row, line.prices[i] / scale)
            for row, line, scale in zip(rows, lines, scales, strict=True)
            if line.prices[i]
        ]
        of_item.append([model.column(0, item.floor, entries, False, lower=item.floor)])
        of_item[-1] += [model.column(worth, length, entries, False) for length, worth in item.worths]
    answer = solve(model)
    values = answer.values or model.lower
    return answer.duals or [0.0] * len(lines), [sum(values[column] for column in columns) for columns in of_item]
