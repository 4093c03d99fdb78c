"""From a request in honey and money to the bare packing, and every refusal that plain arithmetic can give."""

from __future__ import annotations

from dataclasses import dataclass

from labelkit.errors.measures import CurrenciesMixed
from labelkit.errors.plan import (
    AtLeastAboveAtMost,
    AtLeastAboveHoney,
    AtLeastAboveStock,
    CaseDoesNotFit,
    JarFitsNoBucket,
    KeepTooMuch,
    NamedTwice,
    NothingToPlan,
    NumberImpossible,
    PriceRises,
)
from labelkit.errors.sentence import Figure
from labelkit.measures import Mass, show_metric
from labelkit.plan.outcome import LeftOut
from labelkit.plan.request import JarSize, Keep, PlanBucket, PlanRequest
from labelkit.plan.search.packing import Bin, Item, Packing


@dataclass(frozen=True)
class BuiltPacking:
    """A request made ready: the packing, and whose bin and item is whose.

    The items are the jar sizes in the order of the request, followed by one item for each mass to be kept.
    """

    request: PlanRequest
    buckets: tuple[PlanBucket, ...]
    left_out: tuple[LeftOut, ...]
    packing: Packing


def build_packing(request: PlanRequest) -> BuiltPacking:
    """Make a request ready, or refuse it by name and number."""
    _check_names(request)
    buckets, left_out = _planned(request)
    for size in request.sizes:
        _check_size(size, request.currency)
    items = [
        item_of(size, [bucket.usable for bucket in buckets if may_fill(size, bucket)]) for size in request.sizes
    ] + [_kept(keep, buckets) for keep in request.keep]
    bins = tuple(_bin(bucket, request, items) for bucket in buckets)
    return BuiltPacking(request, buckets, left_out, Packing(bins, tuple(items)))


def _check_names(request: PlanRequest) -> None:
    lists = (("bucket", request.buckets), ("jar size", request.sizes), ("kept part", request.keep))
    for kind, entries in lists:
        names = [entry.id for entry in entries]
        for name in names:
            if names.count(name) > 1:
                raise NamedTwice(kind, name)
    for keep in request.keep:
        if keep.mass.mg <= 0:
            raise NumberImpossible(
                keep.id, "the mass to keep", Figure(show_metric, keep.mass), "it must be more than nothing"
            )


def _planned(request: PlanRequest) -> tuple[tuple[PlanBucket, ...], tuple[LeftOut, ...]]:
    reasons = [(bucket, request.leaves_out(bucket)) for bucket in request.buckets]
    left_out = tuple(LeftOut(bucket.id, reason, not bucket.barred) for bucket, reason in reasons if reason)
    planned = tuple(bucket for bucket, reason in reasons if not reason)
    if not planned:
        raise NothingToPlan(
            "bucket", f" ({'; '.join(f'{o.bucket}: {o.reason}' for o in left_out)})" if left_out else ""
        )
    if not request.sizes:
        raise NothingToPlan("jar size")
    for bucket in planned:
        if bucket.usable.mg < 0:
            raise NumberImpossible(
                bucket.id,
                "what may be filled",
                Figure(show_metric, bucket.usable),
                "it cannot be below nothing",
            )
    return planned, left_out


def _check_size(size: JarSize, currency: str) -> None:
    whole = (
        ("at_least", size.at_least, 0),
        ("in_stock", size.in_stock, 0),
        ("at_most", size.at_most, 0),
        ("case", size.case, 1),
        ("reserve", size.reserve, 0),
        ("buy_pack", size.buy_pack, 1),
    )
    for field, given, least in whole:
        if given is not None and given < least:
            raise NumberImpossible(size.id, field, str(given), f"it must be at least {least}")
    if size.fill.mg <= 0:
        raise NumberImpossible(size.id, "the fill", Figure(show_metric, size.fill), "it must be more than nothing")
    for money in (size.price, size.cost, *(step.price for step in size.steps)):
        if money.currency != currency:
            raise CurrenciesMixed(currency, money.currency)
    before, after = size.price, 0
    for step in size.steps:
        if step.after <= after:
            raise NumberImpossible(size.id, "a price step", f"after {step.after} jars", f"it must come after {after}")
        if before < step.price:
            raise PriceRises(size.id, Figure(before.show), Figure(step.price.show))
        before, after = step.price, step.after
    if size.at_most is not None and size.at_least > size.at_most:
        raise AtLeastAboveAtMost(size.id, size.at_least, size.at_most)
    needed = size.at_least + size.reserve
    if size.in_stock is not None and needed > size.in_stock and not size.may_buy:
        raise AtLeastAboveStock(size.id, needed, size.in_stock)


