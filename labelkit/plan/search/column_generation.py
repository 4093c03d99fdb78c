"""Column generation: which totals of each item all bins together can reach, bounded by prices.

At any price of each item, the best patterns of all bins have a value, and no totals have a higher one: that is a *cut*,
in whole numbers (Lagrangian relaxation). The patterns behind it are a *column*. The best convex combination of the known
columns is a small linear program, the *master*, whose duals are the next prices.

Sources: Dantzig and Wolfe, “Decomposition principle for linear programs”, Operations Research 8, 1960 (the master);
Kelley, “The cutting-plane method for solving convex programs”, Journal of the Society for Industrial and Applied
Mathematics 8, 1960 (the cuts); Marsten, Hogan and Blankenship, “The Boxstep method for large-scale optimization”,
Operations Research 23, 1975, from memory (prices held in a box around the best so far).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from labelkit.plan.search.knapsack import price_bins
from labelkit.plan.search.packing import Packing
from labelkit.plan.search.reduced_cost_fixing import FINE, Cut, capacity_price, surrogate_cut
from labelkit.plan.search.solver import INFINITE, Model, solve

TABLES = 12_000_000  # entries of all pricing tables together: the finer the prices, the longer they are
FRACTIONS, SCALES, COARSEST = 64, 256, 0.6  # parts of a coin in a scale, scales tried, the coarsest against the finest
COARSE = 8  # times shorter are the tables of the first rounds
GROUPS = 40  # bins are added up in so many groups, so that the master program stays small
BOX = 0.05  # of what an item's weight is worth: how far prices may move in a round
ASIDE = 0.0005  # of a price
CLOSE = 500_000  # a bound within one part in so many of the columns' best is close enough
MILLI = 0.001


@dataclass(frozen=True)
class Master:
    """The best convex combination of columns: its dual prices, its value, and each group's share of each column."""

    prices: tuple[float, ...]
    value: float
    shares: Any  # columns x groups


