"""A plan that was chosen and kept: what it wished for, what it reckoned with, and what each bucket is to fill."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.measures import NOTHING, Declared, Mass, Money, total
from labelkit.plan.outcome import BlendPlan, BucketPlan, JarPlan, Kept
from labelkit.plan.request import JarSize, PlanRequest
from labelkit.plan.wishes import Planning


@dataclass(frozen=True, slots=True)
class JarCount:
    """So many jars of one size."""

    size: str
    count: int


@dataclass(frozen=True, slots=True)
class KeptSize:
    """A jar size as the plan reckoned with it: what a jar takes, brings and costs."""

    size: str
    declares: Declared
    fill: Mass
    price: Money
    cost: Money


@dataclass(frozen=True, slots=True)
class KeptBucket:
    """What one bucket had for jars when the plan was kept, and what it is to fill."""

    bucket: str
    usable: Mass
    jars: tuple[JarCount, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptPart:
    """So much of one bucket: of a blend of remainders, or kept unbottled under a name."""

    bucket: str
    mass: Mass
    name: str = ""


@dataclass(frozen=True, slots=True)
class KeptBlend:
    """Remainders that are joined, and what they are to fill."""

    id: str
    parts: tuple[KeptPart, ...]
    jars: tuple[JarCount, ...]
    gain: Money
    hives: int = 0


@dataclass(frozen=True, slots=True)
class PlanKept(Event):
    """The plan that is followed from here on, until another one is kept. The figures are those of the day it was kept."""

    kind: ClassVar[str] = "plan"
    title: ClassVar[str] = "plan kept"
    voidable: ClassVar[bool] = True
    day: date
    wishes: Planning
    sizes: tuple[KeptSize, ...]
    buckets: tuple[KeptBucket, ...]
    status: str
    value: Money
    bound: Money
    keep: tuple[KeptPart, ...] = ()
    blends: tuple[KeptBlend, ...] = ()

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        jars = ", ".join(f"{count} × {size}" for size, count in self.plan.jars.items() if count)
        return f"{jars}, {self.value.show(locale)}"

    @property
    def plan(self) -> JarPlan:
        """The plan as it was kept."""
        fill = {size.size: size.fill for size in self.sizes}
        buckets = tuple(_planned(each, fill) for each in self.buckets)
        blends = tuple(_joined(each, fill) for each in self.blends)
        filled: tuple[BucketPlan | BlendPlan, ...] = (*buckets, *blends)
        jars = {name: sum(each.jars.get(name, 0) for each in filled) for name in fill}
        kept = tuple(Kept(part.name, part.bucket, part.mass) for part in self.keep)
        return JarPlan(self.status, self.value, self.bound, jars, buckets, kept=kept, blends=blends)


def kept_plan(day: date, wishes: Planning, request: PlanRequest, plan: JarPlan) -> PlanKept:
    """The event that keeps a plan of a request.

    >>> from labelkit.plan import JarSize, PlanBucket, jar_plan
    >>> usd = lambda amount: Money.of(amount, "USD")
    >>> kilo = JarSize("kilo", Declared.of_grams(1000), Mass.of_grams(1000), usd("20"), usd("2"))
    >>> request = PlanRequest((PlanBucket("B1", Mass.of_grams(3500)),), (kilo,), "USD")
    >>> plan = jar_plan(request)
    >>> kept = kept_plan(date(2026, 7, 14), Planning(), request, plan)
    >>> kept.describe("en_US"), kept.plan.buckets == plan.buckets
    ('3 × kilo, $54.00', True)
    """
    return PlanKept(
        day,
        wishes,
        tuple(_size(size) for size in request.sizes),
        tuple(KeptBucket(each.id, each.usable, _counts(each.jars)) for each in plan.buckets),
        plan.status,
        plan.value,
        plan.bound,
        tuple(KeptPart(part.bucket, part.mass, part.id) for part in plan.kept),
        tuple(
            KeptBlend(b.id, tuple(KeptPart(*part) for part in b.parts), _counts(b.jars), b.gain, b.hives)
            for b in plan.blends
        ),
    )


def _size(size: JarSize) -> KeptSize:
    return KeptSize(size.id, size.declares, size.fill, size.price, size.cost)


def _counts(jars: Mapping[str, int]) -> tuple[JarCount, ...]:
    return tuple(JarCount(name, count) for name, count in jars.items() if count)


def _filled(jars: Iterable[JarCount], fill: Mapping[str, Mass]) -> Mass:
    return total(fill[each.size] * each.count for each in jars)


def _planned(each: KeptBucket, fill: Mapping[str, Mass]) -> BucketPlan:
    filled = _filled(each.jars, fill)
    return BucketPlan(
        each.bucket, each.usable, {jar.size: jar.count for jar in each.jars}, filled, each.usable - filled
    )


def _joined(each: KeptBlend, fill: Mapping[str, Mass]) -> BlendPlan:
    filled, parts = _filled(each.jars, fill), tuple((part.bucket, part.mass) for part in each.parts)
    left = sum((mass for _, mass in parts), NOTHING) - filled
    return BlendPlan(each.id, parts, {jar.size: jar.count for jar in each.jars}, filled, left, each.gain, each.hives)
