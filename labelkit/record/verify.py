"""Verifying: every event against its hash and the one before, every derived row against its event, and the seal.

What is found is located: which event was changed, which are missing, where the order was changed. A cut-off end, or a
record written anew from the start, agrees with itself; only a seal on paper or a copy elsewhere shows it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from itertools import islice
from typing import Any, Protocol

from labelkit.errors.record import DiskError
from labelkit.record import engine as adapter
from labelkit.record.chain import BEGINNING, Seal, digest, envelope, seal_of
from labelkit.record.clock import CLOCKS_AGREE_TO, ClockSaid
from labelkit.record.codec import Unkeepable, read, written
from labelkit.record.derive import rows_of
from labelkit.record.guards import rules_expected, rules_found
from labelkit.record.kinds import KINDS
from labelkit.record.people import Forget
from labelkit.record.progress import Progress, no_progress
from labelkit.record.reading import AT_HAND, Reading
from labelkit.record.tables import COLUMNS, DERIVED, event, movement
from labelkit.record.verify_people import Given, people_faults, withheld
from labelkit.trace.booked import Correct

sa = adapter.sa
_AT_ONCE = 1000
_IOERR = 10  # SQLITE_IOERR, the lower byte of every code of a disk that fails
_ENGINE_CODE = re.compile(r"error code=(\d+)")


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that is not as it was booked: where (an event's number, or 0 for the whole), of what sort, and what."""

    seq: int
    sort: str  # changed, missing, order, unreadable, rows, person, clock, balance, rules, engine, seal
    found: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """What verifying found."""

    events: int
    head: str
    seal: Seal
    faults: tuple[Fault, ...]
    withheld: dict[int, str] = field(default_factory=dict)  # numbers whose names are not here, and why

    @property
    def clean(self) -> bool:
        """Whether all is as it was booked."""
        return not self.faults


@dataclass(slots=True)
class _Walk:
    """Where the walk along the chain stands."""

    seq: int = 0
    hash: str = BEGINNING
    at: datetime | None = None
    key: tuple[str | None, int] = (None, -1)
    events: int = 0
    sealed: bool = False
    faults: list[Fault] = field(default_factory=list)
    given: Given = field(default_factory=Given)
    withheld: dict[int, str] = field(default_factory=dict)

    def fault(self, seq: int, sort: str, found: str) -> None:
        self.faults.append(Fault(seq, sort, found))


class AsItIs(Protocol):
    """Whatever gives its record to read without judging it."""

    def as_it_is(self) -> AbstractContextManager[Reading]:
        """One state of it."""


def verify(record: AsItIs, seal: Seal | None = None, progress: Progress = no_progress) -> Verdict:
    """Verify the whole record, and against a seal where one is given. Changes nothing.

    ``progress`` is told how many of the events are verified.

    Raises :class:`~labelkit.errors.record.DiskError` where the disk cannot be read: that says nothing of the record.
    """
    walk = _Walk()
    with _reading_stops(walk), record.as_it_is() as state:
        _rules(state.connection, walk)
        _along(state, walk, seal, progress)
        _balances(state.connection, walk)
    if seal is not None and not walk.sealed and not any(f.sort == "seal" for f in walk.faults):
        walk.fault(walk.seq, "seal", f"the seal is over {seal.seq} events, and the record ends at event {walk.seq}")
    return Verdict(walk.events, walk.hash, seal_of(walk.seq, walk.hash), tuple(walk.faults), walk.withheld)


def damage(state: Reading) -> tuple[Fault, ...]:
    """What of a record is not as it was booked; whether its rules stand is not looked at."""
    walk = _Walk()
    with _reading_stops(walk):
        _along(state, walk, None, no_progress)
    return tuple(walk.faults)


def _along(state: Reading, walk: _Walk, seal: Seal | None, progress: Progress) -> None:
    _engine(state.connection, walk, state.where)
    with progress("Verifying", _how_many(state.connection)) as on_progress:
        for rows in _portions(state.connection):
            happened = {row.seq: _event(row, walk, seal) for row in rows}
            _rows(state.connection, happened, walk)
            on_progress(walk.events)
    _people(state, walk)


