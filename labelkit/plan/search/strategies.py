"""From the shortest road to the longest: the best loads of a packing.

1. *Poured together.* The bound of all boxes in one, each counted only as full as it can be made. Where its totals can be
   split over the boxes, they are the best there is, proved in whole numbers without any solver.
2. *Branch and bound* for a short while, for a first good answer.
3. *Narrowing.* What cannot stand in a better answer is left out, and the first bound is reckoned again on what remains.
4. *Columns.* Whole loads to choose from, where few enough can matter: an exact choice.
5. *Branch and bound* over what remains.

Many boxes take a road of their own, :mod:`labelkit.plan.search.many_bins`. Each road takes what the ones before found, so none of
them can make the answer worse. What the first and third prove is proved in whole numbers alone; the others trust the
search tree of HiGHS, whose float bound is rounded down only after more than its tolerance was added.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from labelkit.plan.search.assignment_mip import branch
from labelkit.plan.search.by_totals import by_totals
from labelkit.plan.search.knapsack import greedy_totals, pool
from labelkit.plan.search.load_columns import by_columns
from labelkit.plan.search.many_bins import SHORT, many_loads
from labelkit.plan.search.packing import Found, Loads, Packing
from labelkit.plan.search.reduced_cost_fixing import line_bound, narrowed
from labelkit.plan.search.split import in_few_boxes, in_few_sizes, split
from labelkit.plan.search.subset_sum import fullest

FIRST_NODES = 800
NODES = 16_000  # of a search tree, for each unit of patience
ROUNDS = 8
TIDIED = 1_000  # boxes; of more, the sizes in each are not sorted out
FEW = 12  # boxes; more are planned by shares of a common mix


def best_loads(packing: Packing, patience: int = 1, known: Loads | None = None, bound: int | None = None) -> Found:
    """The best loads of a packing, as far as the patience reaches.

    ``known`` are loads to better; ``bound`` is a bound known from elsewhere, at which the search may stop.
    """
    if len(packing.boxes) > FEW:
        found = many_loads(packing, fullest(packing), lambda rest, most: best_loads(rest, patience, bound=most))
        if found.loads is None or len(packing.boxes) > TIDIED:
            return found
        return replace(found, loads=in_few_sizes(packing, found.loads))
    search = Search(packing, packing, packing.ceiling() if bound is None else min(bound, packing.ceiling()))
    if known is not None:
        search.take(Found(known, packing.value(known), search.bound))
    search.pour()
    if not search.done:
        search.take(branch(search.packing, FIRST_NODES * patience, search.known, search.bound))
        search.narrow()
    if not search.done:
        # The boxes are too few to solve some of them apart, so totals are only dealt out where they come out at once.
        rooms = fullest(search.packing)
        totalled = by_totals(search.packing, rooms, lambda rest, most: Found(None, 0, most), SHORT)
        search.take(totalled or Found(None, 0, search.bound))
        search.narrow()
    if not search.done:
        search.take(by_columns(search.packing, search.known, search.worth, search.bound, patience))
        search.narrow()
    if not search.done:
        search.take(branch(search.packing, NODES * patience, search.known, search.bound))
    loads = search.known and in_few_sizes(packing, in_few_boxes(packing, search.known))
    return Found(loads, search.worth or 0, search.bound, search.impossible)


@dataclass
class Search:
    """What is known so far. ``packing`` holds only what could be better than the best known of the ``whole``."""

    whole: Packing
    packing: Packing
    bound: int
    known: Loads | None = None
    worth: int | None = None
    impossible: bool = False

    @property
    def done(self) -> bool:
        """Whether nothing better can be found."""
        return self.impossible or (self.worth is not None and self.worth >= self.bound)

    def take(self, found: Found) -> None:
        """Take over what a road found."""
        worth = None if found.loads is None else self.whole.value(found.loads)
        if worth is not None and (self.worth is None or worth > self.worth):
            self.known, self.worth = found.loads, worth
        self.lower(found.bound)
        if found.impossible:
            self.nothing_there()

    def pour(self) -> bool:
        """Bound by pouring all together; whether the bound fell."""
        before, rooms = self.bound, fullest(self.packing)
        if sum(item.floor * item.weight for item in self.packing.items) > sum(rooms):
            self.nothing_there()
            return False
        self.lower(line_bound(self.packing, rooms))
        poured = pool(self.packing.items, sum(rooms))
        if poured is not None:
            self.lower(poured.worth)
        if not self.done:
            totals = poured.totals if poured is not None else greedy_totals(self.packing.items, sum(rooms))
            loads = split(self.packing, totals)
            if loads is not None and self.packing.admits(loads):
                self.take(Found(loads, self.packing.value(loads), self.bound))
        return self.bound < before

    def lower(self, bound: int) -> None:
        """Take over a bound."""
        self.bound = min(self.bound, bound)
        if self.worth is not None:
            self.bound = max(self.bound, self.worth)

    def nothing_there(self) -> None:
        """There is nothing better than the best known, or nothing at all."""
        if self.worth is None:
            self.impossible = True
        else:
            self.bound = self.worth

    def narrow(self) -> None:
        """Leave out what cannot be better, as long as that lowers the bound."""
        for _ in range(ROUNDS):
            if self.done or self.worth is None:
                return
            smaller = narrowed(self.packing, fullest(self.packing), self.worth)
            if smaller is None:
                self.nothing_there()
                return
            same = smaller == self.packing
            self.packing = smaller
            if same or not self.pour():
                return
