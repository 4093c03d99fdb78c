"""The jar plan: what fills what, what it brings, and how sure it is that nothing brings more."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from labelkit.measures import Mass, Money
from labelkit.measures.rounding import UP, plain, to_step

PROVED = "proved"
NOT_PROVED = "not proved"
GAP_STEP = Decimal("0.000000001")


@dataclass(frozen=True, slots=True)
class BucketPlan:
    """What one bucket fills. ``filled`` and ``left`` add up to ``usable``."""

    id: str
    usable: Mass
    jars: dict[str, int]
    filled: Mass
    left: Mass


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A bucket that was not planned with, and why; ``wet`` ones are taken in where that is wished."""

    bucket: str
    reason: str
    wet: bool = True


@dataclass(frozen=True, slots=True)
class Kept:
    """Honey that stays unbottled on purpose, and the bucket it stays in."""

    id: str
    bucket: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class BlendPlan:
    """Tails of several buckets joined into a lot of its own, with what that gains and costs."""

    id: str
    parts: tuple[tuple[str, Mass], ...]
    jars: dict[str, int]
    filled: Mass
    left: Mass
    gain: Money
    hives: int  # hives a recall of this lot would reach, where they are known


@dataclass(frozen=True, slots=True)
class Stage:
    """One goal after another: what was reached, and what nothing can exceed, in the goal's own whole unit."""

    goal: str
    unit: str
    reached: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether nothing better exists."""
        return self.reached == self.bound


@dataclass(frozen=True, slots=True)
class JarPlan:
    """A jar plan that has been recounted with integers alone.

    ``value`` is the sum of price less cost over the jars filled, ``bound`` what no plan of this request can exceed. They
    are equal when and only when the plan is ``proved``.
    """

    status: str
    value: Money
    bound: Money
    jars: dict[str, int]
    buckets: tuple[BucketPlan, ...]
    to_buy: dict[str, int] = field(default_factory=dict)
    kept: tuple[Kept, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    blends: tuple[BlendPlan, ...] = ()
    stages: tuple[Stage, ...] = ()

    @property
    def proved(self) -> bool:
        """Whether it is certain that no plan brings more."""
        return self.status == PROVED

    @property
    def gap(self) -> Decimal:
        """How far the value may be below the best, as a share of the bound, rounded up; 0 when proved.

        >>> usd = lambda amount: Money.of(amount, "USD")
        >>> JarPlan(NOT_PROVED, usd("99.99"), usd("100.00"), {}, ()).gap
        Decimal('0.0001')
        """
        missing = self.bound.minor - self.value.minor
        if not missing:
            return Decimal(0)
        share = to_step(Decimal(missing) / abs(self.bound.minor or 1), GAP_STEP, UP)
        return Decimal(plain(share))

    @property
    def left(self) -> Mass:
        """What is left in all the planned buckets together."""
        return sum((bucket.left for bucket in self.buckets), Mass(0))

    def as_dict(self) -> dict[str, Any]:
        """The plan as the command contract spells it; what the request did not touch is left away."""
        document: dict[str, Any] = {
            "status": self.status,
            "value": str(self.value.amount),
            "bound": str(self.bound.amount),
            "gap": self.gap,
            "jars": self.jars,
            "buckets": [
                {"id": b.id, "usable_g": b.usable.g, "jars": b.jars, "filled_g": b.filled.g, "left_g": b.left.g}
                for b in self.buckets
            ],
        }
        if self.to_buy:
            document["to_buy"] = self.to_buy
        if self.kept:
            document["kept"] = [{"id": k.id, "bucket": k.bucket, "g": k.mass.g} for k in self.kept]
        if self.left_out:
            document["left_out"] = [{"bucket": out.bucket, "reason": out.reason} for out in self.left_out]
        if self.blends:
            document["blends"] = [
                {
                    "id": blend.id,
                    "parts": [{"bucket": name, "g": mass.g} for name, mass in blend.parts],
                    "jars": blend.jars,
                    "filled_g": blend.filled.g,
                    "left_g": blend.left.g,
                    "gain": str(blend.gain.amount),
                    "hives": blend.hives,
                }
                for blend in self.blends
            ]
        if len(self.stages) > 1:
            document["stages"] = [
                {"goal": s.goal, "unit": s.unit, "reached": s.reached, "bound": s.bound} for s in self.stages
            ]
        return document
