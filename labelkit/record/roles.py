"""The rights of a station on a server: to read and to add, and nothing else."""

from __future__ import annotations

from labelkit.errors.record import OnlyForServers
from labelkit.record.record import Record
from labelkit.record.tables import DERIVED

_ADDED_TO = ("event", *DERIVED, "person", "elsewhere")


def station_rights(record: Record, role: str) -> str:
    """The SQL that makes a role which may read the record and book into it. To be run by the record's owner.

    Raises :class:`~labelkit.errors.record.OnlyForServers`.
    """
    if record.path is not None:
        raise OnlyForServers("record roles")
    with record.reading() as state:
        ask = state.connection.exec_driver_sql
        named = ask(
            "SELECT quote_ident(current_database()), quote_ident(current_schema()), quote_ident(%(role)s)",
            {"role": role},
        )
        database, schema, quoted = named.one()
        literal = ask("SELECT quote_literal(%(role)s)", {"role": role}).scalar()
    tables = ", ".join(f"{schema}.{table}" for table in _ADDED_TO)
    return f"""\
-- Rights of a station on a labelkit record: it reads and adds; nobody but the owner changes a rule or forgets a person.
-- Run this as the owner of the record, once; running it again changes nothing.
DO $$ BEGIN
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = {literal}) THEN CREATE ROLE {quoted} NOLOGIN; END IF;
END $$;
REVOKE CREATE ON SCHEMA {schema} FROM PUBLIC;
-- With a temporary table a station could hide the record from the rules of its own session.
REVOKE TEMPORARY ON DATABASE {database} FROM PUBLIC;
GRANT CONNECT ON DATABASE {database} TO {quoted};
GRANT USAGE ON SCHEMA {schema} TO {quoted};
GRANT SELECT, INSERT ON {tables} TO {quoted};
GRANT SELECT ON {schema}.alembic_version TO {quoted};
GRANT EXECUTE ON FUNCTION {schema}.labelkit_writer_lock() TO {quoted};
-- Then, for each station: CREATE ROLE ada LOGIN PASSWORD '...' IN ROLE {quoted};
"""
