"""The recount: every figure of a plan reckoned again with whole numbers from the request alone.

Nothing here knows how the plan was found. A plan that does not recount is refused, never shown.
"""

from __future__ import annotations

from labelkit.errors.plan import RecountFailed
from labelkit.measures import NOTHING, Mass
from labelkit.plan.outcome import PROVED, BucketPlan, JarPlan
from labelkit.plan.request import JarSize, PlanBucket, PlanRequest


def verify_plan(request: PlanRequest, plan: JarPlan) -> JarPlan:
    """The same plan, if every figure of it recounts; :class:`~labelkit.errors.plan.RecountFailed` otherwise."""
    sizes = {size.id: size for size in request.sizes}
    _buckets(request, plan, sizes)
    filled = {name: sum(b.jars.get(name, 0) for b in plan.buckets) for name in sizes}
    for blend in plan.blends:
        if sum((sizes[name].fill * n for name, n in blend.jars.items()), NOTHING) != blend.filled:
            raise RecountFailed(f"blend {blend.id} does not hold what its jars take")
        if sum((mass for _, mass in blend.parts), NOTHING) != blend.filled + blend.left:
            raise RecountFailed(f"the parts of blend {blend.id} do not add up to it")
        for name, n in blend.jars.items():
            filled[name] += n
    if {name: n for name, n in filled.items() if n} != {name: n for name, n in plan.jars.items() if n}:
        raise RecountFailed("the jars of the buckets do not add up to the jars of the plan")
    for size in request.sizes:
        _limits(size, filled[size.id], plan.to_buy.get(size.id, 0))
    value = sum(margin(size, filled[size.id]) for size in request.sizes)
    if value != plan.value.minor:
        raise RecountFailed(f"its jars are worth {value}, not {plan.value.minor}, in the smallest coin")
    if plan.bound.minor < value or (plan.status == PROVED) != (
        plan.bound.minor == value and all(s.proved for s in plan.stages)
    ):
        raise RecountFailed("its bound and its status do not agree with its value")
    return plan


def margin(size: JarSize, count: int) -> int:
    """Price less cost over ``count`` jars of a size, jar by jar through reserve and price steps, in the smallest coin.

    >>> from labelkit.measures import Money
    >>> from labelkit.plan.request import Step
    >>> usd = lambda amount: Money.of(amount, "USD")
    >>> pound = JarSize("one pound", "1 lb", Mass(453592), usd("12"), usd("1"), reserve=1, steps=(Step(2, usd("10")),))
    >>> margin(pound, 4)  # -1 + 11 + 11 + 9
    3000
    """
    bends = [(0, size.price.minor), *((step.after, step.price.minor) for step in size.steps)]
    sold, total = max(0, count - size.reserve), -size.cost.minor * count
    for n, (after, price) in enumerate(bends):
        end = bends[n + 1][0] if n + 1 < len(bends) else sold
        total += price * max(0, min(sold, end) - after)
    return total


def _buckets(request: PlanRequest, plan: JarPlan, sizes: dict[str, JarSize]) -> None:
    asked = {bucket.id: bucket for bucket in request.buckets}
    named = [b.id for b in plan.buckets] + [out.bucket for out in plan.left_out]
    if sorted(named) != sorted(asked):
        raise RecountFailed("it does not name every bucket once")
    kept: dict[str, Mass] = {}
    for part in plan.kept:
        kept[part.bucket] = kept.get(part.bucket, NOTHING) + part.mass
    if sorted((k.id, k.mass.mg) for k in plan.kept) != sorted((k.id, k.mass.mg) for k in request.keep):
        raise RecountFailed("it does not keep what was to be kept")
    tails: dict[str, Mass] = {}
    for blend in plan.blends:
        for name, mass in blend.parts:
            tails[name] = tails.get(name, NOTHING) + mass
    for found in plan.buckets:
        bucket = asked[found.id]
        if reason := request.leaves_out(bucket):
            raise RecountFailed(f"it fills from bucket {found.id}, though {reason}")
        if found.usable != bucket.usable:
            raise RecountFailed(f"bucket {found.id} is not what was asked about")
        _one_bucket(found, bucket, sizes, kept.get(found.id, NOTHING), tails.get(found.id, NOTHING))


def _one_bucket(found: BucketPlan, bucket: PlanBucket, sizes: dict[str, JarSize], kept: Mass, tail: Mass) -> None:
    for name, count in found.jars.items():
        if count < 0 or name not in sizes or (count and not sizes[name].only_from <= bucket.tags):
            raise RecountFailed(f"bucket {found.id} fills {count} of “{name}”")
    filled = sum((sizes[name].fill * count for name, count in found.jars.items()), NOTHING)
    if filled != found.filled or filled + found.left != found.usable:
        raise RecountFailed(f"filled and left of bucket {found.id} do not add up")
    if filled + kept + tail > found.usable:
        raise RecountFailed(f"bucket {found.id} gives {(filled + kept + tail - found.usable).mg} mg more than it holds")


def _limits(size: JarSize, count: int, bought: int) -> None:
    if count < size.at_least + size.reserve:
        raise RecountFailed(f"“{size.id}” is filled {count} times, which is too few")
    if count % size.case:
        raise RecountFailed(f"“{size.id}” is filled {count} times, which is no whole number of cases")
    # What the floor forces up to a whole case may pass at_most only where the request itself was refused.
    if size.at_most is not None and count > size.at_most + size.reserve:
        raise RecountFailed(f"“{size.id}” is filled {count} times, which is too many")
    if size.in_stock is not None and (count > size.in_stock + bought or (bought and not size.may_buy)):
        raise RecountFailed(f"“{size.id}” is filled {count} times, more than there are empty jars")
