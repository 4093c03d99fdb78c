"""Hundreds and thousands of boxes, by one of three roads.

Where nothing binds, each box is solved on its own (:mod:`labelkit.plan.search.each_bin`). Where few sizes are hard to fit, the best
totals are found first and then dealt out (:mod:`labelkit.plan.search.by_totals`). Where many sizes make all boxes easy to fill
to the brim, each gets its share of one common mix, the answer of a small linear program (:mod:`labelkit.plan.search.lp_relaxation`): box
after box takes its share of what is left, exchanged until the box is full to within a few milligrams, and the last few
boxes are solved to the end with whatever the others left over.
"""

from __future__ import annotations

from dataclasses import replace

from labelkit.plan.search.by_totals import by_totals
from labelkit.plan.search.dealing import Finish, rest_of
from labelkit.plan.search.each_bin import each_alone
from labelkit.plan.search.knapsack import pool
from labelkit.plan.search.local_exchange import Exchanges, Priced, Several, fair_share, filled
from labelkit.plan.search.lp_relaxation import MILLIONTHS, Mix, best_mix, beyond, bound_of, line_prices, nothing_binds
from labelkit.plan.search.packing import Found, Packing
from labelkit.plan.search.reduced_cost_fixing import FINE, narrowed

QUICK = 2_500  # exchanges in a half of the first round
LOOKS = 15_000_000  # sorted look-ups of a later round, over all boxes; four times as many where the gap is still wide
LONGEST = 40_000
TAIL = 6
TRIED = 48  # boxes to try the aims on
SHORT = 60_000  # loads of halves that are quicker to look through than shares are to find
TOLERABLE = 40_000  # nor is one part in this many worth a long one
GOOD_ENOUGH = 100_000  # a gap of one part in this many is not worth another round


def many_loads(packing: Packing, rooms: list[int], finish: Finish) -> Found:
    """Loads for many boxes; ``finish`` solves the last few, ``rooms`` say how full each box can be made.

    What must be taken exactly once is laid into a box first: the one with the least room that holds it.
    """
    single = [i for i, item in enumerate(packing.items) if item.floor == item.most == 1]
    laid = _lay(packing, single)
    if not single or laid is None:
        return _shared(packing, rooms, finish)
    whole = by_totals(packing, rooms, finish, SHORT)
    if whole is not None and _good_enough(whole):
        return whole
    boxes = list(packing.boxes)
    for i, b in laid.items():
        left = boxes[b].room - packing.items[i].weight
        boxes[b] = replace(boxes[b], room=left, least=max(0, boxes[b].least - packing.items[i].weight))
    items = tuple(replace(item, floor=0, most=0) if i in laid else item for i, item in enumerate(packing.items))
    smaller = Packing(tuple(boxes), items)
    found = _shared(smaller, [min(room, box.room) for room, box in zip(rooms, boxes, strict=True)], finish)
    mix = best_mix(packing, rooms)
    if found.loads is None or mix is None:
        return whole or Found(None, 0, packing.ceiling())
    loads = [list(load) for load in found.loads]
    for i, b in laid.items():
        loads[b][i] = 1
    worth = packing.value(tuple(map(tuple, loads)))
    # Laying nothing aside leaves every choice of boxes open, so what that could bring is a bound as well.
    free = each_alone(Packing(packing.boxes, items))
    bound = min(bound_of(packing, rooms, mix), free.bound if free is not None else packing.ceiling())
    return _better(packing, Found(tuple(map(tuple, loads)), worth, max(worth, bound)), whole)


def _lay(packing: Packing, single: list[int]) -> dict[int, int] | None:
    """A box for each of the items taken once, the heaviest first; none where one finds no box."""
    left = [box.room for box in packing.boxes]
    laid: dict[int, int] = {}
    for i in sorted(single, key=lambda i: -packing.items[i].weight):
        weight = packing.items[i].weight
        fair = [b for b, box in enumerate(packing.boxes) if box.allowed[i] and left[b] >= weight]
        if not fair:
            return None
        laid[i] = min(fair, key=lambda b: (left[b], b))
        left[laid[i]] -= weight
    return laid


