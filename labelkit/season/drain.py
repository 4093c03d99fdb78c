"""Drain: cappings honey that is added to its bucket days after the bucket was weighed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors import unless_said
from labelkit.errors.lots import DrainUnlikely
from labelkit.lots.bucket import Blend, Drain
from labelkit.lots.intake import Intake
from labelkit.lots.intake import drain as drained
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import CameIn
from labelkit.season.batch import put_right, refractometer_checks
from labelkit.season.due import CAPPINGS_TO
from labelkit.season.fills import in_current_fill

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.measures import Mass
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Drained:
    """The bucket as it stands with what was added to it."""

    bucket: Bucket
    added: Mass


def drain(work: Work, asked: Intake, day: date, locale: str) -> Drained:
    """Book what drained, as an event of its own day.

    Raises :class:`~labelkit.errors.lots.DrainUnlikely` long after the bucket's own honey or into an emptied bucket,
    :class:`~labelkit.errors.lots.BucketUnknown`, and what a weighing refuses; see :func:`labelkit.season.weigh.weigh`.
    """
    asked = in_current_fill(work, asked)
    bucket = work.bucket(asked.bucket)
    event = put_right(refractometer_checks(work), drained(asked, day, bucket.harvested, locale=locale))
    check_plausible(event, locale)
    _ask_where_it_cannot_be(bucket, event)
    work.add(event)
    return Drained(work.bucket(asked.bucket), event.net)


def _ask_where_it_cannot_be(bucket: Bucket, event: Drain) -> None:
    """Ask about cappings honey that comes long after its bucket's own, or when that is gone: it may be another harvest."""
    came = [each.day for each in bucket.history if isinstance(each, CameIn | Blend)]
    if bucket.is_empty:
        unless_said(event.because, DrainUnlikely(event.bucket, "the bucket is empty"))
    elif came and event.day - max(came) > CAPPINGS_TO:
        days = (event.day - max(came)).days
        unless_said(event.because, DrainUnlikely(event.bucket, f"honey last came into it {days} days earlier"))
