"""Treat: honey skimmed, dried, warmed, or stirred in its bucket, with seed or without."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors import unless_said
from labelkit.errors.lots import DryingDoesNotBalance, DryingUnclear, SeedUnclear, SkimUnclear, WeighsMoreAfter
from labelkit.errors.record import JarsTooFew
from labelkit.honey.blend import Mixed, dry
from labelkit.lots.bucket import Bucket, Opened, Part, check_moisture
from labelkit.lots.bucket_life import DRIED, SKIMMED, STIRRED, WARMED, Treated
from labelkit.lots.movement import Account
from labelkit.measures import NOTHING, Mass, show_both, total
from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.record.lookup import find_lot
from labelkit.season.batch import offset_of, refractometer_checks
from labelkit.season.fills import in_current_fill
from labelkit.season.measure import (
    NOT_WEIGHED,
    SCALE_STEPS,
    Happened,
    Measuring,
    Weighed,
    booked,
    measure,
    step_before,
    what_stays,
)
from labelkit.trace.follow import Start
from labelkit.trace.recall import lines_of

if TYPE_CHECKING:
    from labelkit.record.work import Work

# Two readings of a hand refractometer, each good to 0.2 % water (from memory), and the two steps of the scale.
REFRACTOMETER = Decimal("0.2")


@dataclass(frozen=True, slots=True)
class Skimming:
    """Foam and wax taken off: their weight, or what the bucket weighs afterwards."""

    bucket: str
    removed: Mass | None = None
    after: Weighed = NOT_WEIGHED
    because: str = ""


@dataclass(frozen=True, slots=True)
class Drying:
    """Water taken out: weights and moistures before and after, as far as they were measured; warmth in °C and hours."""

    bucket: str
    before: Mass | None = None
    after: Mass | None = None
    moisture_before: Decimal | None = None
    moisture_after: Decimal | None = None
    hottest_c: Decimal | None = None
    hours: Decimal | None = None
    instrument: str = ""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Warming:
    """The highest temperature the honey itself reached, in °C, and for how many hours it was warm."""

    bucket: str
    hottest_c: Decimal
    hours: Decimal
    because: str = ""


@dataclass(frozen=True, slots=True)
class Stirring:
    """Stirred; with ``seed``, so much of that bucket's crystallised honey went in: all of it where no mass is said.

    With ``jars`` the seed is a lot, and so many of its jars were emptied into the bucket.
    """

    bucket: str
    seed: str | None = None
    seed_mass: Mass | None = None
    because: str = ""
    jars: Mapping[str, int] | None = None


def skim(work: Work, asked: Skimming, day: date, locale: str) -> Happened[Treated]:
    """Book what was skimmed off as a loss that has a name.

    Raises :class:`~labelkit.errors.lots.SkimUnclear` and :class:`~labelkit.errors.lots.WeighsMoreAfter`.
    """
    asked = in_current_fill(work, asked)
    if again := step_before(work, Treated, asked.bucket):
        return again
    after, _ = asked.after.honey(asked.bucket, locale)
    if (after is None) == (asked.removed is None):
        raise SkimUnclear(asked.bucket)
    held = work.bucket(asked.bucket).holds
    if after is None:
        after = what_stays(asked.bucket, held, asked.removed or NOTHING, locale)
    step = Treated(
        asked.bucket, day, held, SKIMMED, after, because=asked.because, after_was_weighed=asked.removed is None
    )
    return _treated(work, step, locale)


def dry_out(work: Work, asked: Drying, day: date, locale: str) -> Happened[Treated]:
    """Book the water that went: from the weights, or from the moistures, or checked where both are known.

    Raises :class:`~labelkit.errors.lots.DryingUnclear`, :class:`~labelkit.errors.lots.WeighsMoreAfter`,
    :class:`~labelkit.errors.honey.DryingAddsWater` and, unless ``because`` says why,
    :class:`~labelkit.errors.lots.DryingDoesNotBalance`.
    """
    asked = in_current_fill(work, asked)
    if again := step_before(work, Treated, asked.bucket):
        return again
    if asked.before is not None or asked.moisture_before is not None:
        measure(
            work,
            Measuring(asked.bucket, Weighed(asked.before), asked.moisture_before, asked.instrument, asked.because),
            day,
            locale,
        )
    bucket = work.bucket(asked.bucket)
    if asked.moisture_after is not None:
        offset = offset_of(refractometer_checks(work), asked.instrument, day)
        asked = replace(asked, moisture_after=asked.moisture_after - offset)
    check_moisture(asked.bucket, asked.moisture_after)
    after, moisture = _dried(bucket, asked, locale)
    step = Treated(
        asked.bucket,
        day,
        bucket.holds,
        DRIED,
        after,
        moisture,
        asked.hottest_c,
        asked.hours,
        because=asked.because,
        after_was_weighed=asked.after is not None,
    )
    return _treated(work, step, locale)


def _dried(bucket: Bucket, asked: Drying, locale: str) -> tuple[Mass, Decimal | None]:
    """What is left and how moist it is, each as measured, else by the solids, which stay what they are."""
    known = Mixed(bucket.holds, bucket.moisture) if bucket.moisture is not None and bucket.moisture_is_whole else None
    if asked.after is None:
        if asked.moisture_after is None or known is None:
            raise DryingUnclear(bucket.id)
        return dry(known, asked.moisture_after).mass, asked.moisture_after
    if asked.after > bucket.holds:
        raise WeighsMoreAfter(bucket.id, show_both(bucket.holds, locale), show_both(asked.after, locale))
    if known is None:
        return asked.after, asked.moisture_after
    solids = known.mass.mg * (100 - known.moisture)
    if asked.moisture_after is None:
        left = to_step(100 - solids / asked.after.mg, Decimal("0.01"), HALF_UP)
        check_moisture(bucket.id, left)
        return asked.after, left
    expected = dry(known, asked.moisture_after).mass
    step = known.mass.times(2 * REFRACTOMETER / (100 - asked.moisture_after)) + SCALE_STEPS
    if abs((expected - asked.after).mg) > step.mg:
        figures = (plain(asked.moisture_after), show_both(expected, locale), show_both(asked.after, locale))
        unless_said(asked.because, DryingDoesNotBalance(bucket.id, *figures))
    return asked.after, asked.moisture_after


def warm(work: Work, asked: Warming, day: date, locale: str) -> Happened[Treated]:
    """Book that the honey was warmed: its lots remember the highest temperature and the hours."""
    asked = in_current_fill(work, asked)
    if again := step_before(work, Treated, asked.bucket):
        return again
    held = work.bucket(asked.bucket).holds
    step = Treated(
        asked.bucket, day, held, WARMED, held, hottest_c=asked.hottest_c, hours=asked.hours, because=asked.because
    )
    return _treated(work, step, locale)


def stir(work: Work, asked: Stirring, day: date, locale: str) -> Happened[Treated]:
    """Book that the honey was stirred; seed becomes part of it, and its bucket or lot a parent.

    Raises :class:`~labelkit.errors.lots.SeedFromItself`, :class:`~labelkit.errors.lots.BucketTooEmpty`, and for seed from
    jars :class:`~labelkit.errors.record.JarsTooFew` and :class:`~labelkit.errors.lots.SeedUnclear`.
    """
    asked = in_current_fill(work, asked)
    if again := step_before(work, Treated, asked.bucket):
        return again
    held = work.bucket(asked.bucket).holds
    seed, opened = _seed(work, asked)
    after = held + (seed.mass if seed else NOTHING)
    step = Treated(asked.bucket, day, held, STIRRED, after, seed=seed, because=asked.because, opened=opened)
    return _treated(work, step, locale)


def _seed(work: Work, asked: Stirring) -> tuple[Part | None, tuple[Opened, ...]]:
    """What was stirred in: out of a bucket, or out of opened jars of a lot."""
    if not asked.seed:
        return None, ()
    name = work.fill(asked.seed)
    start = find_lot(work, asked.seed) if asked.jars or work.bottled(name) else Start("bucket", name, (name,))
    if (start.what == "lot") != bool(asked.jars) or (asked.jars and asked.seed_mass):
        raise SeedUnclear(start.name, start.what)
    if not asked.jars:
        there = work.bucket(start.name)
        seed = Part(there.id, asked.seed_mass or there.holds)
        there.without(seed.mass)
        return seed, ()
    here = {jar.size: jar for jar in work.stock(Account.JARS, lots=start.lots)}
    opened = []
    for size, count in asked.jars.items():
        there_are = here[size].count if size in here else 0
        if there_are < count:
            raise JarsTooFew(start.name, size, count - there_are, "in stock", 0)
        lines = lines_of(start.name, size, count, there_are, here[size].mass)
        opened.append(Opened(size, count, total(line.count * line.fill for line in lines)))
    return Part(start.name, total(jar.mass for jar in opened)), tuple(opened)


def seed_share(done: Happened[Treated]) -> Decimal | None:
    """How much of the bucket is seed now, in per cent to one decimal, half up; None without seed."""
    step = done.step
    if step.seed is None:
        return None
    return to_step(Decimal(100 * step.seed.mass.mg) / step.after.mg, Decimal("0.1"), HALF_UP)


def _treated(work: Work, step: Treated, locale: str) -> Happened[Treated]:
    if step.gone < NOTHING:
        raise WeighsMoreAfter(step.bucket, show_both(step.held, locale), show_both(step.after, locale))
    return booked(work, step)
