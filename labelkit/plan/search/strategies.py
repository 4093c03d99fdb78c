"""From the fastest strategy to the slowest: the best patterns of a packing.

Few bins: the *surrogate relaxation*, all bins as one, and a deal of its totals; *branch and bound* for a short while;
*reduced-cost fixing*, with the surrogate again on what remains; branch and bound to the end.

Many bins: each bin at the true values, which is best where no limit holds anything down; otherwise *column generation*,
the best totals within its cuts, and a rounding of its master program, after which fixing lowers the bound once more.

Each strategy takes what the ones before found, so none of them can make the answer worse. What the surrogate, the cuts
and fixing prove is proved in whole numbers alone; the others trust HiGHS, whose float bound is rounded down only after
more than its tolerance was added.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from labelkit.plan.search.assignment_mip import solve_assignment
from labelkit.plan.search.column_generation import Columns
from labelkit.plan.search.dealing import assign_totals, in_few_bins, in_few_items
from labelkit.plan.search.knapsack import greedy_totals, solve_surrogate
from labelkit.plan.search.master_rounding import round_master
from labelkit.plan.search.packing import Packing, Patterns, Solution
from labelkit.plan.search.reduced_cost_fixing import Cut, fix_packing, linear_bound
from labelkit.plan.search.subset_sum import max_fills
from labelkit.plan.search.totals import best_totals

FEW = 12  # bins; more are planned by column generation
TIDIED = 60  # bins; of more, the sizes in each are not sorted out
FIRST_NODES = 800
NODES = 16_000  # of a search tree, for each unit of patience
ROUNDS = 8  # of fixing
PRICED, TURNS, ATTEMPTS = 40, 8, 3  # rounds of prices, cuts against the best totals, roundings of the master program
GOOD_ENOUGH = 100_000  # a gap of one part in this many is not worth another attempt


def solve_packing(
    packing: Packing, patience: int = 1, known: Patterns | None = None, bound: int | None = None
) -> Solution:
    """The best patterns of a packing, as far as the patience reaches.

    ``known`` are patterns to better; ``bound`` is a bound known from elsewhere, at which the search may stop.
    """
    search = Search(
        packing, packing, packing.trivial_bound() if bound is None else min(bound, packing.trivial_bound()), patience
    )
    if known is not None and packing.is_feasible(known):
        search.take(known)
    if len(packing.bins) <= FEW:
        search.few()
    else:
        search.many()
    patterns = search.known
    if patterns is not None and len(packing.bins) <= FEW:
        patterns = in_few_bins(packing, patterns)
    if patterns is not None and len(packing.bins) <= TIDIED:
        patterns = in_few_items(packing, patterns)
    return Solution(patterns, search.value or 0, search.bound, search.infeasible)


@dataclass
class Search:
    """What is known so far. ``packing`` holds only what could be better than the best known of the ``whole``."""

    whole: Packing
    packing: Packing
    bound: int
    patience: int = 1
    known: Patterns | None = None
    value: int | None = None
    infeasible: bool = False

    @property
    def done(self) -> bool:
        """Whether nothing better can be found."""
        return self.infeasible or (self.value is not None and self.value >= self.bound)

    @property
    def good_enough(self) -> bool:
        """Whether so little can be missing that many bins are not worth another attempt."""
        return self.done or (self.value is not None and (self.bound - self.value) * GOOD_ENOUGH <= abs(self.bound))

    def few(self) -> None:
        """The order for few bins."""
        self.surrogate()
        if not self.done:
            self.solve_assignment(FIRST_NODES)
            self.narrow()
        if not self.done:
            self.solve_assignment(NODES)

    def many(self) -> None:
        """The order for many bins."""
        capacities = max_fills(self.whole)
        columns = Columns(self.whole, capacities)
        self.lower(columns.cuts[0].bound(self.whole.items))
        self.lower(columns.price_out(columns.true_values()))
        self.take(tuple(map(tuple, columns.patterns[-1].tolist())))
        if self.done:
            return
        self.lower(columns.tighten_bound(PRICED))
        self.fix(columns.cuts, capacities)
        totals = self.bound_totals(columns.cuts)
        for _ in range(TURNS):
            if totals is None or not columns.separate(totals, ROUNDS):
                break
            totals = self.bound_totals(columns.cuts)
        if totals is None:
            return
        for attempt in range(ATTEMPTS):
            if attempt:
                columns.perturb_prices()
            self.take(round_master(columns, totals, self.bound, self.finish))
            if self.good_enough:
                break
        before = None
        while not self.done and self.value is not None and before != (before := self.bound):
            self.fix(columns.cuts, capacities)
            self.bound_totals(columns.cuts)

    def finish(self, rest: Packing, bound: int) -> Patterns | None:
        """The best patterns of the last few of many bins."""
        search = Search(rest, rest, min(bound, rest.trivial_bound()), self.patience)
        search.few()
        return search.known

    def solve_assignment(self, nodes: int) -> None:
        """Branch and bound over what remains."""
        found = solve_assignment(self.packing, nodes * self.patience, self.known, self.bound)
        self.take(found.patterns)
        self.lower(found.bound)
        if found.infeasible:
            self.close()

    def surrogate(self) -> bool:
        """Bound by pouring all bins together, and deal the totals out; whether the bound fell."""
        before, capacities = self.bound, max_fills(self.packing)
        if self.packing.weight([item.minimum for item in self.packing.items]) > sum(capacities):
            self.close()
            return False
        self.lower(linear_bound(self.packing, capacities))
        poured = solve_surrogate(self.packing.items, sum(capacities))
        if poured is not None:
            self.lower(poured.value)
        if not self.done:
            self.take(
                assign_totals(
                    self.packing, poured.totals if poured else greedy_totals(self.packing.items, sum(capacities))
                )
            )
        return self.bound < before

    def narrow(self) -> None:
        """Leave out what cannot be better, as long as that lowers the bound."""
        for _ in range(ROUNDS):
            if self.done or self.value is None:
                return
            smaller = fix_packing(self.packing, max_fills(self.packing), self.value)
            if smaller is None:
                self.close()
                return
            same = smaller == self.packing
            self.packing = smaller
            if same or not self.surrogate():
                return

    def fix(self, cuts: Sequence[Cut], capacities: Sequence[int]) -> None:
        """Leave out what cannot be better at the prices of any cut, and bound what remains by pouring together."""
        if self.value is None:
            return
        for cut in cuts:
            items = cut.fix_items(self.packing.items, self.value)
            if items is None:
                self.close()
                return
            self.packing = replace(self.packing, items=items)
        poured = solve_surrogate(self.packing.items, sum(capacities))
        if poured is not None:
            self.lower(poured.value)

    def bound_totals(self, cuts: Sequence[Cut]) -> tuple[int, ...] | None:
        """Bound by the best totals within the cuts; these totals, or none where there are none that could be better."""
        if self.done:
            return None
        best = best_totals(self.packing.items, cuts)
        if best.infeasible:
            self.close()
        else:
            self.lower(best.bound)
        return best.totals

    def take(self, patterns: Patterns | None) -> None:
        """Take over patterns that a strategy found."""
        if patterns is None or not self.whole.is_feasible(patterns):
            return
        value = self.whole.value(patterns)
        if self.value is None or value > self.value:
            self.known, self.value = patterns, value
            self.lower(self.bound)

    def lower(self, bound: int) -> None:
        """Take over a bound."""
        self.bound = min(self.bound, bound)
        if self.value is not None:
            self.bound = max(self.bound, self.value)

    def close(self) -> None:
        """There is nothing better than the best known, or nothing at all."""
        if self.value is None:
            self.infeasible = True
        else:
            self.bound = self.value
