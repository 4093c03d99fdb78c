"""Leaving out what cannot stand in a better plan.

At a price for each milligram of honey, every count of an item away from its best count costs something, and a plan that
pays more than the gap between bound and best so far cannot be better than that best. So each item keeps only the counts
it can still pay for (reduced-cost fixing), and often only two or three sizes remain in question.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.search.packing import Item, Packing, between

FINE = 10**12  # the price of a milligram is a whole number of billionths of a thousandth of a coin


def narrowed(packing: Packing, rooms: list[int], worth: int) -> Packing | None:
    """The same packing without the counts that cannot be worth more than ``worth``; none when there are no others.

    ``rooms`` say how full each box can be made.
    """
    price = price_of_room(packing, sum(rooms))
    best = [item.best_at(price * item.weight, FINE) for item in packing.items]
    spare = price * sum(rooms) + sum(gain for gain, _ in best) - (worth + 1) * FINE
    if spare < 0:
        return None
    items = [_paid_for(item, price, gain, at, spare) for item, (gain, at) in zip(packing.items, best, strict=True)]
    boxes = tuple(
        replace(box, room=max(box.least, min(box.room, room))) for box, room in zip(packing.boxes, rooms, strict=True)
    )
    return replace(packing, boxes=boxes, items=tuple(items))


def line_bound(packing: Packing, rooms: list[int]) -> int:
    """What no loads can exceed when all boxes are one and jars may be cut: a bound of one line, at any scale."""
    price = price_of_room(packing, sum(rooms))
    return (price * sum(rooms) + sum(i.best_at(price * i.weight, FINE)[0] for i in packing.items)) // FINE


def price_of_room(packing: Packing, room: int) -> int:
    """What the last milligram is worth when all boxes are one and jars may be cut: in ``FINE`` parts of a coin."""
    room -= sum(item.floor * item.weight for item in packing.items)
    runs = [(each, item.weight, n) for item in packing.items for n, each in item.worths if each > 0]
    for each, weight, n in sorted(runs, key=lambda run: run[1] / run[0]):
        if n * weight >= room:
            return each * FINE // weight + 1
        room -= n * weight
    return 0


def _paid_for(item: Item, price: int, gain: int, at: int, spare: int) -> Item:
    def fair(count: int) -> bool:
        return gain - (FINE * item.worth(count) - price * item.weight * count) <= spare

    floor = (
        item.most
        - _last(
            lambda n: fair(item.most - n * item.case),
            (item.most - at) // item.case,
            (item.most - item.floor) // item.case,
        )
        * item.case
    )
    most = (
        item.floor
        + _last(
            lambda n: fair(item.floor + n * item.case),
            (at - item.floor) // item.case,
            (item.most - item.floor) // item.case,
        )
        * item.case
    )
    return between(item, floor, most)


def _last(fair, good: int, high: int) -> int:
    """The last number from ``good`` (which is fair) to ``high`` that is fair; beyond it none is."""
    while good < high:
        middle = (good + high + 1) // 2
        if fair(middle):
            good = middle
        else:
            high = middle - 1
    return good
