"""Put right: replace a wrong event by the right one in one step; what was booked on it stays, with its lot codes.

A bucket weighed in wrong changes what every later run, step and blend found in it. Such a run is booked again as it was,
with its code and its jars, against what the bucket really held: where its rest was weighed back, the difference is
unexplained honey of that run; where it was not, the difference is still in the bucket. A step in the bucket follows in
the same way, and so does a blend or a seed that took all there was.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.lots import BucketTooEmpty
from labelkit.errors.record import (
    CorrectionDoesNotClose,
    DayBeforeItsHoney,
    JarsTooFew,
    MassNotConserved,
)
from labelkit.errors.run import RestHeavierThanBucket, RunTakesTooMuch
from labelkit.errors.sale import NotTheirJars
from labelkit.errors.sentence import Figure, Sentence
from labelkit.lots.bucket import Blend, BucketStep, Part
from labelkit.lots.bucket_life import Measured, TakenOut, Treated
from labelkit.lots.movement import Account
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass
from labelkit.record.lookup import find_correctable
from labelkit.run import Run
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.season.as_it_was import as_it_was, closed, settled_again
from labelkit.season.changes import Changes
from labelkit.season.whose_jars import check_returns

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked

_MOVES_A_BUCKET = ("weigh", "receive", "drain", Blend.kind, Measured.kind, Treated.kind, TakenOut.kind, Run.kind)
_NOT_CLOSING = (
    BucketTooEmpty,
    DayBeforeItsHoney,
    JarsTooFew,
    MassNotConserved,
    NotTheirJars,
    RestHeavierThanBucket,
    RunTakesTooMuch,
)


@dataclass(frozen=True, slots=True)
class PutRight:
    """The event that was struck, by which correction, and what stands instead; what followed was booked again."""

    struck: int
    correction: int
    booked: int | None = None
    event: Any = None
    runs: tuple[tuple[int, int, str], ...] = ()  # (struck, booked, lot)
    steps: tuple[tuple[int, int], ...] = ()  # what else happened to the honey later: (struck, booked)


def put_right(work: Work, event: int, because: str, changes: Changes, day: date) -> PutRight:
    """Strike an event and book its replacement where it stood; without changes it is only struck.

    Raises :class:`~labelkit.errors.record.CorrectionRefused`,
    :class:`~labelkit.errors.record.CorrectionValueNotFor` for a value this kind of event does not have, and
    :class:`~labelkit.errors.record.CorrectionDoesNotClose` with the later events that would have to change.
    """
    if work.booked_before:
        return _done(event, work.booked_before)
    wrong = find_correctable(work, event)
    try:
        if not changes.said:
            booked = [*work.correct(event, because, day=day)]
        else:
            right = as_it_was(work, wrong, changes, because)
            # What later runs found is looked up before the record changes under the reading.
            again = list(_following(work, wrong, right, because))
            booked = [*work.correct(event, because, right, day=day)]
            for later, instead in again:
                booked += work.correct(later.seq, f"follows event {booked[1].seq}: {because}", instead, day=day)
            if isinstance(right, StallLoad):
                booked += _settled_of(work, right, f"follows event {booked[1].seq}: {because}", day)
        work.check()
        check_returns(work, {move.lot for move in wrong.event.movements() if move.size})
    except _NOT_CLOSING as trouble:
        raise CorrectionDoesNotClose(event, trouble.what, _later(work, wrong)) from None
    return _done(event, booked)


def _settled_of(work: Work, load: StallLoad, because: str, day: date) -> tuple[Booked, ...]:
    """Of a market day that was settled already: what its jars became, out of what was really loaded."""
    settled = next((b for b in work.events((StallDay.kind,)) if b.stands and b.event.key == load.key), None)
    if settled is None:
        return ()
    return work.correct(settled.seq, because, settled_again(work, settled.event, Changes()), day=day)


def _done(event: int, booked: Sequence[Booked]) -> PutRight:
    """What a step of corrections, each with its one replacement, comes to."""
    if len(booked) == 1:
        return PutRight(event, booked[0].seq)
    again = [(a.event.corrects, b.seq, b.event) for a, b in zip(booked[2::2], booked[3::2], strict=True)]
    return PutRight(
        event,
        booked[0].seq,
        booked[1].seq,
        booked[1].event,
        tuple((struck, seq, instead.lot) for struck, seq, instead in again if isinstance(instead, Run)),
        tuple((struck, seq) for struck, seq, instead in again if not isinstance(instead, Run)),
    )


def _following(work: Work, wrong: Booked, right: Any, because: str) -> Iterator[tuple[Booked, Any]]:
    """The later events that found another weight in a bucket than was thought, each as it would have been."""
    if not isinstance(right, CameIn | BucketStep | Blend):
        return
    more: dict[str, Mass] = defaultdict(lambda: NOTHING)
    _add_difference(more, wrong.event, right)
    lots = set(more) | work.descent(*more)
    lots |= work.ancestry(*lots)
    stood: dict[str, Mass] = defaultdict(lambda: NOTHING)
    standing = [each for each in work.events_about(lots, _MOVES_A_BUCKET) if each.stands]
    for each in sorted(standing, key=lambda each: each.position):
        if each.position > wrong.position:
            instead = _had_there_been(work, each.event, more, stood, because)
            if instead != each.event:
                _add_difference(more, each.event, instead)
                yield each, instead
        for bucket, mass in _to_buckets(each.event).items():
            stood[bucket] += mass


def _had_there_been(work: Work, event: Any, more: Mapping[str, Mass], stood: Mapping[str, Mass], because: str) -> Any:
    """The event, had there been so much more in each bucket than ``stood`` there by the record."""

    def part(of: Part) -> Part:
        return replace(of, mass=of.mass + more[of.bucket]) if of.mass == stood[of.bucket] else of

    if isinstance(event, Blend):
        return replace(event, parts=tuple(map(part, event.parts)))
    if isinstance(event, Treated) and event.seed is not None and part(event.seed) != event.seed:
        seed = part(event.seed)
        after = event.after if event.after_was_weighed else event.after + seed.mass - event.seed.mass
        event = replace(event, seed=seed, after=after)
    if not isinstance(event, Run | BucketStep) or more[event.bucket] == NOTHING:
        return event
    if isinstance(event, BucketStep):
        return event.found_more(more[event.bucket])
    left = event.left if event.left_was_weighed else None
    return closed(work, event, event.held + more[event.bucket], left, because)


def _add_difference(more: dict[str, Mass], was: Any, instead: Any) -> None:
    """How much heavier each bucket is by the one event than by the other."""
    before, now = _to_buckets(was), _to_buckets(instead)
    for bucket in {*before, *now}:
        more[bucket] += now.get(bucket, NOTHING) - before.get(bucket, NOTHING)


def _to_buckets(event: Any) -> dict[str, Mass]:
    """How much heavier each bucket is by an event."""
    found: dict[str, Mass] = defaultdict(lambda: NOTHING)
    for moved in event.movements():
        if moved.account == Account.BUCKET:
            found[moved.lot] += moved.mass
    return found


def _later(state: Reading, wrong: Booked) -> tuple[tuple[int, str], ...]:
    """What stands on an event: everything later about the same bucket or lot, in words."""
    lots = {movement.lot for movement in wrong.event.movements()}
    story = state.events_about(lots | state.descent(*lots))
    return tuple(
        (each.seq, Sentence("{title}: {words}", title=each.event.title, words=Figure(each.event.describe)))
        for each in story
        if each.stands and each.seq > wrong.seq and each.kind != "correct"
    )
