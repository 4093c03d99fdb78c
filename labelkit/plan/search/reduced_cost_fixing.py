"""Cuts at given prices, and reduced-cost fixing: what no better plan can contain.

At any prices of the items, no totals that the bins can reach are worth more than so much. With it goes a bound on the
value of every plan (weak duality), and every count of an item away from its best count at its price costs something: a
plan that pays more than the gap between the bound and the best so far cannot be better than that best. So each item
keeps only the counts it can still pay for (reduced-cost fixing), and often only two or three sizes remain in question.

Sources, from memory: Martello and Toth, “Knapsack Problems”, 1990, section 2.2; Savelsbergh, “Preprocessing and probing
techniques for mixed integer programming problems”, ORSA Journal on Computing 6, 1994.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from labelkit.plan.search.packing import Item, Packing, restrict

FINE = 10**12  # the price of a milligram is a whole number of billionths of a thousandth of a coin


@dataclass(frozen=True)
class Cut:
    """No totals that the bins can reach have more than ``maximum`` at these prices, of which ``scale`` make one of value."""

    prices: tuple[int, ...]
    maximum: int
    scale: int

    def holds(self, totals: Sequence[int]) -> bool:
        """Whether the totals keep to the cut."""
        return sum(price * n for price, n in zip(self.prices, totals, strict=True)) <= self.maximum

    def bound(self, items: Sequence[Item]) -> int:
        """What no plan can exceed: the most the bins are worth at the prices, and every item's best count against its price.

        >>> Cut((454, 227), 1500, 1).bound([Item(454, 0, 9, segments=((9, 1000),)), Item(227, 0, 9, segments=((2, 300),))])
        6560
        """
        return (self.maximum + sum(self._gains(items))) // self.scale

    def _gains(self, items: Sequence[Item]) -> list[int]:
        return [item.best_at(price, self.scale)[0] for item, price in zip(items, self.prices, strict=True)]

    def fix_items(self, items: Sequence[Item], value: int) -> tuple[Item, ...] | None:
        """The items without the counts that cannot be worth more than ``value``; none when there are no others."""
        spare = self.maximum + sum(self._gains(items)) - (value + 1) * self.scale
        if spare < 0:
            return None
        items = [_paid_for(item, price, self.scale, spare) for item, price in zip(items, self.prices, strict=True)]
        return self._tighten(items, value)

    def _tighten(self, items: Sequence[Item], value: int) -> tuple[Item, ...] | None:
        """The items without the counts that pass the cut, or are worth too little, whatever the others are at."""
        least = sum(price * item.minimum for item, price in zip(items, self.prices, strict=True))
        most = sum(item.best_at(0)[0] for item in items)
        tight = []
        for item, price in zip(items, self.prices, strict=True):
            over = (self.maximum - least) // price if price else item.maximum - item.minimum
            within = _tightened(item, over, value - most)
            if within is None:
                return None
            tight.append(within)
        return tuple(tight)


def _tightened(item: Item, over: int, lost: int) -> Item | None:
    """The item with at most ``over`` beyond its floor and more than ``lost`` below its best; none where that is nothing."""
    best, at = item.best_at(0)
    cases = (at - item.minimum) // item.case
    high = min((item.maximum - item.minimum), over) // item.case
    low = cases - _last(lambda n: item.value(at - n * item.case) - best > lost, 0, cases)
    return None if high < low else restrict(item, item.minimum + low * item.case, item.minimum + high * item.case)


def surrogate_cut(packing: Packing, capacities: Sequence[int]) -> Cut:
    """The cut that says how much all bins hold together, at what the last milligram is worth.

    ``capacities`` say how full each bin can be made.
    """
    price = capacity_price(packing, sum(capacities))
    return Cut(tuple(price * weight for weight in packing.weights), price * sum(capacities), FINE)


def fix_packing(packing: Packing, capacities: Sequence[int], value: int) -> Packing | None:
    """The same packing without the counts that cannot be worth more than ``value``; none when there are no others.

    ``capacities`` say how full each bin can be made.
    """
    items = surrogate_cut(packing, capacities).fix_items(packing.items, value)
    bins = tuple(
        replace(bin_, capacity=max(bin_.minimum, min(bin_.capacity, capacity)))
        for bin_, capacity in zip(packing.bins, capacities, strict=True)
    )
    return None if items is None else replace(packing, bins=bins, items=items)


def linear_bound(packing: Packing, capacities: Sequence[int]) -> int:
    """What no patterns can exceed when all bins are one and jars may be cut: a bound at any scale."""
    return surrogate_cut(packing, capacities).bound(packing.items)


def capacity_price(packing: Packing, capacity: int) -> int:
    """What the last milligram is worth when all bins are one and jars may be cut: in ``FINE`` parts of a coin."""
    capacity -= sum(item.minimum * item.weight for item in packing.items)
    runs = [(each, item.weight, n) for item in packing.items for n, each in item.segments if each > 0]
    for each, weight, n in sorted(runs, key=lambda run: run[1] / run[0]):
        if n * weight >= capacity:
            return each * FINE // weight + 1
        capacity -= n * weight
    return 0


def _paid_for(item: Item, price: int, scale: int, spare: int) -> Item:
    gain, at = item.best_at(price, scale)

    def fair(count: int) -> bool:
        return gain - (scale * item.value(count) - price * count) <= spare

    cases, best = (item.maximum - item.minimum) // item.case, (at - item.minimum) // item.case
    most = item.minimum + _last(lambda n: fair(item.minimum + n * item.case), best, cases) * item.case
    floor = item.maximum - _last(lambda n: fair(item.maximum - n * item.case), cases - best, cases) * item.case
    return restrict(item, floor, most)


def _last(fair: Callable[[int], bool], good: int, high: int) -> int:
    """The last number from ``good`` (which is fair) to ``high`` that is fair; beyond it none is."""
    while good < high:
        middle = (good + high + 1) // 2
        if fair(middle):
            good = middle
        else:
            high = middle - 1
    return good