class Columns:
    """The cuts and columns known so far of one packing; ``capacities`` say how full each bin can be made."""

    def __init__(self, packing: Packing, capacities: Sequence[int]) -> None:
        import numpy as np

        self.packing = packing
        self.capacities = np.array(capacities, dtype=np.int64)
        kinds = sorted({bin_.allowed for bin_ in packing.bins})
        kind = np.array([kinds.index(bin_.allowed) for bin_ in packing.bins])
        self.kinds = {allowed: np.flatnonzero(kind == k) for k, allowed in enumerate(kinds)}
        self.groups = min(GROUPS, len(capacities))
        self.group = np.zeros(len(capacities), dtype=np.int64)
        self.group[np.lexsort((self.capacities, kind))] = np.arange(len(capacities)) * self.groups // len(capacities)
        self.cuts = [surrogate_cut(packing, capacities)]
        self.patterns: list[Any] = []  # of each column, bins x items
        self.sums: list[Any] = []  # of each column, groups x items
        self.per_weight = capacity_price(packing, int(self.capacities.sum())) / FINE
        self.learn(np.zeros((len(capacities), len(packing.items)), dtype=np.int64))

    def learn(self, patterns: Any) -> None:
        """Take over patterns of all bins as a column."""
        import numpy as np

        self.patterns.append(patterns)
        sums = [np.bincount(self.group, weights=column, minlength=self.groups) for column in patterns.T]
        self.sums.append(np.stack(sums, axis=1))

    def price_out(self, prices: Sequence[float], entries: int = TABLES) -> int:
        """Learn the cut and the column of these prices; the bound they give the packing.

        Prices are rounded to as fine a unit as the table allows before the bound is taken, so it is one.
        """
        import numpy as np

        packing = self.packing
        per_coin, coins = self._scale(prices, entries)
        whole = tuple(max(0, round(price * per_coin / coins)) for price in prices)
        patterns, most = np.zeros((len(self.capacities), len(whole)), dtype=np.int64), 0
        for allowed, mine in self.kinds.items():
            capacities, back = np.unique(self.capacities[mine], return_inverse=True)
            offered = [item.maximum if ok else 0 for item, ok in zip(packing.items, allowed, strict=True)]
            priced = price_bins(whole, packing.weights, offered, capacities.tolist())
            most += int(priced[0][back].sum())
            patterns[mine] = priced[1][back]
        cut = Cut(tuple(price * coins for price in whole), most * coins, per_coin)
        if cut not in self.cuts:
            self.cuts.append(cut)
            self.learn(patterns)
        return cut.bound(packing.items)

    def _scale(self, prices: Sequence[float], entries: int) -> tuple[int, int]:
        """A scale, as a fraction, in which these prices are nearly whole and no table is longer than its entries.

        Of many scales nearly as fine as may be, the one is taken that rounds the prices of all items least.
        """
        import numpy as np

        asked = np.array(prices)
        weights = np.array(self.packing.weights)
        finest = entries / len(asked) / (float((asked / weights).max()) * int(self.capacities.max()) + 1)
        coins = FRACTIONS * max(1, math.ceil(1 / finest))
        top = max(1, int(finest * coins))
        scales = np.linspace(max(1, int(COARSEST * top)), top, SCALES).astype(np.int64)
        scales[0] = max(1, top // coins * coins)  # whole coins, at which whole prices stay as they are
        most = np.minimum([item.maximum for item in self.packing.items], int(self.capacities.sum()) / weights)
        scaled = asked[None, :] * (scales / coins)[:, None]
        off = (np.abs(np.round(scaled) - scaled) / scales[:, None]) @ most
        return int(scales[int(np.argmin(off))]), coins

    def tighten_bound(self, rounds: int) -> int:
        """The lowest bound that prices give, after at most so many rounds.

        Each round asks at the best prices of the master program within a bin around the best so far. Where nothing in
        the bin is better than its middle, nothing anywhere is, since the bound is a convex function of the prices.
        """
        middle = self.first_prices()
        bound = self.price_out(middle)
        for entries in (TABLES // COARSE, TABLES):
            bound = min(bound, self.price_out(middle, entries))
            for _ in range(rounds):
                master, known = self.solve_master(around=middle), len(self.cuts)
                if master is None or bound - master.value <= abs(bound) / CLOSE:
                    break
                asked = self.price_out(master.prices, entries)
                if asked < bound:
                    bound, middle = asked, master.prices
                elif len(self.cuts) == known:
                    break
        self.middle = tuple(middle)
        return bound

    def perturb_prices(self) -> None:
        """Learn more columns that are nearly best, by pricing at prices a little off."""
        for i, price in enumerate(self.middle):
            for off in (1 + ASIDE, 1 - ASIDE):
                self.price_out((*self.middle[:i], price * off, *self.middle[i + 1 :]), TABLES // COARSE)

    def true_values(self) -> tuple[float, ...]:
        """Return the value of the first of each item beyond its minimum: the right prices where no limit binds."""
        return tuple(float(max(0, item.segments[0][1])) if item.segments else 0.0 for item in self.packing.items)

    def first_prices(self) -> tuple[float, ...]:
        """Return what each item's weight is worth where all bins are one, or less where one more item would be worth less."""
        prices = []
        for item in self.packing.items:
            honest = self.per_weight * item.weight
            idle = item.segments and item.best_at(math.ceil(honest))[1] == item.minimum
            prices.append(max(0.0, min(honest, item.segments[0][1])) if idle else honest)
        return tuple(prices)

    def separate(self, totals: Sequence[int], rounds: int) -> bool:
        """Whether a cut is found that these totals violate; it is learned."""
        for _ in range(rounds):
            master = self.solve_master(totals)
            if master is None or master.value > -1e-6:
                return False
            known = len(self.cuts)
            self.price_out(master.prices)
            if len(self.cuts) == known:
                return False
            if not self.cuts[-1].holds(totals):
                return True
        return False

    def solve_master(self, totals: Sequence[int] | None = None, around: Sequence[float] = ()) -> Master | None:
        """Solve the master: the best combination of the columns, or the one that misses given totals by the least weight.

        ``around`` are prices near which the duals are held: items may then be bought and sold for a little more or less.
        """
        import numpy as np

        items, model = self.packing.items, Model()
        whole = [model.row(1, 1) for _ in range(self.groups)]
        rows = [model.row(0, INFINITE) for _ in items]
        for column in self.sums:
            for row, counts in zip(whole, column.tolist(), strict=True):
                model.column(0, INFINITE, [(row, 1.0), *((rows[i], n) for i, n in enumerate(counts) if n)], False)
        for i, item in enumerate(items):
            if totals is not None:
                model.column(0, totals[i], [(rows[i], -1.0)], False, lower=totals[i])
                model.column(-item.weight * MILLI, INFINITE, [(rows[i], 1.0)], False)
                continue
            model.column(
                item.base / item.minimum if item.minimum else 0, item.minimum, [(rows[i], -1.0)], False, item.minimum
            )
            for length, value in item.segments:
                model.column(value, length, [(rows[i], -1.0)], False)
            reach = BOX * self.per_weight * item.weight
            model.column(-around[i] - reach, INFINITE, [(rows[i], 1.0)], False)
            model.column(around[i] - reach, INFINITE, [(rows[i], -1.0)], False)
        answer = solve(model)
        if answer.values is None or answer.duals is None:
            return None
        shares = np.array(answer.values[: len(self.sums) * self.groups]).reshape(-1, self.groups)
        prices = [max(0.0, -answer.duals[row]) for row in rows]
        return Master(tuple(prices), answer.objective, shares)
