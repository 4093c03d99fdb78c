"""The road by totals: first how many of each item there can be at all, then which box holds which.

The worth of a plan depends on its totals alone, and of many boxes nearly every totals within the lines of
:mod:`labelkit.plan.search.column_generation` can be dealt out. So the best totals within the lines are a bound that is hardly ever above
the best plan, and where they are dealt out, the plan is proved.
"""

from __future__ import annotations

from labelkit.plan.search.column_generation import FINE, Reach
from labelkit.plan.search.dealing import LAST, Finish, deal
from labelkit.plan.search.load_columns import known_halves
from labelkit.plan.search.meet_in_the_middle import LONGEST_HALF
from labelkit.plan.search.packing import Found, Item, Packing
from labelkit.plan.search.totals import best_totals

ROUNDS, FEWEST = 60, 16
ROWS = 4_000_000  # loads of halves looked through in all rounds
SAMPLE, LAST_ASKED = 300, 6  # boxes that stand for many, and how many of their last prices are asked of all
TURNS = 8
NODES = 100
ASIDE = 2_000  # prices a little off are off by one part in so many
GOOD_ENOUGH = 40_000  # a gap of one part in so many is not worth dealing again


def by_totals(packing: Packing, rooms: list[int], finish: Finish, longest: int = 2 * LONGEST_HALF) -> Found | None:
    """The best loads found and their bound; none where a box has too many loads (more than ``longest`` in halves).

    ``rooms`` say how full each box can be made.
    """
    halves = None if packing.guards else known_halves(packing)
    long = sum(half.rows for half in halves.values()) if halves else 0
    if halves is None or long > longest:
        return None
    rounds, first = max(FEWEST, min(ROUNDS, ROWS // long)), ()
    if len(rooms) > 2 * SAMPLE:
        first, rounds = _sampled(packing, rooms, halves, rounds), FEWEST // 2
    reach = Reach(packing, rooms, halves)
    lowest = reach.close_in(rounds, first)
    bound = packing.ceiling() if lowest is None else min(packing.ceiling(), lowest[0] // FINE)
    best = None
    for _ in range(TURNS):
        best = best_totals(packing.items, reach.lines, NODES)
        if best is None:
            return Found(None, 0, bound, impossible=True)
        bound = min(bound, best.bound)
        if not reach.apart(best.totals, rounds // TURNS + 1):
            break
    loads, worth = None, 0
    for last in (0, LAST, LAST + 4):
        dealt = deal(packing, reach, best.totals, bound, finish, last)
        if dealt is not None and (loads is None or packing.value(dealt) > worth):
            loads, worth = dealt, packing.value(dealt)
        if lowest is None or (loads is not None and (bound - worth) * GOOD_ENOUGH <= abs(bound)):
            break
        if last < LAST + 4:
            _look_about(reach, lowest[1])
    return Found(loads, worth, bound)


def _sampled(packing: Packing, rooms: list[int], halves, rounds: int) -> tuple[tuple[int, ...], ...]:
    """The last prices asked for a few hundred boxes that stand for many, with their part of every floor and ceiling."""
    order = sorted(range(len(rooms)), key=lambda b: (packing.boxes[b].allowed, rooms[b]))
    chosen = order[:: len(order) // SAMPLE]
    part, whole = sum(rooms[b] for b in chosen), sum(rooms)
    items = tuple(_part_of(item, part, whole) for item in packing.items)
    few = Reach(Packing(tuple(packing.boxes[b] for b in chosen), items), [rooms[b] for b in chosen], halves)
    few.close_in(rounds)
    return tuple(line.prices for line in few.lines[-LAST_ASKED:])


def _part_of(item: Item, part: int, whole: int) -> Item:
    floor = item.floor * part // whole
    worths = tuple((-(-length * part // whole), each) for length, each in item.worths)
    return Item(item.weight, floor, floor + sum(length for length, _ in worths), 1, 0, worths)


def _look_about(reach: Reach, prices: tuple[int, ...]) -> None:
    """Learn more loads that are nearly best, by asking at prices a little off."""
    for i, price in enumerate(prices):
        for off in (price // ASIDE, -price // ASIDE):
            reach.ask((*prices[:i], price + off, *prices[i + 1 :]))
