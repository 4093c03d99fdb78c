"""Measure: a bucket weighed again, its moisture measured later or again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Generic, TypeVar

from labelkit.errors import unless_said
from labelkit.errors.lots import BucketTooEmpty, NothingMeasured, WeighedFarFromRecord
from labelkit.lots.bucket import Bucket, BucketStep, Weighing, check_moisture, net_of
from labelkit.lots.bucket_life import Measured
from labelkit.measures import Mass, show_both
from labelkit.season.batch import put_right, refractometer_checks
from labelkit.season.fills import in_current_fill
from labelkit.season.once import booked_once

if TYPE_CHECKING:
    from labelkit.record.work import Work

Step = TypeVar("Step", bound=BucketStep)
# A bucket weighed twice differs by two steps of its scale and by what clings; more is looked into: common practice, no
# source. Lighter than by a tenth, or heavier than by two hundredths, is taken for a slip and asked about.
SCALE_STEPS = Mass.of_grams(50)
LIGHTER_ASKED, HEAVIER_ASKED = Decimal("0.10"), Decimal("0.02")


@dataclass(frozen=True, slots=True)
class Weighed:
    """What the scale showed: the honey alone, or gross and tare; nothing where nobody weighed."""

    net: Mass | None = None
    gross: Mass | None = None
    tare: Mass | None = None
    division: Mass | None = None

    def honey(self, bucket: str, locale: str) -> tuple[Mass | None, Weighing | None]:
        """The honey alone and the weighing behind it. Raises what a weighing refuses."""
        if self.net is None and self.gross is None and self.tare is None:
            return None, None
        return net_of(bucket, self.net, self.gross, self.tare, self.division, locale=locale)


NOT_WEIGHED = Weighed()


@dataclass(frozen=True, slots=True)
class Measuring:
    """A bucket weighed again, its moisture (per cent by mass) measured with an instrument, or both."""

    bucket: str
    weighed: Weighed = NOT_WEIGHED
    moisture: Decimal | None = None
    instrument: str = ""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Happened(Generic[Step]):
    """The step as it was booked, the number of its event, and the bucket as it stands then."""

    step: Step
    event: int
    bucket: Bucket


def measure(work: Work, asked: Measuring, day: date, locale: str) -> Happened[Measured]:
    """Book what was measured; the difference to the record stands in an account of its own.

    Raises :class:`~labelkit.errors.lots.NothingMeasured`, :class:`~labelkit.errors.lots.WeighedFarFromRecord` unless
    ``because`` says why, and what a weighing refuses. ``locale`` is how a refusal writes figures, here and below.
    """
    asked = in_current_fill(work, asked)
    if again := step_before(work, Measured, asked.bucket):
        return again
    net, weighing = asked.weighed.honey(asked.bucket, locale)
    if net is None and asked.moisture is None:
        raise NothingMeasured(asked.bucket)
    check_moisture(asked.bucket, asked.moisture)
    held = work.as_of(day).bucket(asked.bucket).holds  # of its day: what was filled later was not weighed
    if net is not None:
        _ask_about_weight(asked.bucket, held, net, asked.because, locale)
    step = Measured(asked.bucket, day, held, net, weighing, asked.moisture, asked.instrument, asked.because)
    return booked(work, put_right(refractometer_checks(work), step, asked.instrument))


def _ask_about_weight(bucket: str, held: Mass, net: Mass, because: str, locale: str) -> None:
    usual = held.times(HEAVIER_ASKED if net > held else LIGHTER_ASKED)
    if Mass(abs((net - held).mg)) > max(usual, SCALE_STEPS):
        unless_said(because, WeighedFarFromRecord(bucket, show_both(net, locale), show_both(held, locale)))


def what_stays(bucket: str, held: Mass, mass: Mass, locale: str) -> Mass:
    if not mass or mass > held:
        figures = (show_both(mass, locale), show_both(held, locale), show_both(mass - held, locale))
        raise BucketTooEmpty(bucket, *figures)
    return held - mass


def booked(work: Work, step: Step) -> Happened[Step]:
    seq = work.add(step).seq
    return Happened(step, seq, work.bucket(step.bucket))


def step_before(work: Work, kind: type[Step], bucket: str) -> Happened[Step] | None:
    """What an earlier step under this key booked."""
    before = booked_once(work, kind.kind, lambda step: step.bucket == bucket)
    return Happened(before.event, before.seq, work.bucket(bucket)) if before else None
