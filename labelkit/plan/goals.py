"""What makes a plan good, stage by stage: a first goal as far as it goes, then money without losing any of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal
from itertools import pairwise

from labelkit.errors.plan import MixUnclear, SizeNotHere
from labelkit.plan.build_packing import Frame
from labelkit.plan.outcome import Stage
from labelkit.plan.request import Goal, PlanRequest
from labelkit.plan.search.packing import Found, Guard, Item, Loads, Packing, between, totals_of
from labelkit.plan.search.reduced_cost_fixing import line_bound
from labelkit.plan.search.subset_sum import fullest

FEW = 12  # boxes; of more, both stages are planned by shares
Search = Callable[[Packing, Loads | None], Found]


@dataclass(frozen=True)
class Reached:
    """The loads of the last stage, how far each stage came, and the packing in which the last one was best."""

    found: Found
    stages: tuple[Stage, ...]
    packing: Packing


def reach(framed: Frame, search: Search) -> Reached:
    """Stage by stage to the last, which is money. ``search`` finds the best loads of a packing from known ones on."""
    request, packing = framed.request, framed.packing
    if request.goal is Goal.MONEY:
        found = search(packing, None)
        return Reached(found, (_money(request, found),), packing)
    first = _first_stage(framed)
    one = search(first, None)
    if one.loads is None:
        return Reached(one, (), packing)
    last = packing
    if len(packing.boxes) <= FEW:
        last = _keeping(framed, first, one)
        two = search(last, one.loads)
    elif request.goal is Goal.SIZE_FIRST:
        two = _around(framed, one, search)
    else:
        one, two = _at_once(packing, first, one, search)
    return Reached(two, (_stage(framed, first, one), _money(request, two)), last)


def _money(request: PlanRequest, found: Found) -> Stage:
    return Stage(Goal.MONEY.value, request.currency, found.worth, found.bound)


def _around(framed: Frame, one: Found, search: Search) -> Found:
    """Money from what the first size leaves in each of many boxes. The bound is that of a free choice of boxes."""
    packing, place = framed.packing, _place(framed.request)
    weight = packing.items[place].weight
    taken = [load[place] for load in one.loads]
    boxes = tuple(
        replace(box, room=box.room - n * weight, least=max(0, box.least - n * weight))
        for box, n in zip(packing.boxes, taken, strict=True)
    )
    items = tuple(
        replace(item, floor=0, most=0, base=0, worths=()) if i == place else item
        for i, item in enumerate(packing.items)
    )
    rest = search(Packing(boxes, items), None)
    if rest.loads is None:
        loads = one.loads
    else:
        loads = tuple((*load[:place], n, *load[place + 1 :]) for load, n in zip(rest.loads, taken, strict=True))
    fixed = replace(
        packing,
        items=tuple(
            between(item, sum(taken), sum(taken)) if i == place else item for i, item in enumerate(packing.items)
        ),
    )
    worth = packing.value(loads)
    return Found(loads, worth, max(worth, line_bound(fixed, fullest(packing))))


def _at_once(packing: Packing, first: Packing, one: Found, search: Search) -> tuple[Found, Found]:
    """Both stages of many boxes in one: a milligram of the first counts as a whole coin, so money only settles ties."""
    items = tuple(_sum(a, b) for a, b in zip(first.items, packing.items, strict=True))
    both = search(replace(packing, items=items), one.loads)
    loads = both.loads if both.loads is not None and first.value(both.loads) >= one.worth else one.loads
    reached, worth = first.value(loads), packing.value(loads)
    return Found(loads, reached, max(reached, one.bound)), Found(loads, worth, max(worth, both.bound - reached))


def _sum(a: Item, b: Item) -> Item:
    """One item whose worth is that of both."""
    bends = {0}
    for item in (a, b):
        at = 0
        for length, _ in item.worths:
            at += length
            bends.add(at)
    ends = sorted(bends)
    runs = tuple(
        (
            high - low,
            (a.worth(a.floor + high) - a.worth(a.floor + low) + b.worth(b.floor + high) - b.worth(b.floor + low))
            // (high - low),
        )
        for low, high in pairwise(ends)
    )
    return replace(a, base=a.base + b.base, worths=runs)


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


def _first_stage(framed: Frame) -> Packing:
    request, items = framed.request, framed.packing.items
    if request.goal is Goal.SIZE_FIRST:
        place = _place(request)
        return replace(
            framed.packing,
            items=tuple(
                _item(item, ((item.most - item.floor, 1),), item.floor)
                if i == place
                else _item(item, (), 0, item.floor)
                for i, item in enumerate(items)
            ),
        )
    if request.goal is Goal.LEAST_LEFT:
        return replace(
            framed.packing,
            items=tuple(
                _item(item, ((item.most - item.floor, item.weight),), item.floor * item.weight) for item in items
            ),
        )
    honey = sum(box.room for box in framed.packing.boxes) - sum(keep.mass.mg for keep in request.keep)
    wished = list(targets(request, honey).values()) + [1] * len(request.keep)
    return replace(framed.packing, items=tuple(map(_near, items, wished)))


def _item(item: Item, worths: tuple[tuple[int, int], ...], base: int, most: int | None = None) -> Item:
    most = item.most if most is None else most
    return Item(item.weight, item.floor, most, item.case, base, tuple(run for run in worths if run[0]))


def _near(item: Item, wished: int) -> Item:
    """The item whose worth falls by its weight for every jar away from the wish."""
    up, down = min(item.most, max(item.floor, wished)) - item.floor, item.most - max(item.floor, min(item.most, wished))
    return _item(item, ((up, item.weight), (down, -item.weight)), -item.weight * abs(item.floor - wished))


def _stage(framed: Frame, first: Packing, found: Found) -> Stage:
    goal = framed.request.goal
    if goal is Goal.SIZE_FIRST:
        return Stage(goal.value, "jars", found.worth, found.bound)
    honey = sum(box.room for box in first.boxes) if goal is Goal.LEAST_LEFT else 0
    return Stage(goal.value, "mg", honey - found.worth, honey - found.bound)


def _place(request: PlanRequest) -> int:
    return [size.id for size in request.sizes].index(request.first)


def _keeping(framed: Frame, first: Packing, one: Found) -> Packing:
    """The money packing in which what the first stage reached cannot be lost."""
    if framed.request.goal is not Goal.SIZE_FIRST:
        return replace(framed.packing, guards=(Guard(first.items, one.worth),))
    place = _place(framed.request)
    count = totals_of(one.loads, len(first.items))[place]
    items = list(framed.packing.items)
    items[place] = between(items[place], count, count)
    return replace(framed.packing, items=tuple(items))
