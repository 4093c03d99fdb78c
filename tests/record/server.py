"""A PostgreSQL server of our own for the length of a test run: unprivileged, in a temporary folder, no network."""

from __future__ import annotations

import atexit
import itertools
import os
import shutil
import subprocess
import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

from tests.needs import postgres_programs, step_aside

_numbers = itertools.count(1)


@lru_cache(maxsize=1)
def _running() -> Path:
    """The folder of the running server's socket."""
    programs = postgres_programs()
    folder = Path(tempfile.mkdtemp(prefix="labelkit-pg-"))
    # The server refuses to run as root, and rightly.
    lesser = {"user": "nobody", "group": "nogroup", "extra_groups": []} if os.geteuid() == 0 else {}
    if lesser:
        shutil.chown(folder, "nobody", "nogroup")
    quiet = {"check": True, "capture_output": True, "cwd": folder, **lesser}
    data = folder / "data"
    make = ["initdb", "-D", data, "-U", "labelkit", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]
    options = f"-c listen_addresses='' -k {folder} -c max_connections=60 -c shared_buffers=32MB -c fsync=off"
    try:
        subprocess.run([programs / make[0], *make[1:]], **quiet)
        subprocess.run([programs / "pg_ctl", "-D", data, "-o", options, "-l", folder / "log", "-w", "start"], **quiet)
    except (OSError, subprocess.CalledProcessError):
        shutil.rmtree(folder, ignore_errors=True)
        step_aside("PostgreSQL")
    stop = [programs / "pg_ctl", "-D", data, "-m", "immediate", "stop"]
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    atexit.register(lambda: subprocess.run(stop, capture_output=True, cwd="/", **lesser))
    return folder


def empty_database(template: str = "template1") -> str:
    """The address of a new database with nothing in it, for its owner."""
    folder, name = _running(), f"season{next(_numbers)}"
    _asked(f"CREATE DATABASE {name} TEMPLATE {template}")
    return f"postgresql://labelkit@/{name}?host={folder}"


def new_database() -> str:
    """The address of a new record without events, for a station: a role that may read and add, and nothing else."""
    where = empty_database(_template())
    # What the rights say of the database itself does not come along with its copy.
    _asked(f"REVOKE TEMPORARY ON DATABASE {name_of(where)} FROM PUBLIC")
    return as_station(where)


def name_of(where: str) -> str:
    """The name of the database at an address."""
    return where.partition("?")[0].rpartition("/")[2]


def as_station(where: str) -> str:
    """The same place for a station."""
    return where.replace("://labelkit@", "://ada@")


def as_owner(where: str) -> str:
    """The same place for the owner of the record; a file stays a file."""
    return where.replace("://ada@", "://labelkit@")


def owned(record) -> Any:
    """The record opened once more, by its owner: only the owner takes a person out."""
    from labelkit.record import open_record

    return open_record(as_owner(str(record.location.url or record.path)))


@lru_cache(maxsize=1)
def _template() -> str:
    """A record without events, to be copied, with the rights that labelkit itself writes down for stations."""
    import psycopg

    from labelkit.record import open_record
    from labelkit.record.roles import station_rights

    where = empty_database()
    with open_record(where, create=True) as record:
        rights = station_rights(record, "labelkit_station")
    with psycopg.connect(where, autocommit=True) as connection:
        connection.execute(rights)
    _asked("CREATE ROLE ada LOGIN IN ROLE labelkit_station")
    return name_of(where)


def _asked(statement: str) -> None:
    import psycopg

    with psycopg.connect(host=str(_running()), user="labelkit", dbname="postgres", autocommit=True) as connection:
        connection.execute(statement)
