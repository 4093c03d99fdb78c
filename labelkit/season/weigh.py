"""Weigh: buckets that come in after the honey gate, one by one or a whole file of them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

from labelkit.errors import AskedAbout
from labelkit.lots.bucket import Drain, WeighIn
from labelkit.lots.fill import name_on
from labelkit.lots.intake import Intake, weigh_in
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import CameIn
from labelkit.rules import market
from labelkit.season.batch import put_right, refractometer_checks
from labelkit.season.fills import new_fill, same_but_fill
from labelkit.season.once import booked_once
from labelkit.season.progress import progress

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.lots.season import SeasonFile
    from labelkit.record.work import Work

Came = TypeVar("Came", bound=CameIn)
_AT_ONCE = 2_000  # events between two words about how far it is, and buckets read back together


def weighed(asked: Intake, day: date, locale: str) -> WeighIn:
    """What is to be booked, looked at before a record is opened or made for it.

    ``locale`` is how a refusal writes its figures.

    Raises :class:`~labelkit.errors.lots.WeightMissing`, :class:`~labelkit.errors.lots.GrossBelowTare`,
    :class:`~labelkit.errors.lots.ContainerOverfilled`, :class:`~labelkit.errors.lots.BucketImplausible`,
    :class:`~labelkit.errors.lots.MoistureUnlikely`.
    """
    event = weigh_in(asked, day, locale)
    check_plausible(event, locale)
    return event


def weigh(work: Work, asked: Intake, day: date, locale: str) -> Bucket:
    """Book one bucket, and give it as it stands then. Raises what :func:`weighed` does."""
    event = put_right(refractometer_checks(work), weighed(asked, day, locale))
    before = booked_once(work, WeighIn.kind, lambda before: same_but_fill(before, event))
    if before is None:
        before = work.add(new_fill(work, event, locale))
    return work.bucket(before.event.bucket)


def weigh_all(work: Work, events: Sequence[Any], locale: str, because: str = "") -> tuple[Bucket, ...]:
    """Book everything that was read from a file, all of it or nothing; the buckets of it as they stand then.

    ``because`` says why the weights that are asked about are right. Raises what :func:`weighed` does.
    """
    events = [with_reason(event, locale, because) if isinstance(event, WeighIn) else event for event in events]
    checks = refractometer_checks(work)
    events = [put_right(checks, event) if isinstance(event, WeighIn | Drain) else event for event in events]
    known = work.names("bucket")
    filled = {event.bucket: _filled(work, event, known, locale) for event in events if isinstance(event, WeighIn)}
    events = [_in_its_fill(event, filled) for event in events]
    with progress("Booking", len(events)) as done:
        for first in range(0, len(events), _AT_ONCE):
            work.add_all(events[first : first + _AT_ONCE])
            done(min(first + _AT_ONCE, len(events)))
    weighed = list(dict.fromkeys(event.bucket for event in events if hasattr(event, "bucket")))
    # A few at a time: the events of a long file read back all at once would take as much memory again.
    portions = (weighed[first : first + _AT_ONCE] for first in range(0, len(weighed), _AT_ONCE))
    return tuple(now[name] for names in portions if (now := work.buckets_of(names)) for name in names)


def _filled(work: Work, event: WeighIn, known: Collection[str], locale: str) -> WeighIn:
    """The fill a weigh-in of a file begins: the next one, or that of the first time where the step is repeated."""
    if not work.booked_before:
        return new_fill(work, event, locale) if event.bucket in known else event
    begun = {name_on(each.event): each.event for each in work.booked_before if isinstance(each.event, WeighIn)}
    before = begun.get(event.bucket, event)
    return replace(event, bucket=before.bucket, fill=before.fill)


def _in_its_fill(event: Any, filled: Mapping[str, WeighIn]) -> Any:
    """A weigh-in of a file as it begins its fill, and what drained later into the same one."""
    if isinstance(event, WeighIn):
        return filled[event.bucket]
    first = filled.get(event.bucket) if isinstance(event, Drain) else None
    return replace(event, bucket=first.bucket) if first else event


def with_reason(event: Came, locale: str, because: str) -> Came:
    """What came in, with the words where its weight is asked about. Raises what :func:`weighed` does without them."""
    try:
        check_plausible(event, locale)
    except AskedAbout:
        event = replace(event, because=because.strip())
        check_plausible(event, locale)
    return event


def events_of(file: SeasonFile, day: date) -> list[Any]:
    """What a season file says, as events: its settings, its buckets with their cappings, its jar sizes."""
    from labelkit.record.settings import Setting
    from labelkit.sale import PriceSet

    markets = [market(name, day).code for name in file.markets]
    settings = {"market": markets, "currency": file.currency, "maker": file.maker}
    events: list[Any] = [Setting(day, name, value) for name, value in settings.items() if value]
    for found in file.buckets:
        events += [found.weigh_in, *found.drains]
    return events + [PriceSet(day, jar.id, jar.declares, jar.price, jar.cost) for jar in file.jars]