@contextmanager
def _reading_stops(walk: _Walk) -> Iterator[None]:
    """Where the engine or the data let nothing more be read, that is what was found."""
    try:
        yield
    except DiskError:
        raise
    except adapter.LabelkitError as refused:
        walk.fault(walk.seq, "engine", f"{refused.what.rstrip('.')}; reading stopped after event {walk.seq}")
    except (TypeError, ValueError, LookupError, ArithmeticError, sa.exc.DBAPIError):
        # What stands there is not even of the right sort.
        walk.fault(
            walk.seq, "engine", f"what comes after event {walk.seq} cannot be read at all; reading stopped there"
        )


def _how_many(connection: sa.Connection) -> int:
    last = connection.execute(sa.select(sa.func.max(event.c.seq))).scalar()
    return last if isinstance(last, int) else 0


def _engine(connection: sa.Connection, walk: _Walk, where: str) -> None:
    if connection.dialect.name != "sqlite":
        return
    for (words,) in connection.exec_driver_sql("PRAGMA integrity_check(20)"):
        if any(int(code) & 0xFF == _IOERR for code in _ENGINE_CODE.findall(words)):
            raise DiskError(where, "some of it cannot be read")
        if words != "ok":
            walk.fault(0, "engine", words)
    for table, row, parent, _ in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        walk.fault(0, "rows", f"row {row} of {table} belongs to no {parent}")


def _rules(connection: sa.Connection, walk: _Walk) -> None:
    """The rules that refuse changes are part of the record: whoever takes them out leaves that trace."""
    expected, found = rules_expected(connection), rules_found(connection)
    for name in sorted(expected.keys() | found.keys()):
        if name not in found:
            walk.fault(0, "rules", f"the rule or table {name} was taken out")
        elif name not in expected:
            walk.fault(0, "rules", f"{name} was put in; labelkit did not make it")
        elif expected[name] != found[name]:
            walk.fault(0, "rules", f"the rule or table {name} was changed")


def _portions(connection: sa.Connection) -> Iterator[list[Any]]:
    wanted = sa.select(event).order_by(event.c.seq)
    rows = iter(connection.execute(wanted, execution_options={"yield_per": _AT_ONCE}))
    while portion := list(islice(rows, _AT_ONCE)):
        yield portion


def _event(row: Any, walk: _Walk, seal: Seal | None) -> Any:
    """Check one event against its hash, its place and its form; the event, where it can be read."""
    walk.events += 1
    if row.seq != walk.seq + 1:
        _gap(row, walk)
    elif row.previous != walk.hash:
        walk.fault(row.seq, "order", f"event {row.seq} does not follow event {walk.seq} as it stands now")
    text = envelope(row.seq, row.kind, row.day, row.recorded_at, row.who, row.key, row.part, row.body)
    if digest(row.previous, text) != row.hash:
        walk.fault(row.seq, "changed", f"event {row.seq} ({row.kind} of {row.day}) was changed after it was booked")
    _time(row, walk)
    _part(row, walk)
    walk.seq, walk.hash = row.seq, row.hash
    if seal is not None and row.seq == seal.seq:
        walk.sealed = True
        if not seal.fits(row.hash):
            walk.fault(row.seq, "seal", f"the hash of event {row.seq} is not the sealed one")
    return _readable(row, walk)


def _gap(row: Any, walk: _Walk) -> None:
    missing = f"event {walk.seq + 1}" if row.seq == walk.seq + 2 else f"events {walk.seq + 1} to {row.seq - 1}"
    walk.fault(row.seq, "missing", f"{missing} cannot be found; event {row.seq} comes straight after event {walk.seq}")


