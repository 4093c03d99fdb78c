"""What makes a plan good, stage by stage: a first goal as far as it goes, then money without losing any of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from itertools import pairwise

from labelkit.errors.plan import MixUnclear, SizeNotHere
from labelkit.plan.build_packing import BuiltPacking
from labelkit.plan.outcome import Stage
from labelkit.plan.request import Goal, PlanRequest
from labelkit.plan.search.packing import GoalConstraint, Item, Packing, Patterns, Solution, restrict, totals_of
from labelkit.plan.search.reduced_cost_fixing import linear_bound
from labelkit.plan.search.subset_sum import max_fills

FEW = 12  # buckets; of more, both stages are planned in one
Search = Callable[[Packing, Patterns | None], Solution]


@dataclass(frozen=True)
class GoalResult:
    """The loads of the last stage, how far each stage came, and the packing in which the last one was best."""

    found: Solution
    stages: tuple[Stage, ...]
    packing: Packing


def solve_goals(built: BuiltPacking, search: Search) -> GoalResult:
    """Stage by stage to the last, which is money. ``search`` finds the best loads of a packing from known ones on."""
    request, packing = built.request, built.packing
    if request.goal is Goal.MONEY:
        found = search(packing, None)
        return GoalResult(found, (_money(request, found),), packing)
    first = _first_stage(built)
    one = search(first, None)
    if one.patterns is None:
        return GoalResult(one, (), packing)
    last = packing
    if len(packing.bins) <= FEW:
        last = _keeping(built, first, one)
        two = search(last, one.patterns)
    elif request.goal is Goal.SIZE_FIRST:
        two = _around(built, one, search)
    else:
        one, two = _at_once(packing, first, one, search)
    return GoalResult(two, (_stage(built, first, one), _money(request, two)), last)


def _money(request: PlanRequest, found: Solution) -> Stage:
    return Stage(Goal.MONEY.value, request.currency, found.value, found.bound)


def _around(built: BuiltPacking, one: Solution, search: Search) -> Solution:
    """Money from what the first size leaves in each of many buckets. The bound is that of a free choice of buckets."""
    packing, place = built.packing, _place(built.request)
    weight = packing.items[place].weight
    taken = [pattern[place] for pattern in one.packed]
    bins = tuple(
        replace(bin_, capacity=bin_.capacity - n * weight, minimum=max(0, bin_.minimum - n * weight))
        for bin_, n in zip(packing.bins, taken, strict=True)
    )
    items = tuple(
        replace(item, minimum=0, maximum=0, base=0, segments=()) if i == place else item
        for i, item in enumerate(packing.items)
    )
    rest = search(Packing(bins, items), None)
    if rest.patterns is None:
        patterns = one.packed
    else:
        patterns = tuple(
            (*pattern[:place], n, *pattern[place + 1 :]) for pattern, n in zip(rest.patterns, taken, strict=True)
        )
    fixed = replace(
        packing,
        items=tuple(
            restrict(item, sum(taken), sum(taken)) if i == place else item for i, item in enumerate(packing.items)
        ),
    )
    value = packing.value(patterns)
    return Solution(patterns, value, max(value, linear_bound(fixed, max_fills(packing))))


def _at_once(packing: Packing, first: Packing, one: Solution, search: Search) -> tuple[Solution, Solution]:
    """Both stages of many buckets in one: a milligram of the first counts as much as a coin of the smallest kind.

    Neither search is exact to the milligram, so a plan a few milligrams worse is taken where it brings as many coins more.
    """
    items = tuple(_sum(a, b) for a, b in zip(first.items, packing.items, strict=True))
    both = search(replace(packing, items=items), one.patterns)
    patterns = one.packed if both.patterns is None else both.packed
    reached, value = first.value(patterns), packing.value(patterns)
    # Money alone cannot bring less than money after another goal, so its bound holds as well.
    bound = min(both.bound - reached, linear_bound(packing, max_fills(packing)))
    return Solution(patterns, reached, max(reached, one.bound)), Solution(patterns, value, max(value, bound))


def _sum(a: Item, b: Item) -> Item:
    """One item whose worth is that of both."""
    bends = {0}
    for item in (a, b):
        at = 0
        for length, _ in item.segments:
            at += length
            bends.add(at)
    ends = sorted(bends)
    runs = tuple(
        (
            high - low,
            (
                a.value(a.minimum + high)
                - a.value(a.minimum + low)
                + b.value(b.minimum + high)
                - b.value(b.minimum + low)
            )
            // (high - low),
        )
        for low, high in pairwise(ends)
    )
    return replace(a, base=a.base + b.base, segments=runs)


def check_goal(request: PlanRequest) -> None:
    """Refuse a goal that names a size nobody listed, or a mix that is none."""
    known = [size.id for size in request.sizes]
    if request.goal is Goal.SIZE_FIRST and request.first not in known:
        raise SizeNotHere("The goal “one size first”", request.first or "", ", ".join(known))
    if request.goal is not Goal.MIX:
        return
    for name, share in request.mix:
        if name not in known:
            raise SizeNotHere("The wished mix", name, ", ".join(known))
        if not share.is_finite() or share < 0:
            raise MixUnclear(f"“{name}” has the share {share}")
    if not any(share for _, share in request.mix):
        raise MixUnclear("no size is named with a share above 0")


def targets(request: PlanRequest, honey: int) -> dict[str, int]:
    """How many jars of each size the wished mix would make of so much honey, in whole jars.

    Half one kilo, half half-kilo jars out of 15 kg: ten of each.

    >>> from labelkit.measures import Mass, Money
    >>> from labelkit.plan.request import JarSize
    >>> free = Money(0, "USD")
    >>> sizes = (JarSize("kilo", "1 kg", Mass(1_000_000), free, free), JarSize("half", "500 g", Mass(500_000), free, free))
    >>> targets(PlanRequest((), sizes, "USD", Goal.MIX, (("kilo", Decimal(1)), ("half", Decimal(1)))), 15_000_000)
    {'kilo': 10, 'half': 10}
    """
    share = dict(request.mix)
    weight = sum(share.get(size.id, Decimal(0)) * size.fill.mg for size in request.sizes)
    return {
        size.id: int((share.get(size.id, Decimal(0)) * honey / weight).to_integral_value(ROUND_FLOOR))
        for size in request.sizes
    }


def _first_stage(built: BuiltPacking) -> Packing:
    request, items = built.request, built.packing.items
    if request.goal is Goal.SIZE_FIRST:
        place = _place(request)
        return replace(
            built.packing,
            items=tuple(
                _item(item, ((item.maximum - item.minimum, 1),), item.minimum)
                if i == place
                else _item(item, (), 0, item.minimum)
                for i, item in enumerate(items)
            ),
        )
    if request.goal is Goal.LEAST_LEFT:
        return replace(
            built.packing,
            items=tuple(
                _item(item, ((item.maximum - item.minimum, item.weight),), item.minimum * item.weight) for item in items
            ),
        )
    honey = sum(bin_.capacity for bin_ in built.packing.bins) - sum(keep.mass.mg for keep in request.keep)
    wished = list(targets(request, honey).values()) + [1] * len(request.keep)
    return replace(built.packing, items=tuple(map(_near, items, wished)))


def _item(item: Item, segments: tuple[tuple[int, int], ...], base: int, most: int | None = None) -> Item:
    most = item.maximum if most is None else most
    return Item(item.weight, item.minimum, most, item.case, base, tuple(run for run in segments if run[0]))


def _near(item: Item, wished: int) -> Item:
    """The item whose worth falls by its weight for every jar away from the wish."""
    up, down = (
        min(item.maximum, max(item.minimum, wished)) - item.minimum,
        item.maximum - max(item.minimum, min(item.maximum, wished)),
    )
    return _item(item, ((up, item.weight), (down, -item.weight)), -item.weight * abs(item.minimum - wished))


def _stage(built: BuiltPacking, first: Packing, found: Solution) -> Stage:
    goal = built.request.goal
    if goal is Goal.SIZE_FIRST:
        return Stage(goal.value, "jars", found.value, found.bound)
    honey = sum(bin_.capacity for bin_ in first.bins) if goal is Goal.LEAST_LEFT else 0
    return Stage(goal.value, "mg", honey - found.value, honey - found.bound)


def _place(request: PlanRequest) -> int:
    return [size.id for size in request.sizes].index(request.first or "")


def _keeping(built: BuiltPacking, first: Packing, one: Solution) -> Packing:
    """The money packing in which what the first stage reached cannot be lost."""
    if built.request.goal is not Goal.SIZE_FIRST:
        return replace(built.packing, constraints=(GoalConstraint(first.items, one.value),))
    place = _place(built.request)
    count = totals_of(one.packed, len(first.items))[place]
    items = list(built.packing.items)
    items[place] = restrict(items[place], count, count)
    return replace(built.packing, items=tuple(items))
