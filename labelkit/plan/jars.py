"""The jar plan: from a request to a plan that has been recounted."""

from __future__ import annotations

from dataclasses import replace

from labelkit.errors.plan import NoPlanInTime, UseFirstImpossible
from labelkit.measures import NOTHING, Mass, Money
from labelkit.plan.build_packing import Frame, frame
from labelkit.plan.goals import Reached, check_goal, reach
from labelkit.plan.outcome import NOT_PROVED, PROVED, BucketPlan, JarPlan, Kept, Stage
from labelkit.plan.remainders import joined, joined_bound
from labelkit.plan.request import PlanRequest
from labelkit.plan.search.packing import totals_of
from labelkit.plan.search.strategies import best_loads
from labelkit.plan.search.tie_breaking import in_order, settled
from labelkit.plan.shortage import shortage
from labelkit.plan.verify_plan import recounted, worth


def jar_plan(request: PlanRequest) -> JarPlan:
    """The best plan found for a request, recounted, with an honest bound.

    The same request gives the same plan. Of several equally good plans it takes the one with the fewest jars, and of
    those the one whose sizes stand first in the request (up to twelve buckets; :mod:`labelkit.plan.search.tie_breaking`); the same
    jars are put into as few buckets as it can, and then as few sizes to a bucket, since every size filled from a bucket
    is a label of its own. A jar that brings nothing is filled only where it was asked for. Raises the refusals of
    :mod:`labelkit.errors.plan`.

    >>> from labelkit.measures import Mass
    >>> from labelkit.plan.request import JarSize, PlanBucket
    >>> usd = lambda amount: Money.of(amount, "USD")
    >>> pound = JarSize("one pound", "1 lb", Mass.read("1 lb", "en_US"), usd("12"), usd("1.35"))
    >>> half = JarSize("half pound", "8 oz", Mass.read("8 oz", "en_US"), usd("7"), usd("1.10"), at_most=5)
    >>> plan = jar_plan(PlanRequest((PlanBucket("B1", Mass.read("20 lb", "en_US")),), (pound, half), "USD"))
    >>> plan.status, plan.jars, plan.value.amount
    ('proved', {'one pound': 18, 'half pound': 4}, Decimal('215.30'))
    """
    framed = frame(request)
    check_goal(request)
    reached = _reached(framed)
    found = reached.found
    if found.proved:
        loads = settled(reached.packing, found.loads, request.patience)
    else:
        loads = in_order(reached.packing, found.loads)
    plan = _told(framed, replace(reached, found=replace(found, loads=loads)))
    return recounted(request, plan)


def worth_of_best(request: PlanRequest) -> tuple[Money, tuple[Stage, ...]]:
    """What the best plan found brings, and how far each goal came, for when the plan itself is not wanted.

    Tails are not joined. Raises the refusals of :mod:`labelkit.errors.plan`.
    """
    framed = frame(request)
    check_goal(request)
    reached = _reached(framed)
    return Money(reached.found.worth, request.currency), reached.stages


def _reached(framed: Frame) -> Reached:
    """The last stage's loads, or the refusal that says what cannot be met."""
    patience = framed.request.patience
    reached = reach(framed, lambda packing, known: best_loads(packing, patience, known))
    if reached.found.loads is not None:
        return reached
    missing = shortage(framed, lambda packing: best_loads(packing, patience))
    if missing is not None:
        raise missing
    first = [bucket.id for bucket in framed.buckets if bucket.use_first]
    if not first or not reached.found.impossible:
        raise NoPlanInTime(patience)
    # Too few jars to empty the buckets to be used first: then no other bucket is opened.
    boxes = tuple(
        replace(box, least=0, room=box.room if bucket.use_first else 0)
        for box, bucket in zip(framed.packing.boxes, framed.buckets, strict=True)
    )
    shut = replace(framed, packing=replace(framed.packing, boxes=boxes))
    reached = reach(shut, lambda packing, known: best_loads(packing, patience, known))
    if reached.found.loads is None:
        raise UseFirstImpossible(", ".join(first))
    return reached


def _told(framed: Frame, reached: Reached) -> JarPlan:
    """The loads in the words of the request."""
    request, sizes, found = framed.request, framed.request.sizes, reached.found
    planned = {bucket.id: load for bucket, load in zip(framed.buckets, found.loads, strict=True)}
    buckets = []
    for bucket in framed.buckets:
        jars = {size.id: n for size, n in zip(sizes, planned[bucket.id], strict=False) if n}
        filled = sum((size.fill * n for size, n in zip(sizes, planned[bucket.id], strict=False)), NOTHING)
        buckets.append(BucketPlan(bucket.id, bucket.usable, jars, filled, bucket.usable - filled))
    jars = {size.id: sum(b.jars.get(size.id, 0) for b in buckets) for size in sizes}
    kept = tuple(
        Kept(keep.id, bucket.id, keep.mass)
        for k, keep in enumerate(request.keep, len(sizes))
        for bucket in framed.buckets
        if planned[bucket.id][k]
    )
    set_aside: dict[str, Mass] = {}
    for part in kept:
        set_aside[part.bucket] = set_aside.get(part.bucket, NOTHING) + part.mass
    blends = joined(framed, buckets, set_aside, totals_of(found.loads, len(framed.packing.items)))
    for blend in blends:
        jars = {name: n + blend.jars.get(name, 0) for name, n in jars.items()}
    value = sum(worth(size, jars[size.id]) for size in sizes)
    bound = joined_bound(framed, found.bound, value, blends, lambda packing: best_loads(packing, request.patience))
    stages = (*reached.stages[:-1], replace(reached.stages[-1], reached=value, bound=bound))
    return JarPlan(
        status=PROVED if all(stage.proved for stage in stages) else NOT_PROVED,
        value=Money(value, request.currency),
        bound=Money(bound, request.currency),
        jars=jars,
        buckets=tuple(buckets),
        to_buy=to_buy(framed, jars),
        kept=kept,
        left_out=framed.left_out,
        blends=blends,
        stages=stages,
    )


def to_buy(framed: Frame, jars: dict[str, int]) -> dict[str, int]:
    """Empty jars to buy, in whole packs, for every size that may be bought."""
    missing = {s.id: jars[s.id] - s.in_stock for s in framed.request.sizes if s.may_buy and s.in_stock is not None}
    packs = {size.id: size.buy_pack for size in framed.request.sizes}
    return {name: -(-short // packs[name]) * packs[name] for name, short in missing.items() if short > 0}
