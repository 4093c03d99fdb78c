"""The tables as queries see them. How they are made, and kept from change, stands in the migrations."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

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


@dataclass(frozen=True, slots=True)
class Seen:
    """The tables as a reading sees them: whole, or up to a day."""

    event: sa.FromClause
    movement: sa.FromClause
    link: sa.FromClause
    source: sa.FromClause
    party: sa.FromClause
    strike: sa.FromClause

    @property
    def with_strike(self) -> sa.Select:
        """Every event with the number of the one that struck it."""
        whole = self.event.outerjoin(self.strike, self.strike.c.event == self.event.c.seq)
        return sa.select(self.event, self.strike.c.by).select_from(whole)

    def standing(self, rows: sa.FromClause) -> sa.ColumnElement[bool]:
        """Only rows of events that were not struck."""
        return ~sa.exists().where(self.strike.c.event == rows.c.event)


@lru_cache(maxsize=8)
def seen(until: date | None) -> Seen:
    """The tables up to the end of a day, or whole.

    What an event of a later day moved is left out, and so is what its correction moved back; the correction of an event
    that is seen counts, on whatever day it was booked.
    """
    if until is None:
        return Seen(event, movement, link, source, party, strike)
    struck = event.alias("struck")
    happened = event.c.day <= until.isoformat()
    plain = sa.select(event.c.seq).where(happened, event.c.seq.not_in(sa.select(strike.c.by)))
    undone = (
        sa.select(strike.c.by).join(struck, struck.c.seq == strike.c.event).where(struck.c.day <= until.isoformat())
    )
    counted = sa.union_all(plain, undone)

    def upto(table: sa.Table) -> sa.FromClause:
        return sa.select(table).where(table.c.event.in_(counted)).subquery(table.name)

    day = sa.select(event).where(happened).subquery("event")
    return Seen(day, upto(movement), upto(link), upto(source), upto(party), strike)
