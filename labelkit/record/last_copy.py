"""The last copy of a record, as the record remembers it: a stick that was taken out need not be there to be asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from labelkit.record import engine as adapter
from labelkit.record.copies import Copied, checked, copy_record, made_at
from labelkit.record.progress import Progress, no_progress
from labelkit.record.reading import Head, Reading
from labelkit.record.record import Record
from labelkit.record.tables import elsewhere, event

sa = adapter.sa

# How a copy is remembered: under its path, with the number of the last event in it.
COPIED = "copied "


@dataclass(frozen=True, slots=True)
class LastCopy:
    """Where the last copy was put, the day it was made, and the number of the last event in it."""

    path: Path
    day: date | None
    seq: int


@dataclass(frozen=True, slots=True)
class Uncopied:
    """What would be lost with the disk: events that are in no copy, on how many days they were booked, since when."""

    events: int
    days: int
    since: date | None
    last: LastCopy | None


def copy_to(
    record: Record,
    folder: Path,
    at: datetime,
    keep: int | None = None,
    progress: Progress = no_progress,
    *,
    rotate: bool = False,
) -> Copied:
    """Copy a record into a folder, and remember the folder and the copy; see :func:`~labelkit.record.copies.copy_record`."""
    if folder.is_dir():  # copying refuses one that is not there
        record.remember(folder, "copies")
    copied = copy_record(record.path, folder, at, keep, progress, rotate=rotate)
    record.remember(copied.path, f"{COPIED}{copied.events}", instead_of=COPIED)
    return copied


def last_copy(state: Reading) -> LastCopy | None:
    """The last copy the record remembers."""
    found = state.connection.execute(sa.select(elsewhere).where(elsewhere.c.what.startswith(COPIED))).first()
    if found is None:
        return None
    path, made = Path(found.path), made_at(Path(found.path))
    return LastCopy(path, made.date() if made else None, int(found.what.removeprefix(COPIED)))


@dataclass(frozen=True, slots=True)
class Compared:
    """A copy beside the record: the head of both, and whether the copy is an earlier (or the same) state of this record."""

    copy: Head
    record: Head
    same: bool

    @property
    def lost(self) -> int:
        """How many events of the record are not in the copy; all of them where it is another's."""
        return max(0, self.record.seq - self.copy.seq) if self.same else self.record.seq


def compared(state: Reading, copy: Path) -> Compared:
    """What bringing a copy back would change. Raises :class:`~labelkit.errors.record.CopyFailed` for one that is not sound."""
    head, here = checked(copy, copy.name), state.head()
    hash_there = state.connection.execute(sa.select(event.c.hash).where(event.c.seq == head.seq)).scalar()
    return Compared(head, here, hash_there == head.hash)


def uncopied(state: Reading, day: date) -> Uncopied:
    """What was booked by the evening of a day and is in no copy."""
    last = last_copy(state)
    booked_on = sa.func.substr(event.c.recorded_at, 1, 10)
    row = state.connection.execute(
        sa.select(sa.func.count(), sa.func.count(sa.distinct(booked_on)), sa.func.min(booked_on)).where(
            event.c.seq > (last.seq if last else 0), booked_on <= day.isoformat()
        )
    ).one()
    return Uncopied(row[0], row[1], date.fromisoformat(row[2]) if row[2] else None, last)
