"""The unit of work: one step of the season, booked whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from labelkit.errors import unless_said
from labelkit.errors.record import (
    ConnectionLost,
    CorrectionRefused,
    EventUnkeepable,
    EventUnreadable,
    KeyReused,
    LotUnknown,
    OutcomeUnknown,
    RecordInTheWay,
    TimeWithoutZone,
    YearIsClosed,
)
from labelkit.record.chain import digest, envelope
from labelkit.record.clock import ClockSaid, clock_said
from labelkit.record.codec import Unkeepable, read, write
from labelkit.record.derive import Rows, rows_of
from labelkit.record.engine import lock_writers, sa
from labelkit.record.invariants import (
    check_alone,
    check_balances,
    check_days,
    check_holds,
    check_later,
    check_names,
    days_made,
)
from labelkit.record.kinds import KINDS
from labelkit.record.lookup import find_correctable
from labelkit.record.people import (
    Forget,
    Kept,
    People,
    Protect,
    mentions_in,
    names,
    new_salt,
    numbers_in,
    personal_texts,
)
from labelkit.record.reading import Head, Reading
from labelkit.record.tables import COLUMNS, DERIVED, event
from labelkit.record.verify_people import Given
from labelkit.sale.closed_year import BookedLate, YearClosed, closing_of
from labelkit.trace.booked import Booked, Correct
from labelkit.trace.hold import holds_after

_AT_ONCE = 2_000
_WORDS = (ClockSaid.kind, BookedLate.kind)  # kept beside a step, and no part of what a repeat must repeat
_OF_NO_YEAR = (*_WORDS, YearClosed.kind, Forget.kind, Protect.kind)  # they change nothing in a closed year


class Stamped(NamedTuple):
    """An event as it is written down, in the order of its columns."""

    seq: int
    kind: str
    day: str
    recorded_at: str
    who: str
    key: str | None
    part: int
    body: str
    previous: str
    hash: str


class Work(Reading):
    """A step in the making: reads the record, adds events to it, and keeps them only if committed.

    Two repeats of one step under the same ``key`` record it once: ``booked_before`` then holds what was booked the
    first time, and committing the same events again changes nothing.
    """

    def __init__(
        self,
        connection: sa.Connection,
        where: str,
        who: str,
        at: datetime,
        key: str | None,
        salt: Callable[[], str] | None = None,
        clock_is_right: bool = False,
        because: str = "",
    ) -> None:
        super().__init__(connection, where)
        self.people = People(connection, salt or new_salt)
        self.who, self.at, self.key, self.because = who, at, key, because
        if at.tzinfo is None:
            raise TimeWithoutZone(at.isoformat())
        if "\x00" in who + (key or ""):
            raise EventUnkeepable("step", "a name holds a character that cannot be printed")
        self._head = self.head()
        self._clock = clock_said(at, self._head.at, self._head.seq, clock_is_right)
        before = self.of_key(key) if key is not None else ()
        self.booked_before = tuple(each for each in before if each.kind not in _WORDS)
        self.committed = False
        self._added: list[Booked] = []
        self._parts = 0
        self._touched: set[str] = set()
        self._made: dict[str, date] = {}
        self._held = self.holds()
        self._closed: tuple[YearClosed, ...] | None = None
        self._late: set[YearClosed] = set()

    def add(self, happened: Any) -> Booked:
        """Book one event, for good once the step is committed. Raises what the guards refuse."""
        return self.add_all((happened,))[0]

    def add_all(self, events: Iterable[Any]) -> tuple[Booked, ...]:
        """Book many events, in order."""
        before = len(self._added)
        batch: list[Any] = []
        for happened in events:
            if isinstance(happened, Correct):
                self._book(batch)
                batch = []
                self._book([happened])
                continue
            batch.append(happened)
            if len(batch) == _AT_ONCE:
                self._book(batch)
                batch = []
        self._book(batch)
        return tuple(self._added[before:])

    def correct(self, seq: int, because: str, *instead: Any, day: date | None = None) -> tuple[Booked, ...]:
        """Strike an earlier event, say why, and record what is right instead; balances are checked over the whole."""
        return self.add_all((Correct(day or self.at.date(), seq, because, len(instead)), *instead))

    def forget(self, name: str, because: str, *, day: date | None = None) -> Booked:
        """Take out a customer's name, address and all else only events of this customer give; or an address alone.

        Raises :class:`~labelkit.errors.record.LotUnknown` where nothing of that name is kept.
        """
        number = self.people.number_of(name)
        if number is None:
            raise LotUnknown(f"customer {name}", "")
        if name.casefold() in because.casefold():
            raise EventUnkeepable(Forget.kind, "its reason says the very name, and a reason is never forgotten")
        theirs, others = {number}, set[int]()
        for masked in self.masked_events():
            if not isinstance(masked, Protect):
                (theirs if names(masked, number) else others).update(numbers_in(masked))
        gone = tuple(sorted(theirs - others | {number}))
        booked = self.add(Forget(day or self.at.date(), gone, because))
        self.people.forget(gone)
        return booked

    def protect(self, *, day: date | None = None) -> Booked | None:
        """Commit to every name that events give without a commitment; nothing where there is none."""
        bare, committed = set[int](), set[int]()
        for masked in self.masked_events():
            for number, given in mentions_in(masked).items():
                (committed if given - {None} else bare).add(number)
        kept = [self.people.kept(number) for number in sorted(bare - committed)]
        mentions = tuple(each.mention for each in kept if each.commitment)
        return self.add(Protect(day or self.at.date(), mentions)) if mentions else None

    def check(self) -> None:
        """Refuse the step as it stands now where a balance would not close, or where its key was another step's;
        :meth:`commit` does this as well.
        """
        if self.booked_before:
            self._same_as_before()
            return
        self._check_stand_ins()
        check_later(self, self._made)
        check_balances(self, self._touched)

    def commit(self) -> tuple[Booked, ...]:
        """Check the balances of all that was touched, and make the step durable before returning; once is enough."""
        if self.committed:
            return tuple(self._added)
        self.check()
        if self.booked_before:
            return self.booked_before
        try:
            self.connection.commit()
        except sa.exc.DBAPIError as trouble:
            if not trouble.connection_invalidated:
                raise
            self._look_again(trouble)
        self.committed = True
        return tuple(self._added)

    def _book(self, batch: Sequence[Any]) -> None:
        if not batch:
            return
        if self.booked_before:
            self._added += [Booked(0, happened, self.who, self.at) for happened in batch]
            return
        self._say_first(batch)
        kept = [self._kept(happened) for happened in batch]
        bodies = [self._body(happened) for happened in kept]
        check_names(self, batch)
        check_days(self, batch, self.at.date())
        self._made |= days_made(batch)
        for happened in batch:
            check_holds(self._held, happened)
            self._held = holds_after(self._held, happened)
        struck = [self._struck(happened) for happened in kept]
        self.people.write(kept)
        self._write(kept, struck, [self._stamp(happened, body) for happened, body in zip(batch, bodies, strict=True)])
        if isinstance(batch[0], Correct):  # it may have struck a hold
            self._held = self.holds()
            self._stand_ins = None
        if any(isinstance(happened, Correct | YearClosed) for happened in batch):
            self._closed = None

    def _say_first(self, batch: Sequence[Any]) -> None:
        """Keep a person's word for the clock and for a closed year, where one is needed, before what it is said of."""
        if self._clock is not None:
            said, self._clock = self._clock, None
            self._say(said)
        for happened in batch:
            closing = self._closing_of(happened)
            if closing is not None and closing not in self._late:
                words = self.because.strip() or getattr(happened, "because", "").strip()
                unless_said(words, YearIsClosed(happened.title, str(closing.period), closing.day.isoformat()))
                self._late.add(closing)
                self._say(BookedLate(self.at.date(), closing.first, closing.last, words))

    def _say(self, said: Any) -> None:
        """Write an event down that is no step of its own."""
        added = list(self._added)
        self._write([said], [None], [self._stamp(said, self._body(said))])
        self._added = added

    def _closing_of(self, happened: Any) -> YearClosed | None:
        """The closing of the year an event changes: of its own day, or of the day of what it strikes."""
        if self._closed is None:
            self._closed = tuple(each.event for each in self.closed_years())
        if not self._closed or happened.kind in _OF_NO_YEAR:
            return None
        day = happened.day
        if isinstance(happened, Correct):
            struck = self.event(happened.corrects)
            if struck is None or struck.kind in _OF_NO_YEAR:
                return None
            day = struck.day
        return closing_of(day, self._closed)

    def _write(self, batch: Sequence[Any], struck: Sequence[Any], stamped: Sequence[Stamped]) -> None:
        rows = Rows()
        for happened, gone, each in zip(batch, struck, stamped, strict=True):
            self._keep(rows, rows_of(each.seq, happened, gone))
        self.connection.execute(event.insert(), [each._asdict() for each in stamped])
        for name, table in DERIVED.items():
            if new := getattr(rows, name):
                columns = COLUMNS[name]
                self.connection.execute(table.insert(), [dict(zip(columns, row, strict=True)) for row in new])
        self._touched.update(row[3] for row in rows.movement)

    def _kept(self, happened: Any) -> Any:
        """The event as it is written down: known, and without people."""
        if KINDS.get(getattr(happened, "kind", "")) is not type(happened):
            raise EventUnkeepable(type(happened).__name__, "no such kind of event is kept")
        if any("\x00" in text for text in personal_texts(happened)):
            raise EventUnkeepable(happened.kind, "a name holds a character that cannot be printed")
        return self.people.masked(happened)

    @staticmethod
    def _body(happened: Any) -> str:
        try:
            body = write(happened)
        except Unkeepable as unclear:
            raise EventUnkeepable(happened.kind, str(unclear)) from None
        check_alone(happened)
        return body

    def _stamp(self, happened: Any, body: str) -> Stamped:
        seq, part, at = self._head.seq + 1, self._parts, self.at.isoformat()
        self._parts += 1
        day, previous = happened.day.isoformat(), self._head.hash
        hash = digest(previous, envelope(seq, happened.kind, day, at, self.who, self.key, part, body))
        self._head = Head(seq, hash, self.at)
        self._added.append(Booked(seq, happened, self.who, self.at, hash, self.key, part))
        return Stamped(seq, happened.kind, day, at, self.who, self.key, part, body, previous, hash)

    def _struck(self, happened: Any) -> Any:
        if not isinstance(happened, Correct):
            return None
        struck = find_correctable(self, happened.corrects)
        if not happened.because.strip():
            raise CorrectionRefused(struck.seq, "no reason is given")
        return struck.event

    @staticmethod
    def _keep(rows: Rows, more: Rows) -> None:
        for name in COLUMNS:
            getattr(rows, name).extend(getattr(more, name))

    def _check_stand_ins(self) -> None:
        last = self._added[-1].seq if self._added else 0
        for each in self._added:
            if isinstance(each.event, Correct) and each.seq + each.event.instead > last:
                raise CorrectionRefused(each.event.corrects, f"{each.event.instead} events were to take its place")

    def _same_as_before(self) -> None:
        if (
            self.key is not None
            and self._added
            and [b.event for b in self._added] != [b.event for b in self.booked_before]
        ):
            first = self.booked_before[0]
            raise KeyReused(self.key, first.seq, first.day.isoformat())

    def _look_again(self, trouble: Exception) -> None:
        """The connection went while committing: ask on a new one what became of the step, once the old one is done."""
        try:
            with self.connection.engine.connect() as again:
                if again.dialect.name == "postgresql":
                    again.exec_driver_sql("SET LOCAL lock_timeout = '10s'")
                    lock_writers(again)
                landed = again.execute(sa.select(event.c.hash).where(event.c.seq == self._head.seq)).scalar()
        except sa.exc.DBAPIError:
            raise OutcomeUnknown(self.where, self.key) from trouble
        if landed != self._head.hash:
            raise ConnectionLost(self.where) from trouble


