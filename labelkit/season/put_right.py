"""Put right: replace a wrong event by the right one in one step; what was booked on it stays, with its lot codes.

A bucket weighed in wrong changes what every later run found in it. Such a run is booked again as it was, with its code
and its jars, against what the bucket really held: where its rest was weighed back, the difference is unexplained honey
of that run; where it was not, the difference is still in the bucket.
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
    JarsTooFew,
    MassNotConserved,
)
from labelkit.errors.run import RestHeavierThanBucket, RunTakesTooMuch
from labelkit.lots.bucket import net_of
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass
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
_OF_RUN = ("jars", "left", "day")
_OF_SALE = ("jars", "day")


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


def put_right(work: Work, event: int, because: str, changes: Changes, day: date) -> PutRight:
    """Strike an event and book its replacement where it stood.

    Raises :class:`~labelkit.errors.record.CorrectionRefused`,
    :class:`~labelkit.errors.record.CorrectionValueNotFor` for a value this kind of event does not have, and
    :class:`~labelkit.errors.record.CorrectionDoesNotClose` with the later events that would have to change.
    """
    if work.booked_before:
        return _as_before(event, work.booked_before)
    wrong = work.event(event)
    if wrong is None:
        raise CorrectionRefused(event, "there is no event of this number")
    try:
        right = _replaced(work, wrong, changes, because)
        # What later runs found is looked up before the record changes under the reading.
        again = list(_runs_again(work, wrong, right, because))
        booked = work.correct(event, because, right, day=day)
        runs = []
        for run, instead in again:
            done = work.correct(run.seq, f"follows event {booked[1].seq}: {because}", instead, day=day)
            runs.append((run.seq, done[1].seq, instead.lot))
        work.check()
    except (BucketTooEmpty, JarsTooFew, MassNotConserved, RestHeavierThanBucket, RunTakesTooMuch) as trouble:
        raise CorrectionDoesNotClose(event, trouble.what, _later(work, wrong)) from None
    return PutRight(event, booked[1].seq, right, tuple(runs))


def _as_before(event: int, booked: Sequence[Booked]) -> PutRight:
    runs = tuple((a.event.corrects, b.seq, b.event.lot) for a, b in zip(booked[2::2], booked[3::2], strict=True))
    return PutRight(event, booked[1].seq, booked[1].event, runs)


def _replaced(work: Work, wrong: Booked, changes: Changes, because: str) -> Any:
    """The event as it really was."""
    event = wrong.event
    if isinstance(event, CameIn):
        _only(wrong, changes, _OF_BUCKET)
        return _weighed(event, changes)
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


def _weighed(event: CameIn, changes: Changes) -> CameIn:
    before = event.weighing
    net, weighing = event.net, before
    if changes.net is not None or changes.gross is not None or changes.tare is not None:
        gross = changes.gross or (before.gross if before and changes.net is None else None)
        tare = changes.tare or (before.tare if before and changes.net is None else None)
        net, weighing = net_of(event.bucket, changes.net, gross, tare, before.division if before else None)
    moisture = event.moisture if changes.moisture is None else changes.moisture
    right = replace(event, net=net, weighing=weighing, moisture=moisture, day=changes.day or event.day)
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


def _runs_again(work: Work, wrong: Booked, right: Any, because: str) -> Iterator[tuple[Booked, Run]]:
    """The later runs that found another weight in the bucket than was thought, each as it would have been closed."""
    if not isinstance(right, CameIn):
        return
    more = right.net - wrong.event.net
    later = [each for each in work.events_about([right.bucket], ("run",)) if each.stands]
    for run in sorted(later, key=lambda each: each.position):
        if more == NOTHING or run.position < wrong.position:
            continue
        left = run.event.left if run.event.left_was_weighed else None
        yield run, _closed(work, run.event, run.event.held + more, left, because)
        if left is not None:  # what was weighed back is known again, whatever went before
            more = NOTHING


def _later(state: Reading, wrong: Booked) -> tuple[tuple[int, str], ...]:
    """What stands on an event: everything later about the same bucket or lot, in words."""
    lots = {movement.lot for movement in wrong.event.movements()}
    story = state.events_about(lots | state.descent(*lots))
    return tuple(
        (each.seq, f"{each.event.title}: {each.event.describe(DEFAULT_LOCALE)}")
        for each in story
        if each.stands and each.seq > wrong.seq and each.kind != "correct"
    )
