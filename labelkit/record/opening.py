"""Opening a record: looked at first, made if wanted, brought up to date after a copy, refused whole otherwise."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from labelkit.errors.record import (
    DiskError,
    NotARecord,
    RecordDamaged,
    RecordMissing,
    RecordNewer,
    RecordNotWritable,
    RecordOlder,
    VersionUnwilling,
)
from labelkit.record import engine as adapter
from labelkit.record.copies import copy_file
from labelkit.record.leftovers import private_file, remove_unfinished, sweep, unfinished_name
from labelkit.record.location import (
    Location,
    check_file,
    check_writable,
    disk_errors,
    may_write,
    parse_location,
)
from labelkit.record.record import Record

sa = adapter.sa


def open_location(where: str | Path, *, create: bool = False, to_read: bool = False) -> Record:
    """See :func:`labelkit.record.open_record`."""
    location = parse_location(where)
    if location.path is not None:
        return _open_file(location, location.path, create, to_read)
    return _open_server(location, str(location.url), create)


# --- files ------------------------------------------------------------------------------------------------------------


def _open_file(location: Location, path: Path, create: bool, to_read: bool) -> Record:
    try:
        check_file(path, adapter.APPLICATION)
    except RecordMissing:
        if not create:
            raise
        _make_file(path)
        check_file(path, adapter.APPLICATION)
    writable = may_write(path)
    swept = tuple(sweep(path.parent)) if writable else ()
    if not writable and not to_read:
        check_writable(path)
    if not writable and _unfinished(path):
        raise RecordNotWritable(
            str(path), f"finished steps still wait in {path.name}-wal, and may not be read from here"
        )
    engine = adapter.file_engine(path, "rw" if writable else "immutable")
    try:
        with adapter.reading(engine, location.shown) as connection:
            form = _check_form(location, adapter.form_of(connection))
        if form != adapter.known_forms()[-1]:
            if not writable:
                raise RecordOlder(location.shown, form, adapter.known_forms()[-1])
            _bring_file_up(location, path, engine, form)
    except UnicodeDecodeError:
        engine.dispose()
        raise RecordDamaged(location.shown, "its form number is garbled") from None
    except BaseException:
        engine.dispose()
        raise
    return Record(engine, location, swept)


def _unfinished(path: Path) -> bool:
    waiting = path.with_name(path.name + "-wal")
    return waiting.exists() and waiting.stat().st_size > 0


def _make_file(path: Path) -> None:
    """Make a new record under another name and put it in place whole, so that nobody ever sees half of one."""
    check_writable(path)
    making = unfinished_name(path, "new")
    remove_unfinished(making)
    engine = adapter.file_engine(making, "rwc")
    with disk_errors(path):
        private_file(making)
    try:
        with adapter.writing(engine, str(path)) as connection:
            connection.rollback()
            for pragma in ("journal_mode = WAL", f"application_id = {adapter.APPLICATION}"):
                connection.connection.cursor().execute(f"PRAGMA {pragma}")
            with connection.begin():
                adapter.bring_up(connection)
        engine.dispose()
        if _unfinished(making):  # the log could not be folded in, and the file alone would be half a record
            raise DiskError(str(path), "what was written could not be brought into one file")
        with disk_errors(path):
            _put_in_place(making, path)
    except FileExistsError:
        pass  # another station made it at the same moment: theirs is as good as ours
    finally:
        engine.dispose()
        remove_unfinished(making)


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


def _bring_file_up(location: Location, path: Path, engine: sa.Engine, form: str) -> None:
    kept = path.with_name(f"{path.name}.before-form-{adapter.known_forms()[-1]}")
    if not kept.exists():
        copy_file(path, kept)
    with suppress(OSError):  # an early labelkit let everybody on the machine read it
        mode = path.stat().st_mode
        path.chmod(mode & (0o770 if mode & 0o020 else 0o700))  # a group that may write shares it on purpose
    with adapter.writing(engine, location.shown) as connection:
        try:
            adapter.bring_up(connection)
            connection.commit()
        except (sa.exc.SQLAlchemyError, ValueError) as trouble:
            raise VersionUnwilling(location.shown, str(kept), str(trouble).splitlines()[0]) from trouble


# --- servers ----------------------------------------------------------------------------------------------------------


def _open_server(location: Location, url: str, create: bool) -> Record:
    engine = adapter.server_engine(url, location.shown)
    try:
        with adapter.database_errors(location.shown), engine.connect() as connection, connection.begin():
            connection.exec_driver_sql("SELECT pg_advisory_xact_lock(%(key)s)", {"key": adapter.APPLICATION})
            form = adapter.form_of(connection)
            if form is None:
                if sa.inspect(connection).has_table("event"):
                    raise NotARecord(location.shown, "it has a table “event” that labelkit did not make")
                if not create:
                    raise RecordMissing(location.shown)
                adapter.bring_up(connection)
            elif _check_form(location, form) != adapter.known_forms()[-1]:
                adapter.bring_up(connection)
    except BaseException:
        engine.dispose()
        raise
    return Record(engine, location)


def _check_form(location: Location, form: str | None) -> str:
    known = adapter.known_forms()
    if form is None:
        raise NotARecord(location.shown, "it has no form number")
    if form not in known and not (form.isdecimal() and form > known[-1]):
        raise RecordDamaged(location.shown, f"its form number is {form!r}, which no labelkit ever gave")
    if form not in known:
        raise RecordNewer(location.shown, form, known[-1])
    return form
