"""Bin packing with item types: the records that every strategy takes and gives, all in whole numbers.

Bins of a capacity are filled with items of a weight. How many of an item are taken in all has a value that may grow ever
more slowly, and lies between a minimum and a maximum in whole cases. What one bin holds is a pattern.

In the books: the multiple knapsack problem with item types and a separable concave objective (Martello and Toth,
“Knapsack Problems”, 1990, chapter 6; Kellerer, Pferschy and Pisinger, “Knapsack Problems”, 2004, chapter 10; both from
memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

Patterns = tuple[tuple[int, ...], ...]  # for each bin, the count of each item


@dataclass(frozen=True)
class Item:
    """An item type.

    ``minimum`` items must be taken; together they have the value ``base``. ``segments`` holds ``(count, value)`` for those
    beyond: the first ``count`` have ``value`` each, and so on, never rising; the counts add up to ``maximum - minimum``.
    Beyond the minimum only whole cases are taken.
    """

    weight: int
    minimum: int
    maximum: int
    case: int = 1
    base: int = 0
    segments: tuple[tuple[int, int], ...] = ()

    def value(self, count: int) -> int:
        """Return the value of ``count`` of this item, which is not below the minimum.

        >>> Item(454, 2, 12, segments=((4, 1000), (6, 800))).value(7)
        4800
        """
        value, beyond = self.base, count - self.minimum
        for length, each in self.segments:
            taken = min(beyond, length)
            value += taken * each
            beyond -= taken
        return value

    def best_at(self, price: int, scale: int = 1) -> tuple[int, int]:
        """Return the largest ``scale * value - price * count`` over all counts, and the smallest count that reaches it.

        Counts lie between minimum and maximum in whole cases. The value bends only downward, so the best count is next
        to a bend.

        >>> Item(454, 0, 10, 3, segments=((4, 1000), (6, 800))).best_at(900)
        (300, 3)
        """
        bends, at = {self.minimum, self.maximum}, self.minimum
        for length, _ in self.segments:
            at += length
            cases, rest = divmod(at - self.minimum, self.case)
            bends.update(self.minimum + n * self.case for n in (cases, cases + bool(rest)))
        fair = [count for count in bends if self.minimum <= count <= self.maximum]
        best = max(fair, key=lambda count: (scale * self.value(count) - price * count, -count))
        return scale * self.value(best) - price * best, best


def restrict(item: Item, minimum: int, maximum: int) -> Item:
    """Return the same item with a higher minimum and a lower maximum.

    >>> restrict(Item(454, 0, 10, 1, 0, ((4, 1000), (6, 800))), 2, 7)
    Item(weight=454, minimum=2, maximum=7, case=1, base=2000, segments=((2, 1000), (3, 800)))
    """
    at, segments = item.minimum, []
    for length, each in item.segments:
        low, high = max(at, minimum), min(at + length, maximum)
        if high > low:
            segments.append((high - low, each))
        at += length
    return Item(item.weight, minimum, maximum, item.case, item.value(minimum), tuple(segments))


@dataclass(frozen=True)
class Bin:
    """A bin: its pattern weighs between ``minimum`` and ``capacity`` and holds only the items ``allowed``."""

    capacity: int
    minimum: int
    allowed: tuple[bool, ...]


@dataclass(frozen=True)
class GoalConstraint:
    """A goal reached before that must be kept: the same items with other values, together at least ``minimum``."""

    items: tuple[Item, ...]
    minimum: int


@dataclass(frozen=True)
class Packing:
    """Bins, items, and the counts of each item in each bin that are to be found."""

    bins: tuple[Bin, ...]
    items: tuple[Item, ...]
    constraints: tuple[GoalConstraint, ...] = ()

    @cached_property
    def weights(self) -> tuple[int, ...]:
        """The weight of each item."""
        return tuple(item.weight for item in self.items)

    def weight(self, counts: Sequence[int]) -> int:
        """Return the weight of so many of each item."""
        return sum(n * w for n, w in zip(counts, self.weights, strict=True))

    def value(self, patterns: Patterns) -> int:
        """Return the value of these patterns."""
        return value_of(self.items, totals_of(patterns, len(self.items)))

    def is_feasible(self, patterns: Patterns) -> bool:
        """Whether these patterns keep every capacity, minimum, maximum, case and goal."""
        for bin_, pattern in zip(self.bins, patterns, strict=True):
            if not bin_.minimum <= self.weight(pattern) <= bin_.capacity:
                return False
            if any(n < 0 or (n and not ok) for n, ok in zip(pattern, bin_.allowed, strict=True)):
                return False
        totals = totals_of(patterns, len(self.items))
        if any(value_of(constraint.items, totals) < constraint.minimum for constraint in self.constraints):
            return False
        return all(
            item.minimum <= count <= item.maximum and (count - item.minimum) % item.case == 0
            for item, count in zip(self.items, totals, strict=True)
        )

    def trivial_bound(self) -> int:
        """Return the value of all items at their best counts: a bound, however far off."""
        return sum(item.best_at(0)[0] for item in self.items)


@dataclass(frozen=True)
class Solution:
    """The best patterns found (``None`` where none were), their value, and a bound that no patterns exceed."""

    patterns: Patterns | None
    value: int
    bound: int
    infeasible: bool = False  # it is certain that there are no patterns

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.patterns is not None and self.value >= self.bound

    @property
    def packed(self) -> Patterns:
        """The patterns, where it is known that some were found."""
        if self.patterns is None:
            raise ValueError("no patterns were found")
        return self.patterns


def value_of(items: Sequence[Item], totals: Sequence[int]) -> int:
    """Return the value of these totals of each item."""
    return sum(item.value(count) for item, count in zip(items, totals, strict=True))


def totals_of(patterns: Patterns, items: int) -> tuple[int, ...]:
    """Return how many of each item all the bins hold together.

    >>> totals_of(((1, 2), (3, 0)), 2)
    (4, 2)
    """
    return tuple(map(sum, zip(*patterns, strict=True))) if patterns else (0,) * items
