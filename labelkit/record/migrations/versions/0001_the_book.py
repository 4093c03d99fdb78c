"""The record: events in a chain, and the rows that make them findable.

A form, once published, is never edited; the next change is the next file.
"""

from labelkit.record.engine import op

revision = "0001"
down_revision = None

APPEND_ONLY = ("event", "movement", "link", "source", "party", "strike")

TABLES = """
CREATE TABLE event (
    seq INTEGER NOT NULL PRIMARY KEY,
    kind TEXT NOT NULL,
    day TEXT NOT NULL,
    recorded_at TEXT NOT NULL,
    who TEXT NOT NULL,
    key TEXT,
    part INTEGER NOT NULL,
    body TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash TEXT NOT NULL
);
CREATE UNIQUE INDEX event_key ON event (key, part) WHERE key IS NOT NULL;
CREATE INDEX event_kind ON event (kind);
CREATE TABLE movement (
    event INTEGER NOT NULL REFERENCES event (seq),
    line INTEGER NOT NULL,
    account TEXT NOT NULL,
    lot TEXT NOT NULL,
    size TEXT NOT NULL,
    mass_mg INTEGER NOT NULL,
    count INTEGER NOT NULL,
    PRIMARY KEY (event, line)
);
CREATE INDEX movement_lot ON movement (lot);
CREATE TABLE link (
    event INTEGER NOT NULL REFERENCES event (seq),
    child TEXT NOT NULL,
    parent TEXT NOT NULL,
    mass_mg INTEGER NOT NULL,
    PRIMARY KEY (event, child, parent)
);
CREATE INDEX link_child ON link (child);
CREATE INDEX link_parent ON link (parent);
CREATE TABLE source (
    event INTEGER NOT NULL REFERENCES event (seq),
    line INTEGER NOT NULL,
    lot TEXT NOT NULL,
    yard TEXT NOT NULL,
    hive TEXT NOT NULL,
    harvested TEXT NOT NULL,
    PRIMARY KEY (event, line)
);
CREATE INDEX source_yard ON source (yard);
CREATE INDEX source_hive ON source (hive);
CREATE INDEX source_harvested ON source (harvested);
CREATE TABLE party (
    event INTEGER NOT NULL REFERENCES event (seq),
    role TEXT NOT NULL,
    name TEXT NOT NULL,
    PRIMARY KEY (event, role, name)
);
CREATE INDEX party_name ON party (name);
CREATE TABLE strike (
    event INTEGER NOT NULL PRIMARY KEY REFERENCES event (seq),
    by INTEGER NOT NULL REFERENCES event (seq),
    instead INTEGER NOT NULL
)
"""

# BEFORE INSERT sees the row before REPLACE removes the old one, so it holds even for programs that leave
# recursive_triggers off; it also keeps the chain unbroken whoever writes.
SQLITE_CHAIN = """
CREATE TRIGGER event_follows BEFORE INSERT ON event
WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM event)
  OR NEW.previous <> coalesce((SELECT hash FROM event ORDER BY seq DESC LIMIT 1), substr(hex(zeroblob(32)), 1, 64))
BEGIN SELECT RAISE(ABORT, 'an event must follow the last one'); END
"""

SERVER_FUNCTIONS = {
    "labelkit_append_only": """
BEGIN RAISE EXCEPTION 'the record is append-only'; END
""",
    "labelkit_follows": """
DECLARE last record;
BEGIN
    SELECT seq, hash INTO last FROM event ORDER BY seq DESC LIMIT 1;
    IF NEW.seq <> coalesce(last.seq, 0) + 1 OR NEW.previous <> coalesce(last.hash, repeat('0', 64)) THEN
        RAISE EXCEPTION 'an event must follow the last one';
    END IF;
    RETURN NEW;
END
""",
}

# Rule by name: on which table, when, and which function it calls. Verifying asks for exactly these.
SERVER_RULES = {
    "event_follows": ("event", "BEFORE INSERT", "FOR EACH ROW", "labelkit_follows"),
    **{
        f"{table}_no_change": (table, "BEFORE UPDATE OR DELETE", "FOR EACH ROW", "labelkit_append_only")
        for table in APPEND_ONLY
    },
    **{
        f"{table}_no_truncate": (table, "BEFORE TRUNCATE", "FOR EACH STATEMENT", "labelkit_append_only")
        for table in APPEND_ONLY
    },
}


def upgrade() -> None:
    """Make the tables and the rules that refuse to change them."""
    server = op.get_bind().dialect.name == "postgresql"
    for statement in TABLES.strip().split(";\n"):
        op.execute(_for_server(statement) if server else _for_file(statement))
    for statement in _server_rules() if server else _file_rules():
        op.get_bind().exec_driver_sql(statement)


def _for_server(statement: str) -> str:
    return statement.replace("INTEGER", "BIGINT").replace("TEXT", 'TEXT COLLATE "C"')


def _for_file(statement: str) -> str:
    if not statement.startswith("CREATE TABLE"):
        return statement
    compact = ", WITHOUT ROWID" if "PRIMARY KEY (" in statement else ""
    return statement + " STRICT" + compact


def _file_rules():
    yield SQLITE_CHAIN
    keys = {"link": ("event", "child", "parent"), "party": ("event", "role", "name"), "strike": ("event",)}
    for table in APPEND_ONLY:
        for change in ("UPDATE", "DELETE"):
            yield (
                f"CREATE TRIGGER {table}_no_{change.lower()} BEFORE {change} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END"
            )
        if table != "event":
            same = " AND ".join(f"{c} = NEW.{c}" for c in keys.get(table, ("event", "line")))
            yield (
                f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
                f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) "
                "BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END"
            )


def _server_rules():
    for name, body in SERVER_FUNCTIONS.items():
        yield f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $${body}$$"
    for name, (table, when, each, function) in SERVER_RULES.items():
        yield f"CREATE TRIGGER {name} {when} ON {table} {each} EXECUTE FUNCTION {function}()"
