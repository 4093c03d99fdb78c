"""Names of people get a salt and a commitment; where copies were put is remembered; stations need fewer rights.

Events of form 0002 give numbers without a commitment and stay as they are; a later event commits to them.
"""

from labelkit.record.engine import op
from labelkit.record.people import commitment, new_salt

revision = "0003"
down_revision = "0002"

NEW_COLUMNS = (("salt", ""), ("commitment", ""), ("gone", " NOT NULL DEFAULT ''"))

# The one change of a person's place that is let through takes text and salt away.
FILE_RULES = (
    """
CREATE TRIGGER person_only_forgets BEFORE UPDATE ON person
WHEN NEW.text IS NOT NULL OR NEW.salt IS NOT NULL OR NEW.number <> OLD.number OR NEW.commitment IS NOT OLD.commitment
BEGIN SELECT RAISE(ABORT, 'a person can only be forgotten'); END
""",
    "CREATE TRIGGER person_no_delete BEFORE DELETE ON person BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END",
    """
CREATE TRIGGER person_no_replace BEFORE INSERT ON person
WHEN EXISTS (SELECT 1 FROM person WHERE number = NEW.number OR text = NEW.text)
BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END
""",
)

SERVER_FUNCTIONS = {
    "labelkit_only_forgets": """
BEGIN
    IF NEW.text IS NOT NULL OR NEW.salt IS NOT NULL OR NEW.number <> OLD.number
       OR NEW.commitment IS DISTINCT FROM OLD.commitment THEN
        RAISE EXCEPTION 'a person can only be forgotten';
    END IF;
    RETURN NEW;
END
""",
}
SERVER_RULES = {
    "person_only_forgets": ("person", "BEFORE UPDATE", "FOR EACH ROW", "labelkit_only_forgets"),
    "person_no_delete": ("person", "BEFORE DELETE", "FOR EACH ROW", "labelkit_append_only"),
    "person_no_truncate": ("person", "BEFORE TRUNCATE", "FOR EACH STATEMENT", "labelkit_append_only"),
}
# Locking a table against writers takes more rights than a station has; the owner's function lends it this one.
SERVER_LOCK = "labelkit_writer_lock"
SERVER_LOCK_BODY = "LOCK TABLE event IN EXCLUSIVE MODE"


def upgrade() -> None:
    """Give every name that is still kept a salt of its own and a commitment."""
    connection = op.get_bind()
    server = connection.dialect.name == "postgresql"
    text = 'TEXT COLLATE "C"' if server else "TEXT"
    for name, rule in NEW_COLUMNS:
        op.execute(f"ALTER TABLE person ADD COLUMN {name} {text}{rule}")
    op.execute(
        f"CREATE TABLE elsewhere (path {text} NOT NULL PRIMARY KEY, what {text} NOT NULL)"
        + ("" if server else " STRICT")
    )
    for number, words in connection.exec_driver_sql("SELECT number, text FROM person").all():
        _commit_to(connection, number, words)
    for statement in _server_rules(connection) if server else FILE_RULES:
        connection.exec_driver_sql(statement)


def _commit_to(connection, number: int, words: str | None) -> None:
    sign = "%s" if connection.dialect.name == "postgresql" else "?"
    given = f"SELECT 1 FROM event WHERE body LIKE {sign} LIMIT 1"
    if words is None:
        change, values = f"gone = {sign}", ("taken out by an earlier labelkit",)
    elif not connection.exec_driver_sql(given, (f'%~{number}"%',)).first():
        change, values = f"gone = {sign}", ("no event gives it",)
    else:
        salt = new_salt()
        change, values = f"salt = {sign}, commitment = {sign}", (salt, commitment(salt, words))
    connection.exec_driver_sql(f"UPDATE person SET {change} WHERE number = {sign}", (*values, number))


def _server_rules(connection):
    for name, body in SERVER_FUNCTIONS.items():
        yield f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $${body}$$"
    for name, (table, when, each, function) in SERVER_RULES.items():
        yield f"CREATE TRIGGER {name} {when} ON {table} {each} EXECUTE FUNCTION {function}()"
    schema = connection.exec_driver_sql("SELECT quote_ident(current_schema())").scalar()
    yield (
        f"CREATE FUNCTION {SERVER_LOCK}() RETURNS void LANGUAGE sql SECURITY DEFINER "
        f"SET search_path TO {schema}, pg_temp AS $${SERVER_LOCK_BODY}$$"
    )
    yield f"REVOKE ALL ON FUNCTION {SERVER_LOCK}() FROM PUBLIC"
