"""What if: the same request with one thing changed, and what that changes in the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from labelkit.errors.lots import BucketUnknown
from labelkit.errors.plan import SizeNotHere
from labelkit.measures import Mass, Money
from labelkit.plan.outcome import JarPlan
from labelkit.plan.request import JarSize, PlanRequest


@dataclass(frozen=True, slots=True)
class Difference:
    """A plan against the plan before it: more is above nothing, less is below.

    ``jars`` and ``to_buy`` hold only the sizes that changed; ``buckets`` the change of what is left in each bucket that
    both plans use; ``came`` and ``went`` the buckets only one of them uses. ``sure`` says that both plans are proved, so
    that the difference is due to what was changed and not to the search.
    """

    value: Money
    jars: dict[str, int]
    to_buy: dict[str, int]
    buckets: dict[str, Mass]
    came: tuple[str, ...]
    went: tuple[str, ...]
    left: Mass
    sure: bool


def difference(before: JarPlan, after: JarPlan) -> Difference:
    """What ``after`` changes against ``before``."""
    old, new = ({b.id: b for b in plan.buckets} for plan in (before, after))
    return Difference(
        value=after.value - before.value,
        jars=_changes(before.jars, after.jars),
        to_buy=_changes(before.to_buy, after.to_buy),
        buckets={
            name: new[name].left - old[name].left for name in new if name in old and new[name].left != old[name].left
        },
        came=tuple(name for name in new if name not in old),
        went=tuple(name for name in old if name not in new),
        left=after.left - before.left,
        sure=before.proved and after.proved,
    )


def _changes(before: Mapping[str, int], after: Mapping[str, int]) -> dict[str, int]:
    """
    >>> _changes({"kilo": 3, "half": 2}, {"kilo": 3, "quarter": 1})
    {'half': -2, 'quarter': 1}
    """
    names = dict.fromkeys([*before, *after])
    return {
        name: after.get(name, 0) - before.get(name, 0) for name in names if after.get(name, 0) != before.get(name, 0)
    }


def changed(
    request: PlanRequest,
    *,
    without: tuple[str, ...] = (),
    prices: Mapping[str, Money] | None = None,
    at_least: Mapping[str, int] | None = None,
    at_most: Mapping[str, int | None] | None = None,
    in_stock: Mapping[str, int | None] | None = None,
) -> PlanRequest:
    """The request with buckets taken out and sizes changed.

    A new price takes the place of the first price; price steps that would then rise are dropped. Raises
    :class:`~labelkit.errors.lots.BucketUnknown` and :class:`~labelkit.errors.plan.SizeNotHere`.
    """
    known = {bucket.id for bucket in request.buckets}
    for name in without:
        if name not in known:
            raise BucketUnknown(name, f"; known are {', '.join(sorted(known))}")
    fields: dict[str, Mapping[str, Any]] = {
        "price": prices or {},
        "at_least": at_least or {},
        "at_most": at_most or {},
        "in_stock": in_stock or {},
    }
    sizes = {size.id: size for size in request.sizes}
    for field, values in fields.items():
        for name, value in values.items():
            if name not in sizes:
                raise SizeNotHere(f"The change of {field}", name, ", ".join(sizes))
            sizes[name] = _with(sizes[name], field, value)
    buckets = tuple(bucket for bucket in request.buckets if bucket.id not in without)
    return replace(request, buckets=buckets, sizes=tuple(sizes.values()))


def _with(size: JarSize, field: str, value: Any) -> JarSize:
    size = replace(size, **{field: value})
    return (
        replace(size, steps=tuple(step for step in size.steps if step.price <= size.price))
        if field == "price"
        else size
    )
