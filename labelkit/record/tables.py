"""The tables as queries see them. How they are made, and kept from change, stands in the migrations."""

from __future__ import annotations

from labelkit.record.engine import sa

_book = sa.MetaData()


def _table(name: str, whole: str, text: str) -> sa.Table:
    columns = [sa.Column(c, sa.BigInteger) for c in whole.split()]
    return sa.Table(name, _book, *columns, *(sa.Column(c, sa.Text) for c in text.split()))


event = _table("event", "seq part", "kind day recorded_at who key body previous hash")
movement = _table("movement", "event line mass_mg count", "account lot size")
link = _table("link", "event mass_mg", "child parent")
source = _table("source", "event line", "lot yard hive harvested")
party = _table("party", "event", "role name")
person = _table("person", "number", "text salt commitment gone")
elsewhere = _table("elsewhere", "", "path what")
strike = _table("strike", "event by instead", "")

# The order in which derived rows give their values.
COLUMNS = {
    "movement": ("event", "line", "account", "lot", "size", "mass_mg", "count"),
    "link": ("event", "child", "parent", "mass_mg"),
    "source": ("event", "line", "lot", "yard", "hive", "harvested"),
    "party": ("event", "role", "name"),
    "strike": ("event", "by", "instead"),
}
DERIVED = {"movement": movement, "link": link, "source": source, "party": party, "strike": strike}
