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


def new_database() -> str:
    """The address of a new, empty database."""
    import psycopg

    folder = _running()
    name = f"season{next(_numbers)}"
    with psycopg.connect(host=str(folder), user="labelkit", dbname="postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"postgresql://labelkit@/{name}?host={folder}"
