"""Note: words kept with buckets, lots and runs; and a reminder that is ended by saying so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.record import DayLaterThanClock, NothingNoted
from labelkit.lots.bucket_life import Note
from labelkit.record.lookup import find_lot
from labelkit.season.once import booked_once

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Noted:
    """The note as it was booked, and the number of its event."""

    note: Note
    event: int


def note(work: Work, lots: Sequence[str], words: str, day: date, customer: str | None = None, ends: str = "") -> Noted:
    """Keep words with buckets or jar lots; ``customer`` where they are about one, so that forgetting reaches them.

    Raises :class:`~labelkit.errors.record.NothingNoted`, :class:`~labelkit.errors.record.LotUnknown` with the nearest
    names, and :class:`~labelkit.errors.record.DayLaterThanClock`.
    """
    if before := booked_once(work, Note.kind):
        return Noted(before.event, before.seq)
    if not words.strip() or not lots:
        raise NothingNoted()
    if day > work.at.date():
        raise DayLaterThanClock(Note.title, day.isoformat(), work.at.date().isoformat())
    known = tuple(dict.fromkeys(find_lot(work, lot).name for lot in lots))
    noted = Note(day, known, words.strip(), customer, ends)
    return Noted(noted, work.add(noted).seq)


def one_pot(state: Reading, bucket: str) -> tuple[str, ...]:
    """The buckets of one extraction: weighed in on the same day, their cappings drip into one pot."""
    weighed = [each for each in state.events(("weigh",)) if each.stands]
    days = {each.day for each in weighed if each.event.bucket == bucket}
    return tuple(each.event.bucket for each in weighed if each.day in days)


def nothing_drained(work: Work, bucket: str, day: date, words: str = "") -> Noted:
    """No honey came from the cappings of this bucket's extraction: nobody is reminded of them any more."""
    return note(
        work,
        [work.call(id) for id in one_pot(work, work.fill(bucket))] or [bucket],
        words or "nothing drained from the cappings",
        day,
        ends="drain",
    )