def _shared(packing: Packing, rooms: list[int], finish: Finish) -> Found:
    mix = best_mix(packing, rooms)
    if mix is None:
        return Found(None, 0, packing.ceiling())
    if nothing_binds(packing, mix):
        alone = each_alone(packing)
        if alone is not None:
            return alone
    best = Found(None, 0, min(packing.ceiling(), bound_of(packing, rooms, mix)))
    totalled = by_totals(packing, rooms, finish, SHORT)
    best = _better(packing, best, totalled)
    smaller, best = _poured(packing, rooms, best)
    if _good_enough(best):
        return best
    best = _better(packing, best, _by_shares(packing, rooms, mix, finish, QUICK))
    smaller, best = _poured(packing, rooms, best)
    if _good_enough(best):
        return best
    if totalled is None and not _good_enough(best, TOLERABLE):
        best = _better(packing, best, by_totals(smaller, rooms, finish))
    looks = LOOKS // len(packing.boxes)
    for length, part in ((looks, GOOD_ENOUGH), (4 * looks, TOLERABLE)):
        if not _good_enough(best, part):
            priced = _by_shares(packing, rooms, mix, finish, min(LONGEST, length), line_prices(packing, mix))
            best = _better(packing, best, priced)
            if priced is None:
                break
    return _poured(packing, rooms, best)[1]


def _poured(packing: Packing, rooms: list[int], best: Found) -> tuple[Packing, Found]:
    """What could still be better, and the bound of that when all boxes are one and jars are whole."""
    smaller, bound = packing, best.bound
    for _ in range(3):
        if best.loads is None or best.proved:
            break
        found = narrowed(smaller, rooms, best.worth)
        if found is None:
            return smaller, Found(best.loads, best.worth, best.worth)
        smaller, before = replace(found, boxes=packing.boxes), bound
        pooled = pool(smaller.items, sum(rooms))
        bound = max(best.worth, min(bound, pooled.worth)) if pooled else bound
        best = Found(best.loads, best.worth, bound)
        if bound == before:
            break
    return smaller, best


def _better(packing: Packing, best: Found, other: Found | None) -> Found:
    """The better loads and the lower bound of the two; ``other`` may be of less than the whole packing."""
    if other is None:
        return best
    loads, worth = best.loads, best.worth
    if (
        other.loads is not None
        and packing.admits(other.loads)
        and (loads is None or packing.value(other.loads) > worth)
    ):
        loads, worth = other.loads, packing.value(other.loads)
    bound = min(best.bound, other.bound)
    return Found(loads, worth, bound if loads is None else max(worth, bound))


def _good_enough(found: Found, part: int = GOOD_ENOUGH) -> bool:
    return found.loads is not None and (found.bound - found.worth) * part <= abs(found.bound)


