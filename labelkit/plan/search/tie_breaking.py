"""Which of several equally good plans is taken: the one with the fewest jars, then the one whose sizes stand first.

Fewer jars are less work for the same money. Of plans with equally many jars, the one is taken whose sizes stand nearest
to the head of the list, counted jar by jar. Both are searches of their own in which nothing of the value may be lost, so
what comes out does not hang on the order in which the search happened to look. Then the jars are put into as few
buckets, and as few sizes to a bucket, as can be found; and of buckets that are alike, the earlier one gets the larger jars.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.search.assignment_mip import solve_assignment
from labelkit.plan.search.dealing import in_few_bins, in_few_items
from labelkit.plan.search.packing import GoalConstraint, Item, Packing, Patterns, totals_of, value_of
from labelkit.plan.search.reduced_cost_fixing import fix_packing
from labelkit.plan.search.subset_sum import max_fills

NODES = 200  # of each search tree, for each unit of patience
MOST_BINS = 12


def break_ties(packing: Packing, patterns: Patterns, patience: int = 1) -> Patterns:
    """Of all patterns worth as much as these, which are the best there are, those that the rule takes.

    >>> from labelkit.plan.search.packing import Bin
    >>> pound, half = Item(454, 0, 4, segments=((4, 1000),)), Item(227, 0, 8, segments=((8, 500),))
    >>> break_ties(Packing((Bin(908, 0, (True, True)),), (pound, half)), ((0, 4),))
    ((2, 0),)
    """
    if len(packing.bins) > MOST_BINS:
        return sort_equal_bins(packing, patterns)
    value = packing.value(patterns)
    smaller = fix_packing(packing, max_fills(packing), value - 1)
    held = packing if smaller is None else smaller
    constraints = [*packing.constraints, GoalConstraint(packing.items, value)]
    for tax in ([1] * len(packing.items), list(range(len(packing.items)))):
        taxed = tuple(_taxed(item, each) for item, each in zip(held.items, tax, strict=True))
        patterns = (
            solve_assignment(Packing(held.bins, taxed, tuple(constraints)), NODES * patience, patterns).patterns
            or patterns
        )
        constraints.append(GoalConstraint(taxed, value_of(taxed, totals_of(patterns, len(taxed)))))
    return sort_equal_bins(packing, in_few_items(packing, in_few_bins(packing, patterns)))


def sort_equal_bins(packing: Packing, patterns: Patterns) -> Patterns:
    """The same patterns, those of alike bins dealt out anew: to the earlier bin the one with more of the larger items."""
    max_fill = sorted(range(len(packing.items)), key=lambda i: (-packing.weights[i], i))
    places: dict[object, list[int]] = {}
    for b, bin_ in enumerate(packing.bins):
        places.setdefault(bin_, []).append(b)
    answer = list(patterns)
    for mine in places.values():
        ranked = sorted((patterns[b] for b in mine), key=lambda pattern: [-pattern[i] for i in max_fill])
        for b, pattern in zip(mine, ranked, strict=True):
            answer[b] = pattern
    return tuple(answer)


def _taxed(item: Item, each: int) -> Item:
    """The item with nothing but a cost of so much for each one."""
    segments = ((item.maximum - item.minimum, -each),) if item.maximum > item.minimum else ()
    return replace(item, base=-each * item.minimum, segments=segments)
