"""Dealing totals out to many boxes, each getting a load that is best at the prices of the last gram.

Most boxes take the loads in the shares that the points were mixed in. A few hundred choose among all loads known for
them, so that the totals come out. Where they do not come out to the last jar, a handful of boxes is solved to the end
with whatever the others left over.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from labelkit.plan.search.column_generation import MILLI, Reach
from labelkit.plan.search.packing import Found, Item, Loads, Packing, between, totals_of
from labelkit.plan.search.solver import INFINITE, Model, solve

CHOOSING = 300  # boxes
LAST, MOST_LAST = 8, 12  # boxes solved to the end
NODES = 30  # of the tree in which the boxes choose

Finish = Callable[[Packing, int], Found]


def deal(
    packing: Packing, reach: Reach, totals: Sequence[int], bound: int, finish: Finish, last: int = 0
) -> Loads | None:
    """Loads whose totals are these or nearly; ``finish`` finds the best loads of a few boxes, up to a bound.

    ``last`` boxes are solved to the end in any case; with none, only where the totals do not come out without it.
    """
    import numpy as np

    shares = reach.shares(totals)
    if shares is None:
        return None
    count = len(packing.boxes)
    order = np.argsort(reach.rooms, kind="stable")
    places = np.unique(np.arange(min(CHOOSING, count)) * count // min(CHOOSING, count))
    choosing, bulk = order[places], np.delete(order, places)
    loads = _by_shares(reach, bulk, shares)
    left = [n - int(used) for n, used in zip(totals, loads.sum(axis=0), strict=True)]
    dealt = dict(zip(bulk.tolist(), map(tuple, loads.tolist()), strict=True))
    chosen = {} if last else _chosen(reach, choosing, left, True)
    if len(chosen) == len(choosing):
        whole = dealt | chosen
        _take_back(whole, totals)
        answer = tuple(whole[b] for b in range(count))
        if totals_of(answer, len(totals)) == tuple(totals) and packing.admits(answer):
            return answer
    dealt |= chosen or _chosen(reach, choosing, left, False)
    return _finished(packing, dealt, choosing, bound, finish, last or LAST)


def _finished(packing: Packing, dealt, choosing, bound: int, finish: Finish, last: int) -> Loads | None:
    """The loads dealt, with those boxes solved to the end that have none, and a few more beside them from all over."""
    tail = [b for b in choosing.tolist() if b not in dealt]
    spare = [b for b in choosing.tolist() if b in dealt]
    more = max(0, last - len(tail))
    tail += spare[:: max(1, len(spare) // max(1, more))][:more]
    dealt = {b: load for b, load in dealt.items() if b not in tail}
    _take_back(dealt, [item.most for item in packing.items])
    used = [sum(load[i] for load in dealt.values()) for i in range(len(packing.items))]
    rest = Packing(tuple(packing.boxes[b] for b in tail), tuple(map(rest_of, packing.items, used)))
    found = finish(rest, bound) if len(tail) <= MOST_LAST else Found(None, 0, bound)
    if found.loads is None:
        return None
    dealt |= dict(zip(tail, found.loads, strict=True))
    answer = tuple(dealt[b] for b in range(len(packing.boxes)))
    return answer if packing.admits(answer) else None


def rest_of(item: Item, used: int) -> Item:
    """The item as the last boxes see it: what was used is gone from floor and ceiling, and its worth stays counted."""
    floor = item.floor + max(0, -(-(used - item.floor) // item.case)) * item.case
    rest = between(item, floor, item.most)
    return Item(item.weight, rest.floor - used, rest.most - used, item.case, rest.base, rest.worths)


def _by_shares(reach: Reach, boxes, shares: Sequence[Sequence[float]]):
    """For each box the load of that point which its group owes most."""
    import numpy as np

    loads = np.zeros((len(boxes), len(reach.packing.items)), dtype=np.int64)
    known = [np.zeros_like(reach.loads[0]), *reach.loads]
    for group in range(reach.groups):
        mine = np.flatnonzero(reach.group[boxes] == group)
        owed = np.array([share[group] for share in shares])
        given = np.zeros(len(owed))
        for nth, place in enumerate(mine, 1):
            point = int(np.argmax(owed * nth - given))
            given[point] += 1
            loads[place] = known[point][boxes[place]]
    return loads


def _chosen(reach: Reach, boxes, left: Sequence[int], whole: bool) -> dict[int, tuple[int, ...]]:
    """One of its known loads for every box, or nearly every one, so that together they make up what is left of the totals.

    With ``whole`` each box gets one; without, a few boxes that would be given parts of several get none.
    """
    import numpy as np

    model = Model()
    one = [model.row(1, 1) for _ in boxes]
    sums = [model.row(n, INFINITE) for n in left]
    known = np.stack([np.zeros_like(reach.loads[0][boxes]), *(loads[boxes] for loads in reach.loads)], axis=1)
    columns = []
    for row, box, loads in zip(one, boxes.tolist(), known, strict=True):
        least = reach.packing.boxes[box].least
        for load in sorted({tuple(load) for load in loads.tolist()}):
            if sum(n * w for n, w in zip(load, reach.packing.weights, strict=True)) >= least:
                entries = [(row, 1.0), *((sums[i], n) for i, n in enumerate(load) if n)]
                columns.append((box, load, model.column(0, 1, entries, whole)))
    for row, weight in zip(sums, reach.packing.weights, strict=True):
        model.column(-weight * MILLI, INFINITE, [(row, 1.0)], False)
    answer = solve(model, NODES if whole else None, target=0.0)
    if answer.values is None:
        return {}
    return {box: load for box, load, column in columns if answer.values[column] > 1 - 1e-6}


def _take_back(dealt: dict[int, tuple[int, ...]], most: Sequence[int]) -> None:
    """Leave out of the loads what is more than so many of an item."""
    for i, n in enumerate(most):
        over = sum(load[i] for load in dealt.values()) - n
        for b, load in dealt.items():
            if over <= 0:
                break
            taken = min(over, load[i])
            dealt[b] = (*load[:i], load[i] - taken, *load[i + 1 :])
            over -= taken