def _by_shares(
    packing: Packing, rooms: list[int], mix: Mix, finish: Finish, length: int, prices: tuple[int, ...] | None = None
) -> Found | None:
    order = sorted(range(len(packing.boxes)), key=lambda b: (packing.boxes[b].least == 0, packing.boxes[b].room))
    loads: dict[int, tuple[int, ...]] = {}
    tail: list[int] = []
    for kind, counts, price in zip(mix.kinds, mix.counts, mix.prices, strict=True):
        mine = [b for b in order if packing.boxes[b].allowed == kind]
        left = [int(count + 1e-6) for count in counts]
        opened = _opened(packing, rooms, mine, left)
        shut, mine = mine[opened:], mine[:opened]
        loads |= {b: (0,) * len(packing.items) for b in shut}
        size = min(len(mine), max(2, TAIL // len(mix.kinds)))
        tail += mine[len(mine) - size :]
        if prices is None:
            more = [0] * len(left)
        else:
            each = price * MILLIONTHS // FINE  # what a milligram is worth
            more = _fillers(packing, mix, left, kind, prices, each)
        used = tuple(i for i, n in enumerate(left) if n or more[i])
        aims = [Exchanges(packing.weights, used, length, wide) for wide in (None, *used)]
        if prices is not None:
            # Moving a kilogram of jars about is held as dear as leaving a quarter of a gram.
            aims = [Priced(aim, prices, max(1, each // 4000)) for aim in aims]
        aim = _keenest(packing, mine, left, more, aims)
        loads |= _share_out(packing, mine, len(mine) - size, left, more, aim)
    used = [sum(load[i] for load in loads.values()) for i in range(len(packing.items))]
    rest = Packing(tuple(packing.boxes[b] for b in tail), tuple(map(rest_of, packing.items, used)))
    found = finish(rest, packing.ceiling())
    if found.loads is None:
        return None
    loads |= dict(zip(tail, found.loads, strict=True))
    answer = tuple(loads[b] for b in range(len(packing.boxes)))
    return Found(answer, packing.value(answer), packing.ceiling()) if packing.admits(answer) else None


def _keenest(packing: Packing, boxes: list[int], left: list[int], more: list[int], aims: list) -> Several:
    """The two aims that fill a few of the boxes best: where one size makes the fine fit, it must be let swing wide."""
    few = boxes[:: max(1, len(boxes) // TRIED)][:TRIED]
    part = [n * len(few) // max(1, len(boxes)) for n in left]

    def gain(aim) -> int:
        return sum(aim.gain(load) for load in _share_out(packing, few, len(few), part, more, aim).values())

    return Several(sorted(aims, key=gain, reverse=True)[:2])


def _fillers(packing: Packing, mix: Mix, left: list[int], kind, prices: tuple[int, ...], each: int) -> list[int]:
    """How many of each item there are beyond the mix, where one may be worth taking to fill a box up.

    An item is, when it costs less than the smallest jar of the mix could bring with the honey it saves.
    """
    smallest = min((w for w, n in zip(packing.weights, left, strict=True) if n), default=0)
    more = []
    for i, item in enumerate(packing.items):
        fair = kind[i] and each * item.weight - prices[i] < each * smallest
        more.append(max(0, beyond(packing, mix, i)) // len(mix.kinds) if fair else 0)
    return more


def _opened(packing: Packing, rooms: list[int], boxes: list[int], counts: list[int]) -> int:
    """How many of the boxes, in this order, have room for the counts, with some to spare: the others stay shut."""
    weight = sum(n * w for n, w in zip(counts, packing.weights, strict=True))
    room = 0
    for place, b in enumerate(boxes):
        if room >= weight:
            return min(len(boxes), place + 1)
        room += rooms[b]
    return len(boxes)


def _share_out(packing: Packing, boxes: list[int], count: int, left: list[int], more: list[int], aim):
    """Fill the first ``count`` boxes of one kind, each with its share of what is left; ``more`` is there to fill up."""
    rooms = sum(packing.boxes[b].room for b in boxes)
    loads: dict[int, tuple[int, ...]] = {}
    for b in boxes[:count]:
        box = packing.boxes[b]
        # Where boxes before took more of other items, what is left is more than the room there is.
        heavy = sum(n * w for n, w in zip(left, packing.weights, strict=True))
        share = fair_share(left, box.allowed, box.room, max(rooms, heavy))
        loads[b] = filled(share, [n + m for n, m in zip(left, more, strict=True)], box.allowed, box.room, aim)
        rest = [n - taken for n, taken in zip(left, loads[b], strict=True)]
        more = [m + min(0, n) for n, m in zip(rest, more, strict=True)]
        left = [max(0, n) for n in rest]
        rooms -= box.room
    return loads
