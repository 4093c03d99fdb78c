"""The jar plan: from a request to a plan that has been recounted."""

from __future__ import annotations

from dataclasses import replace

from labelkit.errors.plan import NoPlanInTime, UseFirstImpossible
from labelkit.measures import NOTHING, Mass, Money
from labelkit.plan.build_packing import BuiltPacking, build_packing
from labelkit.plan.goals import GoalResult, check_goal, solve_goals
from labelkit.plan.outcome import NOT_PROVED, PROVED, BucketPlan, JarPlan, Kept, Stage
from labelkit.plan.remainders import join_remainders, remainders_bound
from labelkit.plan.request import PlanRequest
from labelkit.plan.search.packing import totals_of
from labelkit.plan.search.strategies import solve_packing
from labelkit.plan.search.tie_breaking import break_ties, sort_equal_bins
from labelkit.plan.shortage import shortage
from labelkit.plan.verify_plan import margin, verify_plan


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
    built = build_packing(request)
    check_goal(request)
    reached = _solve(built)
    found = reached.found
    if found.proved:
        patterns = break_ties(reached.packing, found.packed, request.patience)
    else:
        patterns = sort_equal_bins(reached.packing, found.packed)
    plan = _plan_of(built, replace(reached, found=replace(found, patterns=patterns)))
    return verify_plan(request, plan)


def worth_of_best(request: PlanRequest) -> tuple[Money, tuple[Stage, ...]]:
    """What the best plan found brings, and how far each goal came, for when the plan itself is not wanted.

    Tails are not joined. Raises the refusals of :mod:`labelkit.errors.plan`.
    """
    built = build_packing(request)
    check_goal(request)
    reached = _solve(built)
    return Money(reached.found.value, request.currency), reached.stages


def _solve(built: BuiltPacking) -> GoalResult:
    """The last stage's loads, or the refusal that says what cannot be met."""
    patience = built.request.patience
    reached = solve_goals(built, lambda packing, known: solve_packing(packing, patience, known))
    if reached.found.patterns is not None:
        return reached
    missing = shortage(built, lambda packing: solve_packing(packing, patience))
    if missing is not None:
        raise missing
    first = [bucket.id for bucket in built.buckets if bucket.use_first]
    if not first or not reached.found.infeasible:
        raise NoPlanInTime(patience)
    # Too few jars to empty the buckets to be used first: then no other bucket is opened.
    bins = tuple(
        replace(bin_, minimum=0, capacity=bin_.capacity if bucket.use_first else 0)
        for bin_, bucket in zip(built.packing.bins, built.buckets, strict=True)
    )
    shut = replace(built, packing=replace(built.packing, bins=bins))
    reached = solve_goals(shut, lambda packing, known: solve_packing(packing, patience, known))
    if reached.found.patterns is None:
        raise UseFirstImpossible(", ".join(first))
    return reached


def _plan_of(built: BuiltPacking, reached: GoalResult) -> JarPlan:
    """The loads in the words of the request."""
    request, sizes, found = built.request, built.request.sizes, reached.found
    planned = {bucket.id: pattern for bucket, pattern in zip(built.buckets, found.packed, strict=True)}
    buckets = []
    for bucket in built.buckets:
        jars = {size.id: n for size, n in zip(sizes, planned[bucket.id], strict=False) if n}
        filled = sum((size.fill * n for size, n in zip(sizes, planned[bucket.id], strict=False)), NOTHING)
        buckets.append(BucketPlan(bucket.id, bucket.usable, jars, filled, bucket.usable - filled))
    jars = {size.id: sum(b.jars.get(size.id, 0) for b in buckets) for size in sizes}
    kept = tuple(
        Kept(keep.id, bucket.id, keep.mass)
        for k, keep in enumerate(request.keep, len(sizes))
        for bucket in built.buckets
        if planned[bucket.id][k]
    )
    set_aside: dict[str, Mass] = {}
    for part in kept:
        set_aside[part.bucket] = set_aside.get(part.bucket, NOTHING) + part.mass
    blends = join_remainders(built, buckets, set_aside, totals_of(found.packed, len(built.packing.items)))
    for blend in blends:
        jars = {name: n + blend.jars.get(name, 0) for name, n in jars.items()}
    value = sum(margin(size, jars[size.id]) for size in sizes)
    bound = remainders_bound(
        built, found.bound, value, blends, lambda packing: solve_packing(packing, request.patience)
    )
    stages = (*reached.stages[:-1], replace(reached.stages[-1], reached=value, bound=bound))
    return JarPlan(
        status=PROVED if all(stage.proved for stage in stages) else NOT_PROVED,
        value=Money(value, request.currency),
        bound=Money(bound, request.currency),
        jars=jars,
        buckets=tuple(buckets),
        to_buy=to_buy(built, jars),
        kept=kept,
        left_out=built.left_out,
        blends=blends,
        stages=stages,
    )


def to_buy(built: BuiltPacking, jars: dict[str, int]) -> dict[str, int]:
    """Empty jars to buy, in whole packs, for every size that may be bought."""
    missing = {s.id: jars[s.id] - s.in_stock for s in built.request.sizes if s.may_buy and s.in_stock is not None}
    packs = {size.id: size.buy_pack for size in built.request.sizes}
    return {name: -(-short // packs[name]) * packs[name] for name, short in missing.items() if short > 0}
