"""Made-up seasons for the plan's tests and bench: drawn from a number, the same every time."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from decimal import Decimal

from labelkit.measures import Declared, Mass, Money
from labelkit.plan import Goal, JarSize, Keep, PlanBucket, PlanRequest, Step

GRAMS = (29_000, 57_000, 113_000, 227_000, 340_000, 454_000, 907_000, 2_268_000)
OUNCES = (28_349, 56_699, 113_398, 226_796, 340_194, 453_592, 907_184, 2_267_961)
PRICES = (250, 380, 620, 1100, 1500, 1850, 3400, 7600)
COSTS = (60, 65, 75, 90, 100, 115, 160, 320)


@dataclass(frozen=True)
class Draw:
    """What to draw: so many buckets and sizes, fills in whole grams, ounces, some of either, or any milligrams."""

    number: int
    buckets: int
    sizes: int = 8
    fills: str = "ounces"
    limits: str = "stock"  # none, stock, floors, cases or steps


def season(draw: Draw) -> PlanRequest:
    """Buckets of 15 to 29 kg; prices within a tenth of a list; jars in stock for 1.3 times the honey, unevenly."""
    chance = random.Random(repr(draw))
    fills = _fills(draw.fills, chance)
    step = 1 if draw.fills == "any" else 1000
    buckets = tuple(
        PlanBucket(f"B{n}", Mass(chance.randrange(15_000_000, 29_000_001, step))) for n in range(1, draw.buckets + 1)
    )
    honey = sum(bucket.usable.mg for bucket in buckets)
    parts = [chance.uniform(0.4, 2.2) for _ in range(draw.sizes)]
    sizes = []
    for i, part in zip(sorted(chance.sample(range(8), draw.sizes)), parts, strict=True):
        price = round(PRICES[i] * chance.uniform(0.9, 1.1))
        stock = int(1.3 * honey * part / sum(parts) / fills[i])
        limits = {} if draw.limits == "none" else {"in_stock": stock}
        if draw.limits == "floors":
            limits["at_least"] = min(stock, int(honey * chance.uniform(0, 0.4) / draw.sizes / fills[i]))
        if draw.limits == "cases":
            limits["case"] = chance.choice((1, 6, 12))
        if draw.limits == "steps":
            limits = {"steps": _steps(stock, price)}
        sizes.append(
            JarSize(
                f"jar {i + 1}",
                Declared.read("1 lb", "en_US"),
                Mass(fills[i]),
                Money(price, "USD"),
                Money(COSTS[i], "USD"),
                **limits,
            )
        )
    return PlanRequest(buckets, tuple(sizes), "USD")


def _fills(kind: str, chance: random.Random) -> tuple[int, ...]:
    if kind in ("grams", "ounces"):
        return GRAMS if kind == "grams" else OUNCES
    odd = tuple(round(g * chance.uniform(0.97, 1.03)) for g in GRAMS)
    if kind == "any":
        return odd
    return tuple(chance.choice((round(g, -3), oz)) for g, oz in zip(odd, OUNCES, strict=True))


def _steps(stock: int, price: int) -> tuple[Step, ...]:
    """The price falls after three, six and nine tenths of what the honey would fill."""
    falls = {
        int(stock * part): Money(int(price * rest), "USD") for part, rest in ((0.3, 0.93), (0.6, 0.85), (0.9, 0.7))
    }
    return tuple(Step(after, each) for after, each in falls.items() if after)


WISHES = ("none", "kept honey", "tags", "first used", "mix", "least left", "one size first")
TAGS = ("heather", "clover", "lime")


def wished(request: PlanRequest, wish: str) -> PlanRequest:
    """The season with one wish more: honey kept, a size for one honey only, every tenth bucket first, or another goal."""
    sizes, buckets = request.sizes, request.buckets
    if wish == "kept honey":
        return replace(request, keep=(Keep("winter", Mass(9_000_000)), Keep("show", Mass(300_000))))
    if wish == "tags":
        tagged = tuple(replace(bucket, tags=frozenset({TAGS[i % 3]})) for i, bucket in enumerate(buckets))
        only = replace(sizes[len(sizes) // 2], only_from=frozenset(TAGS[:1]))
        return replace(request, buckets=tagged, sizes=tuple(only if s.id == only.id else s for s in sizes))
    if wish == "first used":
        return replace(request, buckets=tuple(replace(b, use_first=i % 10 == 0) for i, b in enumerate(buckets)))
    if wish == "mix":
        mix = tuple((size.id, Decimal(1 + i % 3)) for i, size in enumerate(sizes))
        return replace(request, goal=Goal.MIX, mix=mix)
    if wish == "least left":
        return replace(request, goal=Goal.LEAST_LEFT)
    if wish == "one size first":
        return replace(request, goal=Goal.SIZE_FIRST, first=sizes[len(sizes) // 2].id)
    return request
