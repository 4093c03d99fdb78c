"""Warming: which bucket goes into the warming cabinet when, for a filling day; and what seed a set honey wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors.record import NothingToWarm
from labelkit.errors.sentence import Figure, Sentence
from labelkit.honey.set_honey import (
    BEST_WATER,
    CLEAR,
    LIQUID,
    SETS_AT_C,
    SETS_DAYS,
    WarmingHours,
    seed_for,
    warming_hours,
)
from labelkit.honey.warmth import HeatBudget, hmf_added
from labelkit.honey.warmth import Warming as WarmFor
from labelkit.measures import Mass
from labelkit.measures.locales import show_number
from labelkit.paper.calendar import Appointment

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.record.reading import Reading

DAY_HOURS = 24


@dataclass(frozen=True, slots=True)
class WarmingAsked:
    """Buckets to warm for a filling day (all with honey in them, unless named), until ``clear`` or ``soft``.

    ``seed_percent`` seeds the honey on the filling day, a share of the ``liquid`` or of the ``whole``.
    """

    fill_on: date
    buckets: tuple[str, ...] = ()
    until: str = CLEAR
    hardness: str = "usual"
    seed_percent: Decimal | None = None
    seed_of: str = LIQUID


@dataclass(frozen=True, slots=True)
class BucketWarmed:
    """One bucket: when it goes in, how long and how warm, what that costs, what seed it wants, and what to mind."""

    bucket: str
    holds: Mass
    goes_in: date
    warm: WarmingHours
    hmf: HeatBudget
    seed: Mass | None
    notes: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class WarmingPlan:
    """Every bucket in the order they go in; ``set_on`` is when seeded honey has set."""

    asked: WarmingAsked
    buckets: tuple[BucketWarmed, ...]
    set_on: date | None


def warming(state: Reading, asked: WarmingAsked) -> WarmingPlan:
    """Reckon the calendar; nothing is booked.

    Raises :class:`~labelkit.errors.record.NothingToWarm` and :class:`~labelkit.errors.lots.BucketUnknown`.
    """
    named = [state.bucket(state.fill(name)) for name in asked.buckets]
    found = [bucket for bucket in (named or state.buckets(full=True)) if not bucket.is_empty]
    if not found:
        raise NothingToWarm()
    warmed = sorted((_warmed(bucket, asked) for bucket in found), key=lambda one: (one.goes_in, one.bucket))
    seeded = asked.seed_percent is not None
    return WarmingPlan(asked, tuple(warmed), asked.fill_on + timedelta(days=SETS_DAYS) if seeded else None)


def _warmed(bucket: Bucket, asked: WarmingAsked) -> BucketWarmed:
    warm = warming_hours(bucket.holds, asked.until, asked.hardness)
    seen = [WarmFor(bucket.hottest_c, bucket.warm_hours)] if bucket.hottest_c is not None and bucket.warm_hours else []
    return BucketWarmed(
        bucket.id,
        bucket.holds,
        asked.fill_on - timedelta(days=-(-warm.hours // DAY_HOURS)),
        warm,
        hmf_added([*seen, WarmFor(warm.temperature_c, Decimal(warm.hours))]),
        seed_for(bucket.holds, asked.seed_percent, asked.seed_of) if asked.seed_percent is not None else None,
        tuple(_notes(bucket, asked, seen)),
    )


def _notes(bucket: Bucket, asked: WarmingAsked, seen: Sequence[WarmFor]) -> list[Sentence]:
    notes = []
    if seen:
        facts = {"warmth": Figure(show_number, seen[0].temperature), "hours": Figure(show_number, seen[0].hours)}
        notes.append(Sentence("It was warm before ({warmth} °C, {hours} h in all); that is counted in.", **facts))
    if asked.seed_percent is not None and bucket.moisture is None:
        notes.append(Sentence("Measure its moisture: seeded honey that is too wet ferments."))
    elif asked.seed_percent is not None and bucket.moisture is not None:
        low, high = BEST_WATER
        if bucket.moisture > high:
            notes.append(
                Sentence(
                    "It has more than {percent} % water: it sets soft and may ferment.",
                    percent=Figure(show_number, high),
                )
            )
        elif bucket.moisture < low:
            notes.append(
                Sentence("It has less than {percent} % water: it sets hard.", percent=Figure(show_number, low))
            )
    return notes


def appointments(plan: WarmingPlan) -> tuple[Appointment, ...]:
    """The days of the plan as entries of a calendar."""
    asked = plan.asked
    text = "Note what it reached: labelkit bucket warm. Hot honey burns; lift full buckets with two people."
    entries = [
        Appointment(
            f"warm|{one.bucket}|{asked.fill_on}",
            one.goes_in,
            str(
                Sentence(
                    "Warm bucket {name}: {hours} hours at {warmth} °C.",
                    name=one.bucket,
                    hours=one.warm.hours,
                    warmth=one.warm.temperature_c,
                )
            ),
            text,
        )
        for one in plan.buckets
    ]
    if plan.set_on is None:
        return tuple(entries)
    seeding = f"Stir in the seed, book it (labelkit bucket stir), fill, and keep the jars at {SETS_AT_C} °C."
    return (
        *entries,
        Appointment(f"seed|{asked.fill_on}", asked.fill_on, "Seed the honey and fill it.", seeding),
        Appointment(f"set|{asked.fill_on}", plan.set_on, "The seeded honey should have set: look.", "Common practice."),
    )
