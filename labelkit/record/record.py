"""The record itself: questions to it, and steps booked into it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

from labelkit.lots.bucket import Bucket
from labelkit.lots.movement import Account
from labelkit.record import engine as adapter
from labelkit.record.location import Location, may_write
from labelkit.record.reading import Reading, Stock
from labelkit.record.soundness import check_sound, damage_told
from labelkit.record.tables import elsewhere
from labelkit.record.work import Replay, Work
from labelkit.trace.booked import Booked


class Record:
    """An open record. Close it, or use it in a ``with``."""

    def __init__(self, engine: adapter.sa.Engine, location: Location, swept: tuple[Path, ...] = ()) -> None:
        self._engine = engine
        self.swept = swept  # what stopped commands had left beside it, removed on opening
        self.location = location
        self.where = location.shown

    @property
    def path(self) -> Path | None:
        """The file, where it is one."""
        return self.location.path

    def close(self) -> None:
        """Give the file back; the last one to close folds the write-ahead log into it."""
        self._engine.dispose()

    def __enter__(self) -> Record:
        return self

    def __exit__(self, *trouble) -> None:
        self.close()

    # --- writing ----------------------------------------------------------------------------------------------

    @contextmanager
    def work(
        self,
        *,
        who: str,
        at: datetime,
        key: str | None = None,
        salt: Callable[[], str] | None = None,
        clock_is_right: bool = False,
        because: str = "",
    ) -> Iterator[Work]:
        """A step: holds the record for writing, and rolls back whatever was not committed.

        ``at`` is the time of booking with its zone, ``who`` the person, ``key`` a name the caller gives this very
        step, so that repeating it books nothing twice. ``salt`` gives 256 bits nobody guesses for each new name,
        ``clock_is_right`` is a person's word for a clock that is far from the last booking, ``because`` why something
        is booked into a year that was closed.

        Raises :class:`~labelkit.errors.record.RecordBusy` when another station holds the record too long,
        :class:`~labelkit.errors.record.ClockBackwards`, :class:`~labelkit.errors.record.ClockFarAhead`,
        :class:`~labelkit.errors.record.TimeWithoutZone`, and what the guards refuse.
        """
        with damage_told(self, self.where), adapter.writing(self._engine, self.where) as connection:
            check_sound(Reading(connection, self.where), self.path)
            yield Work(connection, self.where, who, at, key, salt, clock_is_right, because)

    def remember(self, folder: Path, what: str, *, instead_of: str = "") -> None:
        """Remember where copies (``what``: copies), exports (export) or a workbook were put, to forget people there too.

        ``instead_of``: how what it takes the place of begins.
        """
        row = {"path": str(folder.absolute()), "what": what}
        known = adapter.sa.select(elsewhere.c.path).where(elsewhere.c.path == row["path"])
        if self.path is not None and not may_write(self.path):
            return
        with adapter.writing(self._engine, self.where) as connection:
            if instead_of:
                connection.execute(elsewhere.delete().where(elsewhere.c.what.startswith(instead_of)))
            if connection.execute(known).first() is None:
                connection.execute(elsewhere.insert(), row)
            connection.commit()

    def compact(self) -> bool:
        """Write anew what people were taken out of; whether all of it could be."""
        with adapter.database_errors(self.where):
            return adapter.compact(self.path) if self.path is not None else adapter.compact_server(self._engine)

    @contextmanager
    def replay(self) -> Iterator[Replay]:
        """A step that fills an empty record from events written down before."""
        with adapter.writing(self._engine, self.where) as connection:
            yield Replay(connection, self.where)

    # --- reading ----------------------------------------------------------------------------------------------

    @contextmanager
    def reading(self, until: date | None = None) -> Iterator[Reading]:
        """Several questions answered from one state of the record, or as of a day of it.

        Raises :class:`~labelkit.errors.record.RecordDamaged` where it is not as it was booked.
        """
        with damage_told(self, self.where), self.as_it_is() as state:
            check_sound(state, self.path)
            yield Reading(state.connection, self.where, until) if until else state

    @contextmanager
    def as_it_is(self) -> Iterator[Reading]:
        """The same without looking whether it is sound: for whoever looks for damage."""
        with adapter.reading(self._engine, self.where) as connection:
            yield Reading(connection, self.where)

    def events(self, kinds: Collection[str] = (), after: int = 0) -> Iterator[Booked]:
        """All events in order, struck ones too."""
        with self.reading() as record:
            yield from record.events(kinds, after)

    def bucket(self, id: str) -> Bucket:
        """A bucket lot as it stands."""
        with self.reading() as record:
            return record.bucket(id)

    def buckets(self, full: bool = False) -> tuple[Bucket, ...]:
        """All bucket lots as they stand, or only those with honey in them."""
        with self.reading() as record:
            return record.buckets(full)

    def stock(self, *accounts: Account) -> tuple[Stock, ...]:
        """Jars by lot, size and location."""
        with self.reading() as record:
            return record.stock(*accounts)

    def settings(self) -> dict[str, Any]:
        """Every setting as it was last set."""
        with self.reading() as record:
            return record.settings()

    def lot_codes_taken(self) -> frozenset[str]:
        """Every lot code ever given."""
        with self.reading() as record:
            return record.lot_codes_taken()

    lot_codes = lot_codes_taken

    def ancestry(self, *lots: str) -> frozenset[str]:
        """Every lot these came from."""
        with self.reading() as record:
            return record.ancestry(*lots)

    def descent(self, *lots: str) -> frozenset[str]:
        """Every lot that came from these."""
        with self.reading() as record:
            return record.descent(*lots)
