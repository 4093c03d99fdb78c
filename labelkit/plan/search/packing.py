"""The bare problem under every jar plan: whole numbers, nothing of honey or money.

Boxes (buckets) of a capacity are filled with items (jars) of a weight. How many of an item are taken in all earns a
*worth* that may grow ever more slowly, and lies between a floor and a ceiling in whole cases. All the roads to a plan
(one bucket at a time, column by column, branch and bound) take and give these records, so they can be checked against
each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

Loads = tuple[tuple[int, ...], ...]  # for each box, the count of each item


@dataclass(frozen=True)
class Item:
    """A jar size as the search sees it.

    ``floor`` jars must be taken and are worth ``base`` together. ``worths`` holds ``(count, worth)`` segments for those
    beyond: the first ``count`` are worth ``worth`` each, and so on, never rising; the counts add up to ``most - floor``.
    Beyond the floor only whole cases are taken.
    """

    weight: int
    floor: int
    most: int
    case: int = 1
    base: int = 0
    worths: tuple[tuple[int, int], ...] = ()

    def worth(self, count: int) -> int:
        """What ``count`` of this item, not below the floor, are worth together.

        >>> Item(454, 2, 12, worths=((4, 1000), (6, 800))).worth(7)
        4800
        """
        worth, beyond = self.base, count - self.floor
        for length, each in self.worths:
            taken = min(beyond, length)
            worth += taken * each
            beyond -= taken
        return worth

    def best_at(self, price: int, scale: int = 1) -> tuple[int, int]:
        """The count between floor and most, in whole cases, for which ``scale * worth - price * count`` is largest.

        Returns that largest figure and the smallest count that reaches it. The worth bends only downward, so the best
        count stands next to a bend.

        >>> Item(454, 0, 10, 3, worths=((4, 1000), (6, 800))).best_at(900)
        (300, 3)
        """
        bends, at = {self.floor, self.most}, self.floor
        for length, _ in self.worths:
            at += length
            cases, rest = divmod(at - self.floor, self.case)
            bends.update(self.floor + n * self.case for n in (cases, cases + bool(rest)))
        fair = [count for count in bends if self.floor <= count <= self.most]
        best = max(fair, key=lambda count: (scale * self.worth(count) - price * count, -count))
        return scale * self.worth(best) - price * best, best


def between(item: Item, floor: int, most: int) -> Item:
    """The same item with a higher floor and a lower ceiling.

    >>> between(Item(454, 0, 10, 1, 0, ((4, 1000), (6, 800))), 2, 7)
    Item(weight=454, floor=2, most=7, case=1, base=2000, worths=((2, 1000), (3, 800)))
    """
    at, worths = item.floor, []
    for length, each in item.worths:
        low, high = max(at, floor), min(at + length, most)
        if high > low:
            worths.append((high - low, each))
        at += length
    return Item(item.weight, floor, most, item.case, item.worth(floor), tuple(worths))


@dataclass(frozen=True)
class Box:
    """A bucket as the search sees it: its load lies between ``least`` and ``room``, of the items ``allowed``."""

    room: int
    least: int
    allowed: tuple[bool, ...]


@dataclass(frozen=True)
class Guard:
    """A goal reached before that must not be lost again: the same items with other worths, together at least so much."""

    items: tuple[Item, ...]
    least: int


@dataclass(frozen=True)
class Packing:
    """Boxes, items, and the counts of each item in each box that are to be found."""

    boxes: tuple[Box, ...]
    items: tuple[Item, ...]
    guards: tuple[Guard, ...] = ()

    @cached_property
    def weights(self) -> tuple[int, ...]:
        """The weight of each item."""
        return tuple(item.weight for item in self.items)

    def value(self, loads: Loads) -> int:
        """What these loads are worth."""
        return worth_of(self.items, totals_of(loads, len(self.items)))

    def admits(self, loads: Loads) -> bool:
        """Whether these loads keep every box, floor, ceiling and case."""
        for box, load in zip(self.boxes, loads, strict=True):
            weight = sum(n * w for n, w in zip(load, self.weights, strict=True))
            if not box.least <= weight <= box.room:
                return False
            if any(n < 0 or (n and not ok) for n, ok in zip(load, box.allowed, strict=True)):
                return False
        totals = totals_of(loads, len(self.items))
        if any(worth_of(guard.items, totals) < guard.least for guard in self.guards):
            return False
        return all(
            item.floor <= count <= item.most and (count - item.floor) % item.case == 0
            for item, count in zip(self.items, totals, strict=True)
        )

    def ceiling(self) -> int:
        """What all items up to their ceilings would be worth: a bound, however far off."""
        return sum(item.best_at(0)[0] for item in self.items)


@dataclass(frozen=True)
class Found:
    """The best loads found (none where there is no way), their worth, and a bound no loads can exceed."""

    loads: Loads | None
    worth: int
    bound: int
    impossible: bool = False  # it is certain that there are no loads

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.loads is not None and self.worth >= self.bound


def worth_of(items: tuple[Item, ...], totals: tuple[int, ...]) -> int:
    """What totals of each item are worth together."""
    return sum(item.worth(count) for item, count in zip(items, totals, strict=True))


def totals_of(loads: Loads, items: int) -> tuple[int, ...]:
    """How many of each item all the boxes hold together.

    >>> totals_of(((1, 2), (3, 0)), 2)
    (4, 2)
    """
    return tuple(sum(load[i] for load in loads) for i in range(items))
