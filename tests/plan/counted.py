"""Plans found by counting every possibility: slow, plain, and with nothing in common with the search.

Every load of every bucket is listed, and every sum of loads remembered with nothing but its totals. It knows only what
the command contract says: a jar takes its fill, is filled from one bucket, and brings price less cost.
"""

from __future__ import annotations

from itertools import product

from labelkit.plan import PlanRequest


def loads(usable: int, fills: list[int]):
    """Every way to fill one bucket, in milligrams."""
    for counts in product(*(range(usable // fill + 1) for fill in fills)):
        if sum(n * fill for n, fill in zip(counts, fills, strict=True)) <= usable:
            yield counts


def every_total(request: PlanRequest) -> set[tuple[int, ...]]:
    """Every set of totals that the buckets can make."""
    fills = [size.fill.mg for size in request.sizes]
    totals = {(0,) * len(fills)}
    for bucket in request.buckets:
        mine = [
            load
            for load in loads(bucket.usable.mg, fills)
            if all(size.only_from <= bucket.tags for size, n in zip(request.sizes, load, strict=True) if n)
        ]
        totals = {tuple(a + b for a, b in zip(total, load, strict=True)) for total in totals for load in mine}
    return totals


def allowed(request: PlanRequest, total: tuple[int, ...]) -> bool:
    """Whether the totals keep floor, ceiling, stock and case of every size."""
    return all(
        count >= size.at_least + size.reserve
        and (size.at_most is None or count <= size.at_most + size.reserve)
        and (size.in_stock is None or size.may_buy or count <= size.in_stock)
        and count % size.case == 0
        for size, count in zip(request.sizes, total, strict=True)
    )


def earned(request: PlanRequest, total: tuple[int, ...]) -> int:
    """What the totals bring, jar by jar, in the smallest coin."""
    sum_ = 0
    for size, count in zip(request.sizes, total, strict=True):
        for nth in range(count):
            price = 0
            if nth >= size.reserve:
                price = size.price.minor
                for step in size.steps:
                    if nth - size.reserve >= step.after:
                        price = step.price.minor
            sum_ += price - size.cost.minor
    return sum_


def best_value(request: PlanRequest) -> int | None:
    """The most any plan brings, in the smallest coin; none where no plan keeps every limit."""
    return max((earned(request, total) for total in every_total(request) if allowed(request, total)), default=None)
