"""Copies of a record file: made while stations are at work, verified after writing, and brought back."""

from __future__ import annotations

import os
import re
import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from labelkit.errors import LabelkitError
from labelkit.errors.record import (
    CopyFailed,
    DiskFails,
    DiskFull,
    DiskUnsure,
    OnlyForFiles,
    RecordFolderMissing,
    RecordInTheWay,
    RecordInUse,
    RestoreRefused,
)
from labelkit.record import engine as door
from labelkit.record.counting import Counting, unseen
from labelkit.record.place import SIDE_FILES, Place, beside, check_writable, clear_away, disk, look_at
from labelkit.record.reading import Head, Reading

# While copying, it is the copy's disk that is full and not the record's.
_TROUBLE = {
    DiskFull: "there is no room left for it",
    DiskFails: "the disk does not answer as it should",
    DiskUnsure: "its disk would not confirm that it is safe",
}


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy that was verified, and those that made room for it."""

    path: Path
    events: int
    head: str
    removed: tuple[Path, ...] = ()


def copy_record(path: Path, folder: Path, at: datetime, keep: int | None = None, counting: Counting = unseen) -> Copied:
    """Copy a record into a folder under its name and the time, verify the copy, keep only the last ``keep``.

    Raises :class:`~labelkit.errors.record.CopyFailed`, and then the folder is as it was.
    """
    if path is None:
        raise OnlyForFiles("record copy", "Use pg_dump on the server, or labelkit record export, which works on both.")
    if not folder.is_dir():
        raise RecordFolderMissing(str(folder), str(folder))
    to = folder / f"{path.stem}.{at:%Y-%m-%d-%H%M%S}.copy"
    head = copy_file(path, to, counting)
    old = [each for each in earlier_copies(path, folder) if each != to]
    removed = tuple(old[: max(0, len(old) + 1 - keep)]) if keep else ()
    for each in removed:
        each.unlink()
    return Copied(to, head.seq, head.hash, removed)


def earlier_copies(path: Path, folder: Path) -> list[Path]:
    """The copies of a record in a folder, oldest first: only names that ``record copy`` itself gives."""
    ours = re.compile(re.escape(path.stem) + r"\.\d{4}-\d\d-\d\d-\d{6}\.copy")
    return sorted(each for each in folder.iterdir() if ours.fullmatch(each.name))


def copy_file(path: Path, to: Path, counting: Counting = unseen) -> Head:
    """Copy a record file to a new name and verify the copy from the first event to the last. Its head."""
    if to.exists():
        raise RecordInTheWay(str(to))
    check_writable(to)
    making = beside(to, "new")
    try:
        try:
            with door.told(str(path)):
                door.copy_hot(path, making)
        except tuple(_TROUBLE) as trouble:
            raise CopyFailed(str(to), _TROUBLE[type(trouble)]) from trouble
        head = checked(making, str(to), counting)
        with disk(to):
            _fsync(making)
            os.replace(making, to)
            _fsync(to.parent)
        return head
    finally:
        clear_away(making)


def checked(path: Path, shown: str, counting: Counting = unseen) -> Head:
    """The head of a record file after verifying all of it. Raises :class:`~labelkit.errors.record.CopyFailed`."""
    from labelkit.record.book import Book
    from labelkit.record.verify import verify

    try:
        look_at(path, door.APPLICATION)
    except LabelkitError as refused:
        raise CopyFailed(shown, refused.what.rstrip(".")) from refused
    engine = door.file_engine(path, "immutable")
    try:
        with door.reading(engine, shown) as connection:
            form = door.form_of(connection)
            head = Reading(connection, shown).head()
        if form == door.known_forms()[-1]:
            verdict = verify(Book(engine, Place(shown, path=path)), counting=counting)
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
    look_at(copy, door.APPLICATION)
    checked(copy, str(copy))
    check_writable(to)
    if to.exists() and door.in_use(to):
        raise RecordInUse(str(to))
    if to.exists() and not even_if_newer:
        _refuse_if_newer(copy, to)
    making = beside(to, "restored")
    try:
        with disk(to):
            shutil.copyfile(copy, making)
        head = checked(making, str(to))
        with disk(to):
            _fsync(making)
            aside = _set_aside(to, at) if to.exists() else None
            os.replace(making, to)
            _fsync(to.parent)
    finally:
        clear_away(making)
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
    engine = door.file_engine(path)
    try:
        with door.reading(engine, str(path)) as connection:
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
