"""Put right: replace a wrong event by the right one in one step; what was booked on it stays, with its lot codes.

A bucket weighed in wrong changes what every later run and step found in it. Such a run is booked again as it was, with
its code and its jars, against what the bucket really held: where its rest was weighed back, the difference is unexplained
honey of that run; where it was not, the difference is still in the bucket. A step in the bucket follows in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.errors import AskedAbout
from labelkit.errors.lots import BucketTooEmpty
from labelkit.errors.record import (
    CorrectionDoesNotClose,
    CorrectionRefused,
    CorrectionValueNotFor,
    DayBeforeItsHoney,
    JarsTooFew,
    MassNotConserved,
)
from labelkit.errors.run import RestHeavierThanBucket, RunTakesTooMuch
from labelkit.lots.bucket import BucketStep, Drain, WeighIn, Weighing, net_of
from labelkit.lots.bucket_life import DRIED, Measured, TakenOut, Treated
from labelkit.lots.movement import Account
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass, total
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.run import Filled, Run
from labelkit.run import bottle as close_run
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine
from labelkit.season.bottle import explained
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked

_OF_BUCKET = ("net", "gross", "tare", "moisture", "day")
_OF_STEP = {
    Measured.kind: ("net", "gross", "tare", "moisture", "day"),
    Treated.kind: ("left", "moisture", "day"),
    TakenOut.kind: ("net", "gross", "tare", "day"),
}
_OF_RUN = ("jars", "left", "day")
_OF_SALE = ("jars", "day")
_NOT_CLOSING = (
    BucketTooEmpty,
    DayBeforeItsHoney,
    JarsTooFew,
    MassNotConserved,
    RestHeavierThanBucket,
    RunTakesTooMuch,
)


@dataclass(frozen=True, slots=True)
class Changes:
    """What was really so; what is left out stays as it was booked. Nought jars of a size take the size away."""

    net: Mass | None = None
    gross: Mass | None = None
    tare: Mass | None = None
    moisture: Decimal | None = None
    jars: Mapping[str, int] | None = None
    left: Mass | None = None
    day: date | None = None

    @property
    def given(self) -> tuple[str, ...]:
        """The names of what was said."""
        return tuple(name for name in self.__dataclass_fields__ if getattr(self, name) not in (None, {}))


@dataclass(frozen=True, slots=True)
class PutRight:
    """The event that was struck, the one that stands instead, and the runs booked again on it: (struck, booked, lot)."""

    struck: int
    booked: int
    event: Any
    runs: tuple[tuple[int, int, str], ...] = ()
    steps: tuple[tuple[int, int], ...] = ()  # what happened in the bucket later, booked again: (struck, booked)


def put_right(work: Work, event: int, because: str, changes: Changes, day: date) -> PutRight:
    """Strike an event and book its replacement where it stood.

    Raises :class:`~labelkit.errors.record.CorrectionRefused`,
    :class:`~labelkit.errors.record.CorrectionValueNotFor` for a value this kind of event does not have, and
    :class:`~labelkit.errors.record.CorrectionDoesNotClose` with the later events that would have to change.
    """
    if work.booked_before:
        return _done(event, work.booked_before)
    wrong = work.event(event)
    if wrong is None:
        raise CorrectionRefused(event, "there is no event of this number")
    try:
        right = _replaced(work, wrong, changes, because)
        # What later runs found is looked up before the record changes under the reading.
        again = list(_again(work, wrong, right, because))
        booked = [*work.correct(event, because, right, day=day)]
        for later, instead in again:
            booked += work.correct(later.seq, f"follows event {booked[1].seq}: {because}", instead, day=day)
        work.check()
    except _NOT_CLOSING as trouble:
        raise CorrectionDoesNotClose(event, trouble.what, _later(work, wrong)) from None
    return _done(event, booked)


def _done(event: int, booked: Sequence[Booked]) -> PutRight:
    """What a step of corrections, each with its one replacement, comes to."""
    again = [(a.event.corrects, b.seq, b.event) for a, b in zip(booked[2::2], booked[3::2], strict=True)]
    return PutRight(
        event,
        booked[1].seq,
        booked[1].event,
        tuple((struck, seq, instead.lot) for struck, seq, instead in again if isinstance(instead, Run)),
        tuple((struck, seq) for struck, seq, instead in again if not isinstance(instead, Run)),
    )


def _replaced(work: Work, wrong: Booked, changes: Changes, because: str) -> Any:
    """The event as it really was."""
    event = wrong.event
    if isinstance(event, CameIn):
        _only(wrong, changes, _OF_BUCKET)
        return _weighed(event, changes)
    if isinstance(event, BucketStep):
        _only(wrong, changes, _OF_STEP[event.kind])
        return _stepped(event, changes)
    if isinstance(event, Run):
        _only(wrong, changes, _OF_RUN)
        return _filled(work, event, changes, because)
    if isinstance(event, Sale | Give | Return | Discard):
        _only(wrong, changes, _OF_SALE)
        return replace(event, lines=_lines(wrong, event.lines, changes.jars), day=changes.day or event.day)
    _only(wrong, changes, ())
    return event


def _only(wrong: Booked, changes: Changes, may: tuple[str, ...]) -> None:
    for name in changes.given:
        if name not in may:
            raise CorrectionValueNotFor(wrong.seq, wrong.event.title, name, may)


def _scale(
    bucket: str, net: Mass | None, before: Weighing | None, changes: Changes
) -> tuple[Mass | None, Weighing | None]:
    """The honey alone and the weighing behind it, as they really were."""
    if changes.net is None and changes.gross is None and changes.tare is None:
        return net, before
    gross = changes.gross or (before.gross if before and changes.net is None else None)
    tare = changes.tare or (before.tare if before and changes.net is None else None)
    return net_of(bucket, changes.net, gross, tare, before.division if before else None)


def _stepped(step: BucketStep, changes: Changes) -> BucketStep:
    """What happened in a bucket, as it really was; honey dried to another moisture keeps its solids."""
    step = replace(step, day=changes.day or step.day)
    moisture = changes.moisture
    if isinstance(step, Measured):
        net, weighing = _scale(step.bucket, step.net, step.weighing, changes)
        right = replace(step, net=net, weighing=weighing)
        return right if moisture is None else replace(right, moisture=moisture, moisture_read=None)
    if isinstance(step, TakenOut):
        mass, weighing = _scale(step.bucket, step.mass, step.weighing, changes)
        return replace(step, mass=mass or step.mass, weighing=weighing)
    assert isinstance(step, Treated)
    after = step.after
    if step.how == DRIED and moisture is not None and step.moisture is not None and not step.after_was_weighed:
        after = after.times((100 - step.moisture) / (100 - moisture))
    weighed = step.after_was_weighed or changes.left is not None
    return replace(step, after=changes.left or after, moisture=moisture or step.moisture, after_was_weighed=weighed)


def _weighed(event: CameIn, changes: Changes) -> CameIn:
    net, weighing = _scale(event.bucket, event.net, event.weighing, changes)
    moisture = event.moisture if changes.moisture is None else changes.moisture
    day = changes.day or event.day
    right = replace(event, net=net or event.net, weighing=weighing, moisture=moisture, day=day)
    if changes.moisture is not None and isinstance(right, WeighIn | Drain):
        right = replace(right, moisture_read=None)
    if isinstance(right, WeighIn) and right.harvested == event.day:  # never said apart: the day it was weighed
        right = replace(right, harvested=day)
    check_plausible(right)
    return right


def _filled(work: Work, run: Run, changes: Changes, because: str) -> Run:
    jars = {filled.size: filled for filled in run.jars}
    season = settings_of(work)
    for size, count in (changes.jars or {}).items():
        known = jars.pop(size, None) or Filled(size, season.size(size).declares, 0, season.fill(size, run.day))
        if count:
            jars[size] = replace(known, count=count)
    left = changes.left or (run.left if run.left_was_weighed else None)
    right = replace(run, jars=tuple(jars.values()), day=changes.day or run.day)
    return _closed(work, right, run.held, left, because)


def _closed(work: Work, run: Run, held: Mass, left: Mass | None, because: str) -> Run:
    """The run as it would have been closed had the bucket held this, under the code its jars bear.

    Where its balance is asked about, the words of the correction answer; jars that hold more than the bucket did are
    refused all the same, since then another figure is wrong as well.
    """
    bucket = replace(work.bucket(run.bucket), holds=held)
    more: dict[str, Any] = {"broken": run.broken, "samples": run.samples, "left": left, "lost": run.lost}
    more["explained"] = explained(work, bucket)
    try:
        return close_run(bucket, run.lot, run.day, run.jars, because=run.because, **more)
    except AskedAbout:
        if run.accounted > held:
            raise
        return close_run(bucket, run.lot, run.day, run.jars, because=because, **more)


def _lines(wrong: Booked, lines: tuple[SaleLine, ...], jars: Mapping[str, int] | None) -> tuple[SaleLine, ...]:
    known = {line.size: line for line in lines}
    for size in jars or {}:
        if size not in known:
            raise CorrectionRefused(wrong.seq, f"it has no jars of {size}")
    counts = {size: (jars or {}).get(size, line.count) for size, line in known.items()}
    return tuple(replace(line, count=counts[line.size]) for line in lines if counts[line.size])


def _again(work: Work, wrong: Booked, right: Any, because: str) -> Iterator[tuple[Booked, Run | BucketStep]]:
    """The later runs and steps that found another weight in the bucket than was thought, each as it would have been."""
    if not isinstance(right, CameIn | BucketStep):
        return
    more = _left_by(right) - _left_by(wrong.event)
    kinds = ("run", *_OF_STEP)
    later = [each for each in work.events_about([right.bucket], kinds) if each.stands]
    for each in sorted(later, key=lambda each: each.position):
        if more == NOTHING or each.position <= wrong.position or each.event.bucket != right.bucket:
            continue
        if isinstance(each.event, BucketStep):
            step, more = each.event.found_more(more)
            yield each, step
            continue
        left = each.event.left if each.event.left_was_weighed else None
        yield each, _closed(work, each.event, each.event.held + more, left, because)
        if left is not None:  # what was weighed back is known again, whatever went before
            more = NOTHING


def _left_by(event: Any) -> Mass:
    """How much heavier its bucket is by an event."""
    return total(m.mass for m in event.movements() if m.account == Account.BUCKET and m.lot == event.bucket)


def _later(state: Reading, wrong: Booked) -> tuple[tuple[int, str], ...]:
    """What stands on an event: everything later about the same bucket or lot, in words."""
    lots = {movement.lot for movement in wrong.event.movements()}
    story = state.events_about(lots | state.descent(*lots))
    return tuple(
        (each.seq, f"{each.event.title}: {each.event.describe(DEFAULT_LOCALE)}")
        for each in story
        if each.stands and each.seq > wrong.seq and each.kind != "correct"
    )
