"""The only module that imports the database engines: SQLite in a file, PostgreSQL when several stations share a record.

SQLAlchemy speaks to both, Alembic brings an older record to today's form. Nothing else of labelkit imports either.
What an engine complains about comes out of here as a refusal with what, why and do.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any
from urllib.parse import quote

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError, NoSuchModuleError

from labelkit.errors import LabelkitError
from labelkit.errors.record import (
    ConnectionLost,
    DiskError,
    DiskFull,
    DriverMissing,
    EngineTooOld,
    NotARecord,
    RecordBusy,
    RecordDamaged,
    RecordNotWritable,
    ServerUnreachable,
    WriteNotConfirmed,
)
from labelkit.record.leftovers import private_file
from labelkit.record.location import may_write

_COMPILED = sa.util.LRUCache[Any, Any](500)
APPLICATION = int.from_bytes(b"lkit", "big")  # how SQLite's own header tells our files from others
OLDEST_SQLITE = (3, 37)  # the first with STRICT tables (2021)
WAIT_SECONDS = 30
FORMS = Path(__file__).parent / "migrations"

# FULL: a commit is on the disk before it is acknowledged. Triggers fire on REPLACE only with recursive_triggers.
_PRAGMAS = (
    "foreign_keys = ON",
    "recursive_triggers = ON",
    "synchronous = FULL",
    "trusted_schema = OFF",
    "cell_size_check = ON",
    "secure_delete = ON",
    f"busy_timeout = {WAIT_SECONDS * 1000}",
)


def __getattr__(name: str):
    # The forms (migrations) take Alembic's "op" from here, and only they pay for importing it.
    if name == "op":
        from alembic import op

        return op
    raise AttributeError(name)


def file_engine(path: Path, mode: str = "rw") -> sa.Engine:
    """An engine on a SQLite file: ``rw`` never makes one, ``rwc`` does, ``immutable`` reads where nothing can be written."""
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise EngineTooOld(sqlite3.sqlite_version, ".".join(map(str, OLDEST_SQLITE)))
    uri = f"file:{quote(str(path.absolute()))}?" + ("immutable=1" if mode == "immutable" else f"mode={mode}")

    def connect() -> Any:
        connection = sqlite3.connect(uri, uri=True, timeout=WAIT_SECONDS, isolation_level=None, check_same_thread=False)
        try:
            for pragma in _PRAGMAS:
                connection.execute(f"PRAGMA {pragma}")
        except (
            UnicodeDecodeError
        ):  # SQLite's complaint quotes what it cannot read, and Python cannot read the complaint
            connection.close()
            raise sqlite3.DatabaseError("the description of its tables is garbled") from None
        return connection

    pool = sa.pool.QueuePool(connect, dialect=_dialect())
    engine = sa.Engine(pool, _dialect(), sa.make_url("sqlite://"), execution_options={"compiled_cache": _COMPILED})
    sa.event.listen(engine, "begin", _begin)
    return engine


@cache
def _dialect() -> sa.Dialect:
    """One dialect for every file: SQLAlchemy keeps what it has compiled by dialect, and a record is opened often."""
    with sa.create_engine("sqlite://").connect() as connection:
        return connection.dialect


def _begin(connection: sa.Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def server_engine(url: str, shown: str) -> sa.Engine:
    """An engine on a PostgreSQL database, by psycopg; ``shown`` is its address for messages."""
    try:
        return sa.create_engine(
            url,
            pool_pre_ping=True,
            connect_args={"application_name": "labelkit", "connect_timeout": 10},
        )
    except (ModuleNotFoundError, NoSuchModuleError):
        raise DriverMissing(shown) from None
    except sa.exc.ArgumentError:
        raise ServerUnreachable(shown, "it is not an address") from None


@contextmanager
def reading(engine: sa.Engine, where: str) -> Iterator[sa.Connection]:
    """A connection that sees one state of the record throughout."""
    with database_errors(where), engine.connect() as connection:
        if engine.dialect.name == "postgresql":
            connection = connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
        with connection.begin():
            yield connection


@contextmanager
def writing(engine: sa.Engine, where: str) -> Iterator[sa.Connection]:
    """A connection that holds the record alone for writing; rolled back unless its transaction is committed."""
    with database_errors(where), engine.connect().execution_options(writes=True) as connection:
        connection.begin()
        if engine.dialect.name == "postgresql":
            connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{WAIT_SECONDS}s'")
            connection.exec_driver_sql("SET LOCAL synchronous_commit = 'on'")
        lock_writers(connection)
        yield connection


def lock_writers(connection: sa.Connection) -> None:
    """Take the record's one writer lock on a server until the transaction ends; nothing to do for a file.

    The function is the owner's, since a station has no right to lock a table it may only add to.
    """
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql("SELECT labelkit_writer_lock()")


@contextmanager
def database_errors(where: str) -> Iterator[None]:
    """Turn what an engine complains about into a refusal that a producer understands."""
    try:
        yield
    except LabelkitError:
        raise
    except DBAPIError as trouble:
        refused = refusal(where, trouble.orig, trouble.connection_invalidated)
        if refused is None:
            raise
        raise refused from trouble
    except sqlite3.Error as trouble:
        refused = refusal(where, trouble)
        if refused is None:
            raise
        raise refused from trouble


def refusal(where: str, trouble: BaseException | None, lost: bool = False) -> LabelkitError | None:
    """The refusal for an engine's complaint; none where the fault is labelkit's own."""
    if isinstance(trouble, sqlite3.ProgrammingError | sqlite3.IntegrityError | sqlite3.InterfaceError):
        return None
    if isinstance(trouble, sqlite3.Error):
        return _from_sqlite(where, getattr(trouble, "sqlite_errorname", "") or "", str(trouble))
    state = getattr(trouble, "sqlstate", None) or ""
    words = (str(trouble).strip().splitlines() or ["no reason given"])[0]
    if lost or state.startswith(("57P", "08")):
        return ConnectionLost(where)
    if state in ("55P03", "40P01", "57014"):
        return RecordBusy(where, WAIT_SECONDS)
    if state.startswith("53"):
        return DiskFull(where) if state == "53100" else ServerUnreachable(where, words)
    if state in ("42501", "25006"):
        return RecordNotWritable(where, words)
    if state.startswith("XX"):
        return RecordDamaged(where, words)
    return ServerUnreachable(where, words) if isinstance(trouble, OSError) or not state else None


def _from_sqlite(where: str, name: str, words: str) -> LabelkitError:
    for start, make in (
        ("SQLITE_BUSY", lambda: RecordBusy(where, WAIT_SECONDS)),
        ("SQLITE_LOCKED", lambda: RecordBusy(where, WAIT_SECONDS)),
        ("SQLITE_FULL", lambda: DiskFull(where)),
        ("SQLITE_IOERR_FSYNC", lambda: WriteNotConfirmed(where)),
        ("SQLITE_IOERR", lambda: DiskError(where, words)),
        ("SQLITE_NOTADB", lambda: NotARecord(where, "it is not a database file")),
        ("SQLITE_READONLY", lambda: RecordNotWritable(where, words)),
        ("SQLITE_CANTOPEN", lambda: RecordNotWritable(where, words)),
        ("SQLITE_PERM", lambda: RecordNotWritable(where, words)),
    ):
        if name.startswith(start):
            return make()
    return RecordDamaged(where, words)


def copy_hot(path: Path, to: Path) -> None:
    """Copy a SQLite file while others write, by the engine's own backup, into one file without a log beside it."""
    # A connection that may only read would leave its shared-memory file behind.
    how = "mode=rw" if may_write(path) else "immutable=1"
    source = sqlite3.connect(f"file:{quote(str(path.absolute()))}?{how}", uri=True, timeout=WAIT_SECONDS)
    try:
        private_file(to)
        target = sqlite3.connect(to, isolation_level=None)
        try:
            target.execute("PRAGMA synchronous = FULL")
            source.backup(target)
            target.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        finally:
            target.close()
    finally:
        source.close()


