"""Receive: honey that was bought in, a bucket at a time, with its supplier and what their papers say."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from labelkit.lots.intake import Receipt, received
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import Receive
from labelkit.rules.figures.origin import known_country
from labelkit.season.batch import put_right, refractometer_checks
from labelkit.season.fills import new_fill, same_but_fill
from labelkit.season.once import booked_once

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.record.work import Work


def receipt_read(asked: Receipt, day: date, locale: str) -> Receive:
    """What is to be booked, looked at before a record is opened or made for it.

    ``locale`` is how a refusal writes its figures.

    Raises :class:`~labelkit.errors.lots.ReceiptUnclear`, :class:`~labelkit.errors.rules.CountryUnknown` and what a
    weighing refuses; see :func:`labelkit.season.weigh.weighed`.
    """
    event = received(asked, day, locale)
    for share in event.origin:
        known_country(share.country)
    check_plausible(event, locale)
    return event


def receive(work: Work, asked: Receipt, day: date, locale: str) -> Bucket:
    """Book one bucket of bought-in honey, and give it as it stands then.

    A moisture read here is put right by the last check of the refractometer; one that their papers state stays.

    Raises what :func:`receipt_read` does.
    """
    event = receipt_read(asked, day, locale)
    if not asked.moisture_stated:
        event = put_right(refractometer_checks(work), event)
    before = booked_once(work, Receive.kind, lambda before: same_but_fill(before, event))
    if before is None:
        before = work.add(new_fill(work, event, locale))
    return work.bucket(before.event.bucket)
