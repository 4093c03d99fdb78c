"""Hands that change a record behind its back: rules taken off, a change made, rules put back as they were."""

from __future__ import annotations

import sqlite3
from contextlib import closing


def tamper(path, *statements: str, values: tuple = ()) -> None:
    """Run statements on a record file as somebody would who knows the rules and puts them back afterwards."""
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("PRAGMA foreign_keys = OFF")
        rules = file.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in rules:
            file.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            file.execute(statement, values)
        for _, sql in rules:
            file.execute(sql)