def compact(path: Path) -> bool:
    """Write a SQLite file anew without what was deleted, and empty its log; whether nothing is left in the log.

    Another station that has the file open keeps the log; then it goes when the last of them closes.
    """
    connection = sqlite3.connect(
        f"file:{quote(str(path.absolute()))}?mode=rw", uri=True, timeout=2, isolation_level=None
    )
    try:
        connection.execute("PRAGMA secure_delete = ON")
        connection.execute("VACUUM")
        busy, *_ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        return not busy
    finally:
        connection.close()


def forget_in_copy(path: Path, commitments: Collection[str], texts: Collection[str]) -> int:
    """Take people out of another file of this record; how many. A file of the first form holds them in its chain."""
    connection = sqlite3.connect(
        f"file:{quote(str(path.absolute()))}?mode=rw", uri=True, timeout=2, isolation_level=None
    )
    try:
        has = {row[1] for row in connection.execute("PRAGMA table_info(person)")}
        connection.execute("PRAGMA secure_delete = ON")
        if "commitment" in has:
            change, where, values = (
                "text = NULL, salt = NULL, gone = 'forgotten after this copy was made'",
                "commitment",
                commitments,
            )
        else:
            change, where, values = "text = NULL", "text", texts
        signs = ", ".join("?" * len(values))
        gone = has and f"UPDATE person SET {change} WHERE text IS NOT NULL AND {where} IN ({signs})"
        return connection.execute(gone, tuple(values)).rowcount if gone else 0
    finally:
        connection.close()


