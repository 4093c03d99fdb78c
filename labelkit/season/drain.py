"""Drain: cappings honey that is added to its bucket days after the bucket was weighed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.lots.intake import Intake
from labelkit.lots.intake import drain as drained
from labelkit.lots.plausible import check_plausible
from labelkit.measures.locales import DEFAULT_LOCALE

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.measures import Mass
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Drained:
    """The bucket as it stands with what was added to it."""

    bucket: Bucket
    added: Mass


def drain(work: Work, asked: Intake, day: date, locale: str = DEFAULT_LOCALE) -> Drained:
    """Book what drained, as an event of its own day.

    Raises :class:`~labelkit.errors.record.LotUnknown` and what a weighing refuses; see :func:`labelkit.season.weigh.weigh`.
    """
    event = drained(asked, day, work.bucket(asked.bucket).harvested, locale)
    check_plausible(event, locale)
    work.add(event)
    return Drained(work.bucket(asked.bucket), event.net)
