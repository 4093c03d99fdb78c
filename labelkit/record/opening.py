"""Opening a record: looked at first, made if wanted, brought up to date after a copy, refused whole otherwise."""

from __future__ import annotations

import os
from pathlib import Path

from labelkit.errors.record import (
    DiskFails,
    NotARecord,
    RecordMissing,
    RecordNewer,
    RecordNotWritable,
    RecordOlder,
    VersionUnwilling,
)
from labelkit.record import engine as door
from labelkit.record.book import Book
from labelkit.record.copies import copy_file
from labelkit.record.place import Place, beside, check_writable, clear_away, disk, look_at, may_write, place_of

sa = door.sa


def open_place(where: str | Path, *, create: bool = False, to_read: bool = False) -> Book:
    """See :func:`labelkit.record.open_book`."""
    place = place_of(where)
    if place.path is None:
        return _open_server(place, create)
    return _open_file(place, create, to_read)


# --- files ------------------------------------------------------------------------------------------------------------


def _open_file(place: Place, create: bool, to_read: bool) -> Book:
    path = place.path
    try:
        look_at(path, door.APPLICATION)
    except RecordMissing:
        if not create:
            raise
        _make_file(path)
        look_at(path, door.APPLICATION)
    writable = may_write(path)
    if not writable and not to_read:
        check_writable(path)
    if not writable and _unfinished(path):
        raise RecordNotWritable(
            str(path), f"finished steps still wait in {path.name}-wal, and may not be read from here"
        )
    engine = door.file_engine(path, "rw" if writable else "immutable")
    try:
        with door.reading(engine, place.shown) as connection:
            form = _check_form(place, door.form_of(connection))
        if form != door.known_forms()[-1]:
            if not writable:
                raise RecordOlder(place.shown, form, door.known_forms()[-1])
            _bring_file_up(place, engine, form)
    except BaseException:
        engine.dispose()
        raise
    return Book(engine, place)


def _unfinished(path: Path) -> bool:
    waiting = path.with_name(path.name + "-wal")
    return waiting.exists() and waiting.stat().st_size > 0


def _make_file(path: Path) -> None:
    """Make a new record under another name and put it in place whole, so that nobody ever sees half of one."""
    check_writable(path)
    making = beside(path, "new")
    clear_away(making)
    engine = door.file_engine(making, "rwc")
    try:
        with door.writing(engine, str(path)) as connection:
            connection.rollback()
            connection.connection.driver_connection.execute("PRAGMA journal_mode = WAL")
            connection.connection.driver_connection.execute(f"PRAGMA application_id = {door.APPLICATION}")
            with connection.begin():
                door.bring_up(connection)
        engine.dispose()
        if _unfinished(making):  # the log could not be folded in, and the file alone would be half a record
            raise DiskFails(str(path), "what was written could not be brought into one file")
        with disk(path):
            _put_in_place(making, path)
    except FileExistsError:
        pass  # another station made it at the same moment: theirs is as good as ours
    finally:
        engine.dispose()
        clear_away(making)


def _put_in_place(made: Path, path: Path) -> None:
    with made.open("rb") as written:
        os.fsync(written.fileno())
    try:
        os.link(made, path)
    except (NotImplementedError, PermissionError, OSError) as unable:
        if isinstance(unable, FileExistsError):
            raise
        if path.exists():
            raise FileExistsError(str(path)) from None
        os.rename(made, path)  # disks without hard links
    if hasattr(os, "O_DIRECTORY"):
        folder = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _bring_file_up(place: Place, engine: sa.Engine, form: str) -> None:
    kept = place.path.with_name(f"{place.path.name}.before-form-{door.known_forms()[-1]}")
    if not kept.exists():
        copy_file(place.path, kept)
    with door.writing(engine, place.shown) as connection:
        try:
            door.bring_up(connection)
            connection.commit()
        except (sa.exc.SQLAlchemyError, ValueError) as trouble:
            raise VersionUnwilling(place.shown, str(kept), str(trouble).splitlines()[0]) from trouble


# --- servers ----------------------------------------------------------------------------------------------------------


def _open_server(place: Place, create: bool) -> Book:
    engine = door.server_engine(place.url)
    try:
        with door.told(place.shown), engine.connect() as connection, connection.begin():
            connection.exec_driver_sql("SELECT pg_advisory_xact_lock(%(key)s)", {"key": door.APPLICATION})
            form = door.form_of(connection)
            if form is None:
                if sa.inspect(connection).has_table("event"):
                    raise NotARecord(place.shown, "it has a table “event” that labelkit did not make")
                if not create:
                    raise RecordMissing(place.shown)
                door.bring_up(connection)
            elif _check_form(place, form) != door.known_forms()[-1]:
                door.bring_up(connection)
    except BaseException:
        engine.dispose()
        raise
    return Book(engine, place)


def _check_form(place: Place, form: str | None) -> str:
    known = door.known_forms()
    if form is None:
        raise NotARecord(place.shown, "it has no form number")
    if form not in known:
        raise RecordNewer(place.shown, form, known[-1])
    return form