def compact_server(engine: sa.Engine) -> bool:
    """Let the server write the table of people anew; whether it did, which only the table's owner may ask for."""
    with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        file = "SELECT pg_relation_filenode('person')"
        before = connection.exec_driver_sql(file).scalar()
        connection.exec_driver_sql("VACUUM FULL person")
        return bool(connection.exec_driver_sql(file).scalar() != before)


def in_use(path: Path) -> bool:
    """Whether anybody else has a SQLite file open: a connection in WAL mode holds a shared lock as long as it lives."""
    connection = sqlite3.connect(
        f"file:{quote(str(path.absolute()))}?mode=rw", uri=True, timeout=0, isolation_level=None
    )
    try:
        connection.execute("PRAGMA locking_mode = EXCLUSIVE")
        connection.execute("BEGIN EXCLUSIVE")
        connection.execute("ROLLBACK")
        return False
    except sqlite3.OperationalError as told_off:
        return (getattr(told_off, "sqlite_errorname", "") or "").startswith("SQLITE_BUSY")
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return False  # too damaged to tell, and to be used
    finally:
        connection.close()


# --- forms of the record -------------------------------------------------------------------------------------------


_ONE_AT_A_TIME = threading.Lock()  # Alembic keeps what it is doing in the module, so two threads would mix


def known_forms() -> list[str]:
    """The forms of the record this labelkit knows, oldest first."""
    return sorted(file.name[:4] for file in (FORMS / "versions").glob("[0-9]*.py"))


def form_of(connection: sa.Connection) -> str | None:
    """The form a database has; nothing where it has none."""
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    return connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()


def bring_up(connection: sa.Connection, to: str = "head") -> None:
    """Bring a database to today's form, inside the transaction that is open."""
    from alembic.config import Config
    from alembic.runtime.environment import EnvironmentContext
    from alembic.script import ScriptDirectory

    forms = ScriptDirectory(str(FORMS))
    with (
        _ONE_AT_A_TIME,
        EnvironmentContext(Config(), forms, fn=lambda now, _: forms._upgrade_revs(to, now)) as environment,
    ):
        environment.configure(connection=connection, transactional_ddl=True)
        environment.run_migrations()


def form_modules() -> Iterator[ModuleType]:
    """The modules that make each form, newest first."""
    from alembic.script import ScriptDirectory

    return (form.module for form in ScriptDirectory(str(FORMS)).walk_revisions())
