"""Copies of a record file: made while stations are at work, verified after writing, and brought back."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from labelkit.errors import LabelkitError
from labelkit.errors.record import (
    CopyFailed,
    CopyFolderMissing,
    DiskError,
    DiskFull,
    OnlyForFiles,
    RecordInTheWay,
    RecordInUse,
    RestoreRefused,
    WriteNotConfirmed,
)
from labelkit.record import engine as adapter
from labelkit.record.leftovers import SIDE_FILES, private_file, remove_unfinished, sweep, unfinished_name
from labelkit.record.location import Location, check_file, check_writable, disk_errors
from labelkit.record.progress import Progress, no_progress
from labelkit.record.reading import Head, Reading

# While copying, it is the copy's disk that is full and not the record's.
_WHAT_FAILED = {
    DiskFull: "there is no room left for it",
    DiskError: "the disk does not answer as it should",
    WriteNotConfirmed: "its disk would not confirm that it is safe",
}


# What a rotation keeps: the last copy of each day, ISO week and month, and of how many. Common practice, no source.
_ROTATION = (("%Y-%m-%d", 7), ("%G-%V", 5), ("%Y-%m", 12))
_STAMP = len("2026-07-14-120000.copy")


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy that was verified, and those that made room for it."""

    path: Path
    events: int
    head: str
    removed: tuple[Path, ...] = ()


def copy_record(
    path: Path | None,
    folder: Path,
    at: datetime,
    keep: int | None = None,
    progress: Progress = no_progress,
    *,
    rotate: bool = False,
) -> Copied:
    """Copy a record into a folder under its name and the time, and verify the copy.

    Then keep only the last ``keep``, or with ``rotate`` the last of each of seven days, five weeks and twelve months.

    Raises :class:`~labelkit.errors.record.CopyFailed`, and then the folder is as it was.
    """
    if path is None:
        raise OnlyForFiles("record copy", "Use pg_dump on the server, or labelkit record export, which works on both.")
    if not folder.is_dir():
        raise CopyFolderMissing(str(folder))
    sweep(folder)
    to = folder / f"{path.stem}.{at:%Y-%m-%d-%H%M%S}.copy"
    head = copy_file(path, to, progress)
    every = earlier_copies(path, folder)
    kept = set(every[-keep:]) if keep else rotated(every) if rotate else set(every)
    removed = tuple(each for each in every if each not in kept and each != to)
    for each in removed:
        each.unlink()
    return Copied(to, head.seq, head.hash, removed)


def beside(path: Path) -> list[Path]:
    """What labelkit itself put beside a record: from before it was brought up to date, or set aside by a restore."""
    ours = re.compile(re.escape(path.name) + r"\.(?:before-form-\d{4}|set-aside\.\d{4}-\d\d-\d\d-\d{6})")
    return sorted(each for each in path.parent.iterdir() if ours.fullmatch(each.name))


def earlier_copies(path: Path, folder: Path) -> list[Path]:
    """The copies of a record in a folder, oldest first: only names that ``record copy`` itself gives."""
    ours = re.compile(re.escape(path.stem) + r"\.\d{4}-\d\d-\d\d-\d{6}\.copy")
    return sorted(each for each in folder.iterdir() if ours.fullmatch(each.name))


def rotated(copies: Sequence[Path]) -> set[Path]:
    """Of these copies, oldest first, those that stay: the last of each of the last days, weeks and months with copies.

    >>> names = [Path(f"s.2026-{month:02}-01-120000.copy") for month in range(1, 13)]
    >>> len(rotated(names)), len(rotated([*names, *(Path(f"s.2026-12-{day:02}-120000.copy") for day in range(2, 29))]))
    (12, 21)
    """
    made = {each: made_at(each) for each in copies}
    kept = {each for each, at in made.items() if at is None}
    for form, number in _ROTATION:
        last = {at.strftime(form): each for each, at in made.items() if at}
        kept.update(list(last.values())[-number:])
    return kept


def made_at(copy: Path) -> datetime | None:
    """When a copy was made, by its name; nothing where its figures are no time."""
    try:
        return datetime.strptime(copy.name[-_STAMP:], "%Y-%m-%d-%H%M%S.copy")
    except ValueError:
        return None


