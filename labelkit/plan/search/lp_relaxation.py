"""The mix of many boxes: how many of each item there would be if all boxes of a kind were one and jars could be cut.

A linear program of a few rows whatever the number of boxes. Its prices give a bound, reckoned again in whole numbers.
"""

from __future__ import annotations

from dataclasses import dataclass

from labelkit.plan.search.packing import Item, Packing
from labelkit.plan.search.reduced_cost_fixing import FINE
from labelkit.plan.search.solver import INFINITE, Model, solve

MILLI = 0.001
MILLIONTHS = 1_000_000


@dataclass(frozen=True)
class Mix:
    """How many of each item each kind of box would hold if jars could be cut, and what a milligram of room is worth."""

    kinds: tuple[tuple[bool, ...], ...]
    counts: tuple[tuple[float, ...], ...]
    prices: tuple[int, ...]  # of a milligram of room of each kind, in FINE parts of a coin


def best_mix(packing: Packing, rooms: list[int]) -> Mix | None:
    """The mix when the boxes of each kind are poured together; none where not even that meets every floor."""
    kinds = tuple(sorted({box.allowed for box in packing.boxes}))
    model = Model()
    room_of = [
        model.row(-INFINITE, sum(r for box, r in zip(packing.boxes, rooms, strict=True) if box.allowed == kind) * MILLI)
        for kind in kinds
    ]
    sums = [model.row(item.floor, item.floor) for item in packing.items]
    columns = [
        [
            model.column(0, INFINITE, [(room_of[k], item.weight * MILLI), (sums[i], 1)], False) if kind[i] else None
            for i, item in enumerate(packing.items)
        ]
        for k, kind in enumerate(kinds)
    ]
    for i, item in enumerate(packing.items):
        for length, each in item.worths:
            model.column(each, length, [(sums[i], -1)], False)
    answer = solve(model)
    if answer.values is None or answer.duals is None:
        return None
    counts = tuple(tuple(0.0 if c is None else answer.values[c] for c in row) for row in columns)
    prices = tuple(max(0, int(answer.duals[row] * MILLI * FINE)) for row in room_of)
    return Mix(kinds, counts, prices)


def bound_of(packing: Packing, rooms: list[int], mix: Mix) -> int:
    """A bound in whole numbers: what all room is worth at these prices, and every item's best count against its price."""
    price_of = dict(zip(mix.kinds, mix.prices, strict=True))
    fine = sum(price_of[box.allowed] * room for box, room in zip(packing.boxes, rooms, strict=True))
    for i, item in enumerate(packing.items):
        prices = [price for kind, price in price_of.items() if kind[i]]
        fine += item.best_at(min(prices, default=0) * item.weight, FINE)[0] if prices else FINE * item.base
    return fine // FINE


def line_prices(packing: Packing, mix: Mix) -> tuple[int, ...]:
    """What each item is worth to the mix, in millionths of a coin: its honey, or less where the mix has none of it."""
    prices = []
    for i, item in enumerate(packing.items):
        honey = _honey(mix, i) * item.weight
        if in_mix(mix, i) <= item.floor < item.most:
            honey = min(honey, _one_more(item, item.floor))
        prices.append(honey * MILLIONTHS // FINE)
    return tuple(prices)


def beyond(packing: Packing, mix: Mix, i: int) -> int:
    """How many of an item may be taken beyond the mix at the price it has there: none where one more is worth less."""
    item, count = packing.items[i], in_mix(mix, i)
    count = item.floor + (count - item.floor) // item.case * item.case
    if item.floor < count < item.most and _one_more(item, count) < _honey(mix, i) * item.weight:
        return 0
    return item.most - count


def in_mix(mix: Mix, i: int) -> int:
    """How many of an item the mix has, in whole items."""
    return int(sum(row[i] for row in mix.counts) + 1e-6)


def _honey(mix: Mix, i: int) -> int:
    return min((p for kind, p in zip(mix.kinds, mix.prices, strict=True) if kind[i]), default=0)


def _one_more(item: Item, count: int) -> int:
    """What one more is worth, in ``FINE`` parts of a coin, if it comes with its case."""
    return (item.worth(count + item.case) - item.worth(count)) * FINE // item.case


def nothing_binds(packing: Packing, mix: Mix) -> bool:
    """Whether the mix takes of no item all there is, so that each box may be planned on its own."""
    for i, item in enumerate(packing.items):
        possible = sum(box.room // item.weight for box in packing.boxes if box.allowed[i])
        if 0 < item.most < possible and sum(row[i] for row in mix.counts) > item.most - 1:
            return False
    return True