def may_fill(size: JarSize, bucket: PlanBucket) -> bool:
    """Whether this jar may be filled from this bucket by its tags."""
    return size.only_from <= bucket.tags


def item_of(size: JarSize, rooms: list[Mass]) -> Item:
    """The jar size as the search sees it, with these rooms to be filled from; or the refusal that it cannot be."""
    needed = size.at_least + size.reserve
    possible = sum(room // size.fill for room in rooms)
    limits = [size.at_most + size.reserve] if size.at_most is not None else []
    if size.in_stock is not None and not size.may_buy:
        limits.append(size.in_stock)
    floor = -(-needed // size.case) * size.case
    if limits and floor > min(limits):
        raise CaseDoesNotFit(size.id, size.case, needed, min(limits))
    if floor > possible:
        largest = max(rooms, default=Mass(0))
        if largest < size.fill:
            raise JarFitsNoBucket(
                size.id,
                floor,
                Figure(show_metric, size.fill),
                Figure(show_metric, largest),
                Figure(show_metric, size.fill - largest),
            )
        raise AtLeastAboveHoney(size.id, floor, possible, Figure(show_metric, size.fill * (floor - possible)))
    most = min([*limits, possible]) // size.case * size.case
    base, segments = _segments(size, floor, max(floor, most))
    return Item(size.fill.mg, floor, floor + sum(length for length, _ in segments), size.case, base, segments)


def _segments(size: JarSize, floor: int, most: int) -> tuple[int, tuple[tuple[int, int], ...]]:
    """What the floor is worth together, and the falling worth of each jar beyond it.

    A jar that brings nothing is filled only where it was asked for, or to make a case whole; one that has no price and
    no cost yet may be filled, since nobody has said that it brings nothing.
    """
    ends = [size.reserve, *(step.after + size.reserve for step in size.steps), most]
    each = [-size.cost.minor, *(p.minor - size.cost.minor for p in (size.price, *(step.price for step in size.steps)))]
    base, at, runs = 0, 0, []
    for end, value in zip(ends, each, strict=True):
        end = min(end, most)
        base += value * max(0, min(end, floor) - at)
        if end > max(at, floor):
            runs.append((end - max(at, floor), value))
        at = max(at, end)
    unsaid = not (size.price.minor or size.cost.minor or size.steps)
    earning = sum(length for length, value in runs if value > 0 or unsaid)
    left = -(-(floor + earning) // size.case) * size.case - floor
    segments = []
    for length, value in runs:
        taken = min(length, left)
        left -= taken
        if taken:
            segments.append((taken, value))
    return base, tuple(segments)


def _kept(keep: Keep, buckets: tuple[PlanBucket, ...]) -> Item:
    largest = max(bucket.usable for bucket in buckets)
    if largest < keep.mass:
        raise KeepTooMuch(
            keep.id,
            Figure(show_metric, keep.mass),
            Figure(show_metric, largest),
            Figure(show_metric, keep.mass - largest),
        )
    return Item(keep.mass.mg, 1, 1)


def _bin(bucket: PlanBucket, request: PlanRequest, items: list[Item]) -> Bin:
    allowed = tuple(may_fill(size, bucket) for size in request.sizes) + (True,) * len(request.keep)
    fitting = [
        item.weight
        for item, size, ok in zip(items, request.sizes, allowed, strict=False)
        if ok and item.weight <= bucket.usable.mg and size.price.minor > size.cost.minor
    ]
    least = bucket.usable.mg - min(fitting) + 1 if bucket.use_first and fitting else 0
    return Bin(bucket.usable.mg, least, allowed)
