"""What totals of each item the boxes together can reach: hemmed in from outside by lines, from inside by points.

At any price of each item, the best loads of all boxes are worth so much, and no totals are worth more: that is a *line*,
in whole numbers. The loads behind it add up to totals that can be reached: a *point*. Prices are found by turns: the
best totals between the points known so far have prices, and these prices give the next line and point (Kelley, “The
cutting-plane method for solving convex programs”, Journal of the Society for Industrial and Applied Mathematics 8, 1960;
the points between are Dantzig and Wolfe's). Points are kept for a few groups of boxes apart, so that they say more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.plan.search.meet_in_the_middle import Halves
from labelkit.plan.search.packing import Packing
from labelkit.plan.search.solver import INFINITE, Model, solve

FINE = 1_000_000  # prices are whole millionths of the smallest coin
GROUPS = 20
CLOSE = 10_000_000  # a bound within one part in so many of the points' best is close enough
MILLI = 0.001
NEAR = 0.98


@dataclass(frozen=True)
class Line:
    """No totals that the boxes can reach are worth more than ``most`` at these prices."""

    prices: tuple[int, ...]
    most: int

    def holds(self, totals: Sequence[int]) -> bool:
        """Whether the totals keep to the line."""
        return sum(price * n for price, n in zip(self.prices, totals, strict=True)) <= self.most

    def is_near(self, totals: Sequence[float]) -> bool:
        """Whether the totals stand close by the line; one far off can be left out of a search around them."""
        return sum(price * n for price, n in zip(self.prices, totals, strict=True)) > NEAR * self.most


class Reach:
    """The lines and points known so far of one packing; ``rooms`` say how full each box can be made."""

    def __init__(self, packing: Packing, rooms: Sequence[int], halves: dict[tuple[bool, ...], Halves]) -> None:
        import numpy as np

        self.packing = packing
        self.halves = halves
        self.rooms = np.array(rooms, dtype=np.int64)
        self.kinds = {
            kind: np.array([b for b, box in enumerate(packing.boxes) if box.allowed == kind]) for kind in halves
        }
        self.groups = min(GROUPS, len(rooms))
        self.group = np.zeros(len(rooms), dtype=np.int64)
        self.group[np.argsort(self.rooms, kind="stable")] = np.arange(len(rooms)) * self.groups // len(rooms)
        self.lines: list[Line] = []
        self.loads: list = []  # the loads behind each line, a row for each box
        self.points: list = [np.zeros((self.groups, len(packing.items)), dtype=np.int64)]

    def ask(self, prices: tuple[int, ...]) -> int:
        """Learn the line and the point of these prices; the bound they give the packing, in millionths of a coin."""
        import numpy as np

        most, loads = 0, np.zeros((len(self.rooms), len(prices)), dtype=np.int64)
        for kind, mine in self.kinds.items():
            rooms, back = np.unique(self.rooms[mine], return_inverse=True)
            worths, best = self.halves[kind].best_loads(prices, rooms)
            most += int(worths[back].sum())
            loads[mine] = best[back]
        self.lines.append(Line(prices, most))
        self.loads.append(loads)
        self.points.append(
            np.stack([np.bincount(self.group, weights=column, minlength=self.groups) for column in loads.T], axis=1)
        )
        return most + sum(item.best_at(price, FINE)[0] for item, price in zip(self.packing.items, prices, strict=True))

    def close_in(self, rounds: int, first: Sequence[tuple[int, ...]] = ()) -> tuple[int, tuple[int, ...]] | None:
        """The lowest bound met, in millionths of a coin, and its prices; ``first`` are prices to begin with."""
        lowest = min(((self.ask(prices), prices) for prices in first), default=None)
        for turn in range(rounds):
            between = self._between()
            if between is None:
                break
            prices = between.prices
            if lowest is not None and turn % 2:  # prices that leap about teach little, so every second time half way
                prices = tuple((new + old) // 2 for new, old in zip(prices, lowest[1], strict=True))
            asked = (self.ask(prices), prices)
            lowest = asked if lowest is None else min(lowest, asked)
            if lowest[0] - between.worth * FINE <= abs(lowest[0]) / CLOSE:
                break
        return lowest

    def apart(self, totals: Sequence[int], rounds: int) -> bool:
        """Whether a line is found that these totals do not keep to."""
        for _ in range(rounds):
            between = self._between(totals)
            if between is None or between.worth > -1e-6:
                return False
            self.ask(between.prices)
            if not self.lines[-1].holds(totals):
                return True
        return False

    def shares(self, totals: Sequence[int]) -> list[list[float]] | None:
        """For each point, how much of it each group takes where these totals, or nearly, are a mean of points."""
        between = self._between(totals)
        return None if between is None else between.shares

    def _between(self, totals: Sequence[int] | None = None) -> Between | None:
        """The best worth between the points, or, of given totals, the least weight by which the points miss them."""
        model = Model()
        whole = [model.row(1, 1) for _ in range(self.groups)]
        sums = [model.row(0, INFINITE) for _ in self.packing.items]
        for point in self.points:
            for row, counts in zip(whole, point.tolist(), strict=True):
                entries = [(row, 1.0), *((sums[i], n) for i, n in enumerate(counts) if n)]
                model.column(0, INFINITE, entries, False)
        dear = 10.0 * (1 + max((each for item in self.packing.items for _, each in item.worths), default=1))
        for i, item in enumerate(self.packing.items):
            if totals is not None:
                model.column(0, totals[i], [(sums[i], -1.0)], False, lower=totals[i])
                model.column(-item.weight * MILLI, INFINITE, [(sums[i], 1.0)], False)
                continue
            each = item.base / item.floor if item.floor else 0
            model.column(each, item.floor, [(sums[i], -1.0)], False, lower=item.floor)
            for length, worth in item.worths:
                model.column(worth, length, [(sums[i], -1.0)], False)
            # Missing a floor is dear but possible, so that there is an answer while points are still few.
            model.column(-dear, INFINITE, [(sums[i], 1.0)], False)
        answer = solve(model)
        if answer.values is None or answer.duals is None:
            return None
        shares = [answer.values[n * self.groups : (n + 1) * self.groups] for n in range(len(self.points))]
        return Between(tuple(max(0, math.ceil(-answer.duals[row] * FINE)) for row in sums), answer.worth, shares)


@dataclass(frozen=True)
class Between:
    """An answer between the points: its prices in millionths, its worth, and each group's share of each point."""

    prices: tuple[int, ...]
    worth: float
    shares: list[list[float]]