class Replay(Work):
    """The making of a record anew from events that were written down before, each with its own time and person."""

    def __init__(self, connection: sa.Connection, where: str) -> None:
        Reading.__init__(self, connection, where)
        self._head = self.head()
        if self._head.seq:
            raise RecordInTheWay(where)
        self.key, self.booked_before, self.committed = None, (), False
        self._added, self._touched, self._made = [], set(), {}
        self.given = Given()

    @property
    def head_now(self) -> Head:
        """Where the record being made stands."""
        return self._head

    def replay(self, stamped: Sequence[Stamped]) -> None:
        """Book events as they stand, hashes and all. The caller has checked the chain."""
        batch: list[tuple[Any, Stamped]] = []
        for each in stamped:
            happened = self._happened(each)
            self.given.note(each.seq, happened)
            # What a correction strikes frees its name for what stands instead, so it is written before that is looked at.
            if isinstance(happened, Correct):
                self._take_in(batch)
                self._take_in([(happened, each)])
                batch = []
            else:
                batch.append((happened, each))
        self._take_in(batch)
        self._head = Head(stamped[-1].seq, stamped[-1].hash, datetime.fromisoformat(stamped[-1].recorded_at))

    @staticmethod
    def _happened(stamped: Stamped) -> Any:
        if stamped.kind not in KINDS:
            raise EventUnreadable(stamped.seq, stamped.kind, "this labelkit knows no such kind of event")
        try:
            happened = read(KINDS[stamped.kind], stamped.body)
        except Unkeepable as unclear:
            raise EventUnreadable(stamped.seq, stamped.kind, str(unclear)) from None
        check_alone(happened)
        return happened

    def _take_in(self, batch: Sequence[tuple[Any, Stamped]]) -> None:
        if not batch:
            return
        events, stamped = [event for event, _ in batch], [each for _, each in batch]
        check_names(self, events)
        self._write(events, [self._struck(happened) for happened in events], stamped)

    def meet(self, people: Iterable[Kept]) -> None:
        """Take in what numbers stand for."""
        self.people.meet(people)