def _time(row: Any, walk: _Walk) -> None:
    try:
        at = datetime.fromisoformat(row.recorded_at)
        backwards = walk.at is not None and at < walk.at - CLOCKS_AGREE_TO
    except (ValueError, TypeError):
        walk.fault(
            row.seq, "changed", f"event {row.seq} was booked at “{row.recorded_at}”, which is no time with a zone"
        )
        return
    if backwards and row.kind != ClockSaid.kind:  # a person said that the clock is right
        walk.fault(row.seq, "clock", f"event {row.seq} was booked at {at.isoformat()}, before the one it follows")
    walk.at = at


def _part(row: Any, walk: _Walk) -> None:
    key, part = walk.key
    if row.part != 0 and (row.key, row.part) != (key, part + 1):
        walk.fault(
            row.seq, "order", f"event {row.seq} is part {row.part} of a step whose part {row.part - 1} is not before it"
        )
    walk.key = (row.key, row.part)


def _readable(row: Any, walk: _Walk) -> Any:
    if row.kind not in KINDS:
        walk.fault(
            row.seq, "unreadable", f"event {row.seq} is of the kind “{row.kind}”, which this labelkit does not know"
        )
        return None
    try:
        happened = read(KINDS[row.kind], row.body)
        if written(happened) != row.body or happened.day.isoformat() != row.day:
            walk.fault(row.seq, "changed", f"event {row.seq} is not written the way labelkit writes")
        if "~" in row.body or row.kind == Forget.kind:
            walk.given.note(row.seq, happened)
        return happened
    except Unkeepable as unclear:
        walk.fault(row.seq, "unreadable", f"event {row.seq} cannot be read: {unclear}")
        return None


def _rows(connection: sa.Connection, happened: dict[int, Any], walk: _Walk) -> None:
    """Compare the derived rows of some events with what the events say."""
    first, last = min(happened), max(happened)
    expected: dict[str, dict[int, list]] = {name: defaultdict(list) for name in DERIVED}
    for seq, each in happened.items():
        if each is None:
            continue
        derived = rows_of(seq, each, _struck(connection, each, happened))
        for name in DERIVED:
            for row in getattr(derived, name):
                expected[name][seq].append(tuple(row))
    for name, table in DERIVED.items():
        by = table.c.by if name == "strike" else table.c.event
        found: dict[int, list] = defaultdict(list)
        columns = [table.c[c] for c in COLUMNS[name]]
        for row in connection.execute(sa.select(*columns).where(by.between(first, last))):
            found[row[COLUMNS[name].index("by" if name == "strike" else "event")]].append(tuple(row))
        for seq in sorted(found.keys() | expected[name].keys()):
            if happened.get(seq) is not None and sorted(found[seq]) != sorted(expected[name][seq]):
                walk.fault(seq, "rows", f"the {name} rows of event {seq} are not what the event says")
            elif seq not in happened:
                walk.fault(seq, "rows", f"there are {name} rows for event {seq}, which cannot be found")


def _struck(connection: sa.Connection, each: Any, happened: dict[int, Any]) -> Any:
    if not isinstance(each, Correct):
        return None
    if each.corrects in happened:
        return happened[each.corrects]
    row = connection.execute(sa.select(event.c.kind, event.c.body).where(event.c.seq == each.corrects)).first()
    try:
        return read(KINDS[row.kind], row.body) if row and row.kind in KINDS else None
    except Unkeepable:
        return None


def _people(state: Reading, walk: _Walk) -> None:
    kept = tuple(state.people.all())
    for seq, found in people_faults(kept, walk.given):
        walk.fault(seq, "person", found)
    walk.withheld = withheld(kept, walk.given)


def _balances(connection: sa.Connection, walk: _Walk) -> None:
    taken_from = ("bucket", "sold", *AT_HAND)
    rows = connection.execute(
        sa.select(movement.c.account, movement.c.lot, movement.c.size)
        .where(movement.c.account.in_(taken_from))
        .group_by(movement.c.account, movement.c.lot, movement.c.size)
        .having(sa.or_(sa.func.sum(movement.c.mass_mg) < 0, sa.func.sum(movement.c.count) < 0))
    )
    for account, lot, size in rows:
        walk.fault(
            0, "balance", f"more of {' '.join(w for w in (lot, size) if w)} left “{account}” than ever came there"
        )
