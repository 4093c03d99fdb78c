"""Joining tails: what is left in several compatible buckets, poured together into a blend lot of its own.

A jar is filled from one bucket, so what is left in each may be too little for a jar while together it is enough. The
blend is a new lot with several parents: a recall of it reaches the hives of all of them. So nothing is joined unless it
was allowed, never across different tags (plant source, yard, organic), and each blend says what it gains.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from labelkit.measures import NOTHING, Mass, Money
from labelkit.plan.build_packing import BuiltPacking, item_of
from labelkit.plan.outcome import BlendPlan, BucketPlan
from labelkit.plan.request import Joining, PlanBucket
from labelkit.plan.search.knapsack import Surrogate, solve_surrogate, values_within
from labelkit.plan.search.packing import Bin, Item, Packing, Solution, restrict

Search = Callable[[Packing], Solution]
LOOKED_AT = 12  # tails of one kind tried together in one round, the fullest first


@dataclass(frozen=True)
class Tail:
    """What is left in a bucket after its jars and what is kept in it."""

    bucket: PlanBucket
    mass: Mass


def join_remainders(
    built: BuiltPacking, planned: Sequence[BucketPlan], kept: dict[str, Mass], totals: Sequence[int]
) -> tuple[BlendPlan, ...]:
    """The blends worth making from the tails of a plan, the best first; ``totals`` are the jars it fills already."""
    joining = built.request.joining
    if joining is None:
        return ()
    tails = _tails(built, planned, kept, joining)
    items = [_rest(item, total) for item, total in zip(poured_items(built), totals, strict=True)]
    blends: list[BlendPlan] = []
    while True:
        best = _best(built, tails, items, joining)
        if best is None:
            return tuple(blends)
        parts, pooled, gain = best
        blends.append(_blend(built, f"blend {len(blends) + 1}", parts, pooled, gain))
        items = [_rest(item, n) for item, n in zip(items, pooled.totals, strict=True)]
        tails = [tail for tail in tails if tail not in parts]


def poured_items(built: BuiltPacking) -> tuple[Item, ...]:
    """The items when all honey stands in one bucket: only stock, demand and honey hold them down."""
    all_honey = sum((bucket.usable for bucket in built.buckets), NOTHING)
    sizes = tuple(item_of(size, [all_honey]) for size in built.request.sizes)
    return (*sizes, *built.packing.items[len(sizes) :])


def _tails(built: BuiltPacking, planned: Sequence[BucketPlan], kept: dict[str, Mass], joining: Joining) -> list[Tail]:
    tails = [
        Tail(bucket, plan.left - kept.get(plan.id, NOTHING))
        for bucket, plan in zip(built.buckets, planned, strict=True)
    ]
    fair = [t for t in tails if t.mass and (joining.largest_tail is None or t.mass <= joining.largest_tail)]
    return sorted(fair, key=lambda tail: (-tail.mass.mg, tail.bucket.id))


def _rest(item: Item, used: int) -> Item:
    """The item with what is used taken off: only what may still be filled, and no floor, since floors are met."""
    rest = restrict(item, max(used, item.minimum), item.maximum)
    return Item(item.weight, 0, rest.maximum - rest.minimum, item.case, 0, rest.segments)


def _best(
    built: BuiltPacking, tails: list[Tail], items: list[Item], joining: Joining
) -> tuple[tuple[Tail, ...], Surrogate, int] | None:
    """The tails whose blend gains most, what it fills, and the gain."""
    effort = joining.effort.minor if joining.effort else 0
    best: tuple[int, tuple[Tail, ...], tuple[Item, ...]] | None = None
    for tags in sorted({tail.bucket.tags for tail in tails}, key=sorted):
        alike = [tail for tail in tails if tail.bucket.tags == tags]
        sets = list(_sets(alike, joining.most_buckets))
        if not sets:
            continue
        allowed = tuple(
            item if ok else Item(item.weight, 0, 0) for item, ok in zip(items, _allowed(built, alike[0]), strict=True)
        )
        values = values_within(allowed, [_held(parts) for parts in sets]) or ()
        for parts, value in zip(sets, values, strict=bool(values)):
            gain = value - effort * len(parts)
            if gain > 0 and (best is None or gain > best[0]):
                best = (gain, parts, allowed)
    if best is None:
        return None
    gain, parts, allowed = best
    pooled = solve_surrogate(allowed, _held(parts))
    return None if pooled is None else (parts, pooled, gain)


def _held(parts: tuple[Tail, ...]) -> int:
    return sum(tail.mass.mg for tail in parts)


def _sets(tails: list[Tail], most: int) -> Iterator[tuple[Tail, ...]]:
    """Sets of tails to try: every set of the fullest few, fewest buckets first, so that of equal gains the smaller wins."""
    for size in range(2, most + 1):
        yield from combinations(tails[:LOOKED_AT], size)


def _allowed(built: BuiltPacking, tail: Tail) -> tuple[bool, ...]:
    place = built.buckets.index(tail.bucket)
    allowed = built.packing.bins[place].allowed
    return (*allowed[: len(built.request.sizes)], *(False for _ in built.request.keep))


def _blend(built: BuiltPacking, name: str, parts: tuple[Tail, ...], pooled: Surrogate, gain: int) -> BlendPlan:
    sizes = built.request.sizes
    jars = {size.id: n for size, n in zip(sizes, pooled.totals, strict=False) if n}
    filled = sum((size.fill * jars.get(size.id, 0) for size in sizes), NOTHING)
    held = sum((tail.mass for tail in parts), NOTHING)
    return BlendPlan(
        id=name,
        parts=tuple((tail.bucket.id, tail.mass) for tail in parts),
        jars=jars,
        filled=filled,
        left=held - filled,
        gain=Money(gain, built.request.currency),
        hives=sum(tail.bucket.hives for tail in parts),
    )


def remainders_bound(built: BuiltPacking, bound: int, value: int, blends: Sequence[BlendPlan], search: Search) -> int:
    """What no plan can exceed when tails may be joined; ``bound`` is that of the plans that join none.

    Whatever is joined, no more can be filled than if all buckets with the same tags were one; and who joins anything
    pours at least two tails. Plans are compared after that work is paid for, so the bound is as far above ``value`` as
    the best that might be is above this plan with its blends.
    """
    joining = built.request.joining
    if joining is None:
        return bound
    most = search(_by_tags(built)).bound
    effort = joining.effort.minor if joining.effort else 0
    reached = value - effort * sum(len(blend.parts) for blend in blends)
    return value + max(0, max(min(bound, most), most - 2 * effort) - reached)


def _by_tags(built: BuiltPacking) -> Packing:
    """The packing with all buckets of the same tags poured into one."""
    rooms: dict[tuple[frozenset[str], tuple[bool, ...]], int] = {}
    for bucket, bin_ in zip(built.buckets, built.packing.bins, strict=True):
        rooms[bucket.tags, bin_.allowed] = rooms.get((bucket.tags, bin_.allowed), 0) + bin_.capacity
    bins = tuple(Bin(room, 0, allowed) for (_, allowed), room in rooms.items())
    return Packing(bins, poured_items(built))
