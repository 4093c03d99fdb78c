"""What can be asked of the record: events, lots and their parents, buckets as they stand, jars in stock."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from labelkit.errors.lots import BucketUnknown
from labelkit.errors.record import EventUnreadable, RecordDamaged
from labelkit.lots.bucket import Blend, Bucket, Drain, WeighIn
from labelkit.lots.bucket_life import Measured, TakenOut, Treated
from labelkit.lots.fill import made_by, name_on
from labelkit.lots.movement import Account
from labelkit.lots.received import Receive
from labelkit.measures import Mass
from labelkit.measures.period import Period
from labelkit.record.bucket_state import fold
from labelkit.record.chain import BEGINNING, digest, envelope
from labelkit.record.codec import Unkeepable, read
from labelkit.record.engine import sa
from labelkit.record.kinds import KINDS
from labelkit.record.people import SHOWN, People
from labelkit.record.tables import seen
from labelkit.run.batch_sheet import BatchLine
from labelkit.run.bottling import Run
from labelkit.sale.closed_year import YearClosed
from labelkit.trace.booked import Booked
from labelkit.trace.hold import Hold, Release, holds_after
from labelkit.trace.relabel import Relabel

_AT_ONCE = 10_000  # values in one IN (…): both engines allow more
_STEPS = tuple(cls.kind for cls in (Measured, Treated, TakenOut))
_INTAKE = (*(cls.kind for cls in (WeighIn, Receive, Drain, Blend)), *_STEPS)
_JARS_MADE = (Run.kind, Relabel.kind)  # what seed out of jars was before
_FILLS = tuple(cls.kind for cls in (WeighIn, Receive, Blend))
# Accounts whose jars are still in the producer's hands.
AT_HAND = (Account.JARS, Account.STALL, Account.HELD)


@dataclass(frozen=True, slots=True)
class Stock:
    """So many jars of one size of one lot in one place."""

    lot: str
    size: str
    account: Account
    count: int
    mass: Mass


@dataclass(frozen=True, slots=True)
class Head:
    """The last event of the record: its number, hash and time; 0 and zeros before the first."""

    seq: int = 0
    hash: str = BEGINNING
    at: datetime | None = None


class Reading:
    """Questions to the record over one connection, all answered from one state of it.

    With ``until`` a day, they are answered as of that day: from what happened on it and before, with what is known of
    that today. A correction counts from the day of the event it strikes, whenever it was booked.
    """

    def __init__(self, connection: sa.Connection, where: str, until: date | None = None) -> None:
        self.connection = connection
        self.where = where
        self.until = until
        self.seen = seen(until)
        self.people = People(connection)
        self._stand_ins: dict[int, int] | None = None

    def as_of(self, day: date | None) -> Reading:
        """The same record as of an earlier day; with no day, this very reading."""
        if day is None or (self.until is not None and self.until <= day):
            return self
        return Reading(self.connection, self.where, day)

    # --- events -----------------------------------------------------------------------------------------------

    def head(self) -> Head:
        """Where the record stands."""
        last = (
            sa.select(self.seen.event.c.seq, self.seen.event.c.hash, self.seen.event.c.recorded_at)
            .order_by(self.seen.event.c.seq.desc())
            .limit(1)
        )
        row = self.connection.execute(last).first()
        if row is None:
            return Head()
        try:
            return Head(row.seq, row.hash, datetime.fromisoformat(row.recorded_at))
        except (TypeError, ValueError):
            raise RecordDamaged(self.where, f"event {row.seq}, its last, has no readable time") from None

    def events(self, kinds: Collection[str] = (), after: int = 0) -> Iterator[Booked]:
        """Events in their order, struck ones too; of some kinds only, or after a number."""
        wanted = self.seen.with_strike.where(self.seen.event.c.seq > after).order_by(self.seen.event.c.seq)
        if kinds:
            wanted = wanted.where(self.seen.event.c.kind.in_(tuple(kinds)))
        for row in self.connection.execute(wanted, execution_options={"yield_per": 1000}):
            yield self._booked(row)

    def latest(self, kinds: Collection[str] = (), since: date | None = None) -> Iterator[Booked]:
        """The same from the newest back, read only as far as somebody looks; ``since`` a day, only of it and later ones."""
        wanted = self.seen.with_strike.order_by(self.seen.event.c.seq.desc())
        if kinds:
            wanted = wanted.where(self.seen.event.c.kind.in_(tuple(kinds)))
        if since is not None:
            wanted = wanted.where(self.seen.event.c.day >= since.isoformat())
        for row in self.connection.execute(wanted, execution_options={"yield_per": 50}):
            yield self._booked(row)

    def counted(self, *kinds: str) -> int:
        """How many events of some kinds stand."""
        counting = sa.select(sa.func.count()).select_from(
            self.seen.event.outerjoin(self.seen.strike, self.seen.strike.c.event == self.seen.event.c.seq)
        )
        return int(
            self.connection.execute(
                counting.where(self.seen.event.c.kind.in_(kinds), self.seen.strike.c.by.is_(None))
            ).scalar()
            or 0
        )

    def masked_events(self) -> Iterator[Any]:
        """Every event that names a person, as it is written down: with numbers in their place."""
        rows = sa.select(self.seen.event.c.kind, self.seen.event.c.body).where(self.seen.event.c.body.like("%~%"))
        for kind, body in self.connection.execute(rows):
            if kind in KINDS:
                yield read(KINDS[kind], body)

    def event(self, seq: int) -> Booked | None:
        """One event by its number."""
        row = self.connection.execute(self.seen.with_strike.where(self.seen.event.c.seq == seq)).first()
        return self._booked(row) if row else None

    def of_key(self, key: str) -> tuple[Booked, ...]:
        """The events of the step that was booked under a key."""
        rows = self.connection.execute(
            self.seen.with_strike.where(self.seen.event.c.key == key).order_by(self.seen.event.c.seq)
        )
        return tuple(self._booked(row) for row in rows)

    def events_about(self, lots: Iterable[str], kinds: Collection[str] = ()) -> tuple[Booked, ...]:
        """Every event, or those of some kinds, that moved or named one of these lots, in order, struck ones too."""
        lots = set(lots)
        moved = self._column(self.seen.movement.c.event, self.seen.movement.c.lot, lots)
        named = self._column(self.seen.party.c.event, self.seen.party.c.name, lots, self.seen.party.c.role == "lot")
        return self._of_seqs(moved | named, kinds)

    def story(self, lots: Iterable[str]) -> tuple[Booked, ...]:
        """Every event a trace from these lots needs: about them, their ancestors, and all that came from either."""
        lots = set(lots)
        behind = self.ancestry(*lots)
        ahead = self.descent(*lots, *behind)
        about = self.events_about(lots | behind | ahead | self.ancestry(*ahead))
        days = {each.day for each in about if each.kind == Run.kind}
        if not days:
            return about
        # A line of the batch sheet without a lot is of every run of its day.
        lines = (each for each in self.latest((BatchLine.kind,), since=min(days)) if each.day in days)
        return tuple(sorted({each.seq: each for each in (*about, *lines)}.values(), key=lambda each: each.seq))

    def _of_seqs(self, seqs: Iterable[int], kinds: Collection[str] = ()) -> tuple[Booked, ...]:
        found: list[Any] = []
        wanted = (
            self.seen.with_strike.where(self.seen.event.c.kind.in_(tuple(kinds))) if kinds else self.seen.with_strike
        )
        for some in portions(set(seqs)):
            found += self.connection.execute(wanted.where(self.seen.event.c.seq.in_(some)))
        return tuple(self._booked(row) for row in sorted(found, key=lambda row: row.seq))

    def _booked(self, row: Any) -> Booked:
        text = envelope(row.seq, row.kind, row.day, row.recorded_at, row.who, row.key, row.part, row.body)
        if digest(row.previous, text) != row.hash:
            raise RecordDamaged(self.where, f"event {row.seq} of {row.day} does not fit its own hash")
        if row.kind not in KINDS:
            raise EventUnreadable(row.seq, row.kind, "this labelkit knows no such kind of event")
        try:
            happened = self.people.unmasked(read(KINDS[row.kind], row.body))
        except Unkeepable as unclear:
            raise EventUnreadable(row.seq, row.kind, str(unclear)) from None
        at = datetime.fromisoformat(row.recorded_at)
        stands_for = self._stands_for(row.seq)
        return Booked(row.seq, happened, row.who, at, row.hash, row.key, row.part, row.by, stands_for)

    def _stands_for(self, seq: int) -> int | None:
        """The event in whose place one was booked, through corrections of corrections' replacements."""
        if self._stand_ins is None:
            rows = self.connection.execute(
                sa.select(self.seen.strike).where(self.seen.strike.c.instead > 0).order_by(self.seen.strike.c.by)
            ).all()
            self._stand_ins = {by + n: struck for struck, by, many in rows for n in range(1, many + 1)}
        first = self._stand_ins.get(seq)
        while first in self._stand_ins:
            first = self._stand_ins[first]
        return first

    # --- lots -------------------------------------------------------------------------------------------------

    def ancestry(self, *lots: str) -> frozenset[str]:
        """Every lot these came from, through all blends; not themselves."""
        return self._walk(lots, "child", "parent")

    def descent(self, *lots: str) -> frozenset[str]:
        """Every lot that came from these; not themselves."""
        return self._walk(lots, "parent", "child")

    def _walk(self, lots: Iterable[str], from_: str, to: str) -> frozenset[str]:
        """All that links lead to, in one question to the engine; UNION keeps a circle from going round."""
        begun, seen = set(lots), set[str]()
        for some in portions(begun):
            first = sa.select(self.seen.link.c[to].label("lot")).where(
                self.seen.link.c[from_].in_(some), self.seen.standing(self.seen.link)
            )
            way = first.cte("way", recursive=True)
            onward = (
                sa.select(self.seen.link.c[to])
                .join(way, self.seen.link.c[from_] == way.c.lot)
                .where(self.seen.standing(self.seen.link))
            )
            seen.update(self.connection.execute(sa.select(way.union(onward).c.lot)).scalars())
        return frozenset(seen - begun)

    def _column(self, wanted: Any, where: Any, values: Iterable[Any], *also: Any) -> set:
        found: set = set()
        for some in portions(set(values)):
            found.update(self.connection.execute(sa.select(wanted).where(where.in_(some), *also).distinct()).scalars())
        return found

    def knows(self, lot: str) -> bool:
        """Whether any event ever moved honey of a lot or bucket of this name."""
        return (
            self.connection.execute(
                sa.select(self.seen.movement.c.event).where(self.seen.movement.c.lot == lot).limit(1)
            ).first()
            is not None
        )

    def bottled(self, lot: str) -> bool:
        """Whether jars ever bore this lot code, of struck runs too."""
        jars = (
            sa.select(self.seen.movement.c.event)
            .where(self.seen.movement.c.lot == lot, self.seen.movement.c.size != "")
            .limit(1)
        )
        return self.connection.execute(jars).first() is not None

    def lot_codes_taken(self) -> frozenset[str]:
        """Every lot code that was ever put on jars, struck runs too, since their labels may be printed."""
        jars = sa.select(self.seen.movement.c.lot).where(self.seen.movement.c.size != "").distinct()
        return frozenset(self.connection.execute(jars).scalars())

    def lots_of(self, yard: str = "", hive: str = "", harvested: Period | None = None) -> frozenset[str]:
        """The buckets with honey from a yard, a hive of it, or of a harvest day or year (all that are given)."""
        given = ((self.seen.source.c.yard, yard), (self.seen.source.c.hive, hive))
        wanted = sa.select(self.seen.source.c.lot).where(
            self.seen.standing(self.seen.source),
            *(column == value for column, value in given if value),
            *_within(self.seen.source.c.harvested, harvested),
        )
        return frozenset(self.connection.execute(wanted.distinct()).scalars())

    def names(self, what: str) -> frozenset[str]:
        """All names of one sort: yard, hive, harvested, customer, place, to, bucket."""
        if what in ("yard", "hive", "harvested"):
            wanted = sa.select(self.seen.source.c[what]).where(self.seen.source.c[what] != "")
        elif what == "bucket":
            wanted = sa.select(self.seen.movement.c.lot).where(self.seen.movement.c.account == Account.BUCKET)
        else:
            wanted = sa.select(self.seen.party.c.name).where(self.seen.party.c.role == what)
        found = self.connection.execute(wanted.distinct()).scalars()
        return frozenset(map(self.people.said, found)) if what in SHOWN else frozenset(found)

    def events_with(self, role: str, name: str, within: Period | None = None) -> tuple[Booked, ...]:
        """The events that name somebody or some place, of some days or of all."""
        names = self.people.mentions(name) if role in SHOWN else (name,)
        wanted = sa.select(self.seen.party.c.event).where(
            self.seen.party.c.name.in_(names), self.seen.party.c.role == role
        )
        if within:
            wanted = wanted.join(self.seen.event, self.seen.event.c.seq == self.seen.party.c.event).where(
                *_within(self.seen.event.c.day, within)
            )
        return self._of_seqs(self.connection.execute(wanted).scalars())

    # --- buckets ----------------------------------------------------------------------------------------------

    def bucket(self, id: str) -> Bucket:
        """A bucket lot as it stands. Raises :class:`~labelkit.errors.lots.BucketUnknown`."""
        known = self.buckets_of((id,))
        if id not in known:
            names = sorted(self.names("bucket"))
            shown = f"; the record has {', '.join(names[:8])}{' …' if len(names) > 8 else ''}" if names else ""
            raise BucketUnknown(id, shown)
        return known[id]

    def buckets_of(self, names: Collection[str]) -> dict[str, Bucket]:
        """These bucket lots as they stand, and those they came from; a name nobody knows is left out."""
        lots = {*names} | self.ancestry(*names)
        return fold(self._intake(lots), self._holdings(lots))

    def fills(self, name: str) -> tuple[str, ...]:
        """The fills of the bucket of this name that stand, the first one first."""
        return tuple(made_by(each.event) for each in self._filled(name) if each.stands)

    def struck_fills(self, name: str) -> tuple[str, ...]:
        """Fills of it that were struck and free their name."""
        standing = self.fills(name)
        return tuple(made_by(each.event) for each in self._filled(name) if made_by(each.event) not in standing)

    def fill(self, name: str) -> str:
        """The fill somebody means by a bucket's name: the last one; one fill of it by its own name, the first as “B1.1”."""
        fills = self.fills(name)
        if not fills and name.endswith(".1"):
            return name[:-2] if self.fills(name[:-2]) else name
        return fills[-1] if fills else name

    def call(self, id: str) -> str:
        """What to say for exactly this fill: its own name, or “B1.1” where B1 means a later one."""
        return id if self.fill(id) == id else f"{id}.1"

    def _filled(self, name: str) -> list[Booked]:
        """Every event that filled a bucket of this name, in the order of its fills."""
        like = name.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_") + ".%"
        wanted = (
            sa.select(self.seen.movement.c.event)
            .join(self.seen.event, self.seen.event.c.seq == self.seen.movement.c.event)
            .where(
                sa.or_(self.seen.movement.c.lot == name, self.seen.movement.c.lot.like(like, escape="\\")),
                self.seen.event.c.kind.in_(_FILLS),
            )
        )
        found = self._of_seqs(self.connection.execute(wanted.distinct()).scalars())
        return sorted((each for each in found if name_on(each.event) == name), key=lambda each: each.event.fill)

    def buckets(self, full: bool = False) -> tuple[Bucket, ...]:
        """All bucket lots as they stand, in the order they were first booked; ``full`` only those with honey in them.

        Of a long season the full ones are few, and only what is about them is read.
        """
        held = self._holdings(None)
        if not full:
            events = [*self.events(_INTAKE)]
            seeds = [each.event.seed for each in events if isinstance(each.event, Treated) and each.event.opened]
            if seeds:
                lots = {seed.bucket for seed in seeds if seed}
                events = list(
                    {each.seq: each for each in (*events, *self._intake(lots | self.ancestry(*lots)))}.values()
                )
            return tuple(fold(events, held).values())
        wanted = {lot for lot, mg in held.items() if mg}
        known = fold(self._intake(wanted | self.ancestry(*wanted)), held)
        return tuple(bucket for name, bucket in known.items() if name in wanted and not bucket.is_empty)

    def _intake(self, lots: set[str]) -> tuple[Booked, ...]:
        seqs: set[int] = set()
        for some in portions(lots):
            seqs.update(
                self.connection.execute(
                    sa.select(self.seen.movement.c.event)
                    .join(self.seen.event, self.seen.event.c.seq == self.seen.movement.c.event)
                    .where(
                        self.seen.movement.c.lot.in_(some),
                        (self.seen.movement.c.mass_mg > 0) | self.seen.event.c.kind.in_(_STEPS),
                        self.seen.event.c.kind.in_((*_INTAKE, *_JARS_MADE)),
                    )
                ).scalars()
            )
        return self._of_seqs(seqs)

    def _holdings(self, lots: Iterable[str] | None) -> dict[str, int]:
        held: dict[str, int] = {}
        total = (
            sa.select(self.seen.movement.c.lot, sa.func.sum(self.seen.movement.c.mass_mg))
            .where(self.seen.movement.c.account == Account.BUCKET)
            .group_by(self.seen.movement.c.lot)
        )
        for some in portions(set(lots)) if lots is not None else (None,):
            wanted = total if some is None else total.where(self.seen.movement.c.lot.in_(some))
            held.update((lot, int(mg)) for lot, mg in self.connection.execute(wanted))
        return held

    # --- jars -------------------------------------------------------------------------------------------------

    def stock(self, *accounts: Account, lots: Collection[str] | None = None) -> tuple[Stock, ...]:
        """Jars by lot, size and place; at hand (in stock, at the stall, on hold) unless accounts are named."""
        wanted = (
            sa.select(
                self.seen.movement.c.lot,
                self.seen.movement.c.size,
                self.seen.movement.c.account,
                sa.func.sum(self.seen.movement.c.count),
                sa.func.sum(self.seen.movement.c.mass_mg),
            )
            .where(self.seen.movement.c.size != "", self.seen.movement.c.account.in_(accounts or AT_HAND))
            .group_by(self.seen.movement.c.lot, self.seen.movement.c.size, self.seen.movement.c.account)
            .order_by(self.seen.movement.c.lot, self.seen.movement.c.size, self.seen.movement.c.account)
        )
        if lots is not None:
            wanted = wanted.where(self.seen.movement.c.lot.in_(tuple(lots)))
        rows = self.connection.execute(wanted)
        return tuple(
            Stock(lot, size, Account(account), int(count), Mass(int(mg)))
            for lot, size, account, count, mg in rows
            if count or mg
        )

    def holds(self) -> dict[str, tuple[str, str]]:
        """Lots on hold now: since which day, and why."""
        held: dict[str, tuple[str, str]] = {}
        for booked in self.events((Hold.kind, Release.kind)):
            if booked.stands:
                held = holds_after(held, booked.event)
        return held

    def closed_years(self) -> tuple[Booked, ...]:
        """Every closing of a year that stands."""
        return tuple(each for each in self.events((YearClosed.kind,)) if each.stands)

    # --- settings ---------------------------------------------------------------------------------------------

    def settings(self, day: date | None = None, *, up_to: int | None = None) -> dict[str, Any]:
        """Every setting as it holds on a day, or as of the day of this reading; what was set last of all where neither is said.

        ``up_to`` an event's number counts only what was set before it.
        """
        return {name: each.value for name, each in self.in_force("set", "name", day, up_to=up_to).items()}

    def in_force(self, kind: str, by: str, day: date | None = None, *, up_to: int | None = None) -> dict[str, Any]:
        """The events of a kind that hold on a day, by one of their fields: the last of its day and before.

        What was said first holds before its own day too: a season's currency is not unknown the day before it was said.
        """
        until, found = day or self.until or date.max, dict[str, Any]()
        said = (
            each.event for each in self._of_any_day((kind,)) if each.stands and (up_to is None or each.seq <= up_to)
        )
        for each in sorted(said, key=lambda event: event.day):
            if each.day <= until or getattr(each, by) not in found:
                found[getattr(each, by)] = each
        return found

    def _of_any_day(self, kinds: Collection[str]) -> Iterator[Booked]:
        """Events of some kinds of every day, later than this reading's too."""
        return self.events(kinds) if self.until is None else Reading(self.connection, self.where).events(kinds)


def _within(day: Any, period: Period | None) -> tuple[Any, ...]:
    """What holds a column of days to a period; nothing where none is asked for."""
    return (day >= period.first.isoformat(), day <= period.last.isoformat()) if period else ()


def portions(values: Collection[Any]) -> Iterator[tuple]:
    """Values in order, so many at once as one question to a database may name."""
    ordered = sorted(values)
    for start in range(0, len(ordered), _AT_ONCE):
        yield tuple(ordered[start : start + _AT_ONCE])
