"""The road by columns: whole loads of a box as the things to choose from, priced in two halves.

Each item gets an inner price. At any inner prices the best load of every box, and for every item the best count against
its price, add up to a bound (Lagrange); where the prices come from the choice among the loads known so far (Dantzig and
Wolfe, “Decomposition principle for linear programs”, Operations Research 8, 1960), the bound closes in on the choice. The
prices are floats until they are rounded to whole millionths of a coin; the bound is then reckoned in whole numbers.

With the bound closed in, only loads whose price is within the remaining gap of the best can stand in a better plan.
They are listed in full where they are few enough, and the choice among them is exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from labelkit.plan.search.assignment_mip import whole_bound
from labelkit.plan.search.meet_in_the_middle import Halves, halves
from labelkit.plan.search.packing import Box, Found, Loads, Packing
from labelkit.plan.search.solver import INFINITE, Model, solve

FINE = 1_000_000  # inner prices are whole millionths of the smallest coin
MOST_LOADS = 1_500
ROUNDS = 60
FIRST_NODES, NODES = 40, 400  # of a search tree, for each unit of patience


@dataclass
class Master:
    """The loads known so far for each kind of box, and the choice among them."""

    packing: Packing
    kinds: list[Box] = field(default_factory=list)
    many: list[int] = field(default_factory=list)
    kind_of: list[int] = field(default_factory=list)
    loads: list[dict[tuple[int, ...], None]] = field(default_factory=list)

    def __post_init__(self) -> None:
        for box in self.packing.boxes:
            if box not in self.kinds:
                self.kinds.append(box)
                self.many.append(0)
                self.loads.append({(0,) * len(self.packing.items): None} if not box.least else {})
            self.kind_of.append(self.kinds.index(box))
            self.many[self.kind_of[-1]] += 1

    def add(self, kind: int, load: tuple[int, ...]) -> bool:
        """Know one more load; whether it is new."""
        new = load not in self.loads[kind]
        self.loads[kind][load] = None
        return new

    def choose(self, whole: bool, nodes: int | None = None, target: int | None = None):
        """The best choice among the known loads: inner prices for ``whole=False``, loads for every box otherwise."""
        model = Model()
        of_kind = [model.row(n, n) for n in self.many]
        sums = [model.row(0, 0) for _ in self.packing.items]
        cases = [
            model.row(-item.floor, -item.floor) if item.case > 1 and whole else None for item in self.packing.items
        ]
        columns = [
            (
                kind,
                load,
                model.column(
                    0, self.many[kind], [(of_kind[kind], 1), *((sums[i], n) for i, n in enumerate(load) if n)], whole
                ),
            )
            for kind, loads in enumerate(self.loads)
            for load in loads
        ]
        for i, item in enumerate(self.packing.items):
            entries = [(sums[i], -1.0)] + ([(cases[i], -1.0)] if cases[i] is not None else [])
            each = item.base / item.floor if item.floor else 0
            model.column(each, item.floor, entries, False, lower=item.floor)
            for length, worth in item.worths:
                model.column(worth, length, entries, False)
            if cases[i] is not None:
                model.column(0, (item.most - item.floor) // item.case, [(cases[i], item.case)], True)
            if not whole:
                # Missing a floor is dear but possible, so that the choice is never empty while loads are still few.
                model.column(-self._dear(), INFINITE, [(sums[i], 1.0)], False)
        answer = solve(model, nodes, relax=not whole, target=target)
        if not whole:
            return [-answer.duals[row] for row in sums] if answer.duals else None
        if answer.values is None:
            return answer, None
        left = [[] for _ in self.kinds]
        for kind, load, column in columns:
            left[kind] += [load] * round(answer.values[column])
        if [len(loads) for loads in left] != self.many:
            return answer, None
        return answer, tuple(left[kind].pop() for kind in self.kind_of)

    def _dear(self) -> float:
        return 10.0 * (1 + max((each for item in self.packing.items for _, each in item.worths), default=1))


@dataclass
class Bound:
    """The lowest bound so far, and the inner prices (in millionths of a coin) it was reckoned with."""

    fine: int
    prices: tuple[int, ...]

    @property
    def worth(self) -> int:
        """The bound in whole coins: no loads are worth a part of one."""
        return self.fine // FINE


class Columns:
    """The search by columns over one packing whose loads are few enough to be known in halves."""

    def __init__(self, packing: Packing, known: dict[tuple[bool, ...], Halves]) -> None:
        self.packing = packing
        self.master = Master(packing)
        self.halves = known

    def bound_at(self, prices: tuple[int, ...]) -> tuple[int, list[tuple[int, tuple[int, ...]]]]:
        """The bound these inner prices give, in millionths, and the best load of each kind of box behind it."""
        best = [self.halves[box.allowed].best(prices, [box.room])[0] for box in self.master.kinds]
        fine = sum(n * worth for n, (worth, _) in zip(self.master.many, best, strict=True))
        fine += sum(item.best_at(price, FINE)[0] for item, price in zip(self.packing.items, prices, strict=True))
        return fine, best

    def close_in(self, rounds: int) -> Bound | None:
        """Generate loads until the bound no longer falls; the lowest bound met."""
        lowest: Bound | None = None
        for _ in range(rounds):
            duals = self.master.choose(False)
            if duals is None:
                return lowest
            prices = tuple(math.ceil(dual * FINE) for dual in duals)
            fine, best = self.bound_at(prices)
            if lowest is None or fine < lowest.fine:
                lowest = Bound(fine, prices)
            new = [self._learn(kind, load) for kind, (_, load) in enumerate(best)]
            if not any(new):
                break
        return lowest

    def _learn(self, kind: int, load: tuple[int, ...]) -> bool:
        weight = sum(n * w for n, w in zip(load, self.packing.weights, strict=True))
        return self.master.kinds[kind].least <= weight and self.master.add(kind, load)

    def list_within(self, bound: Bound, worth: int, most: int) -> bool:
        """Know every load that could stand in loads worth more than ``worth``; whether they were no more than ``most``."""
        spare = bound.fine - (worth + 1) * FINE
        if spare < 0:
            return True
        _, best = self.bound_at(bound.prices)
        total, listed = 0, []
        for box, (price, _) in zip(self.master.kinds, best, strict=True):
            found = self.halves[box.allowed].within(bound.prices, box.room, box.least, price - spare, most)
            if found is None or (total := total + len(found)) > most:
                return False
            listed.append(found.tolist())
        for kind, loads in enumerate(listed):
            for load in loads:
                self.master.add(kind, tuple(load))
        return True

    def better(self, best: Loads | None, worth: int | None, bound: int, nodes: int):
        """The best choice among the loads known, where it is better than ``best``; and what the solver said."""
        answer, loads = self.master.choose(True, nodes, bound)
        if loads is not None and self.packing.admits(loads) and (worth is None or self.packing.value(loads) > worth):
            best, worth = loads, self.packing.value(loads)
        return (best, worth), answer


def known_halves(packing: Packing) -> dict[tuple[bool, ...], Halves] | None:
    """The halves for every set of allowed items, or none where one of them would be too long."""
    known = {}
    for allowed in {box.allowed for box in packing.boxes}:
        room = max(box.room for box in packing.boxes if box.allowed == allowed)
        found = halves(packing.weights, [item.most for item in packing.items], room, allowed)
        if found is None:
            return None
        known[allowed] = found
    return known


def by_columns(packing: Packing, known: Loads | None, worth: int | None, bound: int, patience: int) -> Found:
    """Loads worth more than ``worth`` and a lower bound than ``bound``, as far as the columns and the patience reach.

    ``known`` are loads of that worth. Where nothing better can be, the bound found is that worth.
    """
    listed = None if packing.guards else known_halves(packing)
    if listed is None:
        return Found(None, 0, bound)
    columns = Columns(packing, listed)
    for kind, load in zip(columns.master.kind_of, known or (), strict=known is not None):
        columns.master.add(kind, load)
    lowest = columns.close_in(ROUNDS)
    if lowest is not None:
        bound = min(bound, lowest.worth)
    best, worth = columns.better(None, worth, bound, FIRST_NODES * patience)[0]
    if (
        lowest is None
        or worth is None
        or worth >= bound
        or not columns.list_within(lowest, worth, MOST_LOADS * patience)
    ):
        return Found(best, worth or 0, bound)
    (best, worth), answer = columns.better(best, worth, bound, NODES * patience)
    if answer.optimal or answer.infeasible:
        bound = worth
    elif math.isfinite(answer.bound):
        bound = min(bound, max(worth, whole_bound(answer.bound)))
    return Found(best, worth, bound)