def copy_file(path: Path, to: Path, progress: Progress = no_progress) -> Head:
    """Copy a record file to a new name and verify the copy from the first event to the last. Its head."""
    if to.exists():
        raise RecordInTheWay(str(to))
    check_writable(to)
    making = unfinished_name(to, "new")
    try:
        try:
            with adapter.database_errors(str(path)):
                adapter.copy_hot(path, making)
        except (DiskFull, DiskError, WriteNotConfirmed) as fault:
            raise CopyFailed(str(to), _WHAT_FAILED[type(fault)]) from fault
        head = checked(making, str(to), progress)
        with disk_errors(to):
            _fsync(making)
            os.replace(making, to)
            _fsync(to.parent)
        return head
    finally:
        remove_unfinished(making)


def checked(path: Path, shown: str, progress: Progress = no_progress) -> Head:
    """The head of a record file after verifying all of it. Raises :class:`~labelkit.errors.record.CopyFailed`."""
    from labelkit.record.record import Record
    from labelkit.record.verify import verify

    try:
        check_file(path, adapter.APPLICATION)
    except LabelkitError as refused:
        raise CopyFailed(shown, refused.what.rstrip(".")) from refused
    engine = adapter.file_engine(path, "immutable")
    try:
        with adapter.reading(engine, shown) as connection:
            form = adapter.form_of(connection)
            head = Reading(connection, shown).head()
        if form == adapter.known_forms()[-1]:
            verdict = verify(Record(engine, Location(shown, path=path)), progress=progress)
            if not verdict.clean:
                raise CopyFailed(shown, verdict.faults[0].found)
        return head
    finally:
        engine.dispose()


def restore(copy: Path, to: Path, at: datetime, even_if_newer: bool = False) -> tuple[Head, Path | None]:
    """Bring a copy back as the record. What stands there now is set aside under the time, never deleted.

    Raises :class:`~labelkit.errors.record.RestoreRefused` where the record standing there is sound and holds events
    the copy does not, unless ``even_if_newer``. Gives the head restored and where the former record was put.
    """
    check_file(copy, adapter.APPLICATION)
    checked(copy, str(copy))
    check_writable(to)
    if to.exists() and adapter.in_use(to):
        raise RecordInUse(str(to))
    if to.exists() and not even_if_newer:
        _refuse_if_newer(copy, to)
    making = unfinished_name(to, "restored")
    try:
        with disk_errors(to):
            private_file(making)
            shutil.copyfile(copy, making)
        head = checked(making, str(to))
        with disk_errors(to):
            _fsync(making)
            aside = _set_aside(to, at) if to.exists() else None
            os.replace(making, to)
            _fsync(to.parent)
    finally:
        remove_unfinished(making)
    return head, aside


def _refuse_if_newer(copy: Path, to: Path) -> None:
    try:
        standing = checked(to, str(to)) if not _unfinished(to) else _live_head(to)
    except LabelkitError:
        return  # what stands there is damaged or not a record: that is what copies are for
    brought = checked(copy, str(copy))
    if standing.seq > brought.seq:
        raise RestoreRefused(str(to), standing.seq - brought.seq, brought.seq)


def _unfinished(path: Path) -> bool:
    waiting = path.with_name(path.name + "-wal")
    return waiting.exists() and waiting.stat().st_size > 0


def _live_head(path: Path) -> Head:
    engine = adapter.file_engine(path)
    try:
        with adapter.reading(engine, str(path)) as connection:
            return Reading(connection, str(path)).head()
    finally:
        engine.dispose()


def _set_aside(path: Path, at: datetime) -> Path:
    aside = path.with_name(f"{path.name}.set-aside.{at:%Y-%m-%d-%H%M%S}")
    if aside.exists():
        raise RecordInTheWay(str(aside))
    for end in SIDE_FILES:
        side = path.with_name(path.name + end)
        if side.exists():
            os.replace(side, aside.with_name(aside.name + end))
    os.replace(path, aside)
    return aside


def _fsync(path: Path) -> None:
    if path.is_dir() and not hasattr(os, "O_DIRECTORY"):
        return  # Windows cannot, and need not, sync a folder
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
