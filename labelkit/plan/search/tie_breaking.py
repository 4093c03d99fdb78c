"""Which of several equally good plans is taken: the one with the fewest jars, then the one whose sizes stand first.

Fewer jars are less work for the same money. Of plans with equally many jars, the one is taken whose sizes stand nearest
to the head of the list, counted jar by jar. Both are searches of their own in which nothing of the worth may be lost, so
what comes out does not hang on the order in which the search happened to look. Then the jars are put into as few
buckets, and as few sizes to a bucket, as can be found; and of buckets that are alike, the earlier one gets the larger jars.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.search.assignment_mip import branch
from labelkit.plan.search.packing import Guard, Item, Loads, Packing, totals_of, worth_of
from labelkit.plan.search.reduced_cost_fixing import narrowed
from labelkit.plan.search.split import in_few_boxes, in_few_sizes
from labelkit.plan.search.subset_sum import fullest

NODES = 200  # of each search tree, for each unit of patience
MOST_BOXES = 12


def settled(packing: Packing, loads: Loads, patience: int = 1) -> Loads:
    """Of all loads worth as much as these, which are the best there are, those that the rule takes.

    >>> from labelkit.plan.search.packing import Box
    >>> pound, half = Item(454, 0, 4, worths=((4, 1000),)), Item(227, 0, 8, worths=((8, 500),))
    >>> settled(Packing((Box(908, 0, (True, True)),), (pound, half)), ((0, 4),))
    ((2, 0),)
    """
    if len(packing.boxes) > MOST_BOXES:
        return in_order(packing, loads)
    worth = packing.value(loads)
    smaller = narrowed(packing, fullest(packing), worth - 1)
    held = packing if smaller is None else smaller
    guards = [*packing.guards, Guard(packing.items, worth)]
    for tax in ([1] * len(packing.items), list(range(len(packing.items)))):
        taxed = tuple(_taxed(item, each) for item, each in zip(held.items, tax, strict=True))
        loads = branch(Packing(held.boxes, taxed, tuple(guards)), NODES * patience, loads).loads or loads
        guards.append(Guard(taxed, worth_of(taxed, totals_of(loads, len(taxed)))))
    return in_order(packing, in_few_sizes(packing, in_few_boxes(packing, loads)))


def in_order(packing: Packing, loads: Loads) -> Loads:
    """The same loads, those of alike boxes dealt out anew: to the earlier box the one with more of the larger items."""
    heaviest = sorted(range(len(packing.items)), key=lambda i: (-packing.weights[i], i))
    places: dict[object, list[int]] = {}
    for b, box in enumerate(packing.boxes):
        places.setdefault(box, []).append(b)
    answer = list(loads)
    for mine in places.values():
        ranked = sorted((loads[b] for b in mine), key=lambda load: [-load[i] for i in heaviest])
        for b, load in zip(mine, ranked, strict=True):
            answer[b] = load
    return tuple(answer)


def _taxed(item: Item, each: int) -> Item:
    """The item with nothing but a cost of so much for each one."""
    worths = ((item.most - item.floor, -each),) if item.most > item.floor else ()
    return replace(item, base=-each * item.floor, worths=worths)
