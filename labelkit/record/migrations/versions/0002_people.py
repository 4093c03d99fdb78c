"""Names and addresses of people stand outside the chain, so that they can be taken out without breaking it.

Events of form 0001 hold them in the clear and stay as they are.
"""

from labelkit.record.engine import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """The one table that may be changed: a number, and the text it stands for until it is forgotten."""
    server = op.get_bind().dialect.name == "postgresql"
    whole, text, end = ("BIGINT", 'TEXT COLLATE "C"', "") if server else ("INTEGER", "TEXT", " STRICT")
    op.execute(f"CREATE TABLE person (number {whole} NOT NULL PRIMARY KEY, text {text} UNIQUE){end}")
