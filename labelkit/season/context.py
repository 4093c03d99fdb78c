"""Opening a season: whose record, which day, who books, and how a step is kept or only rehearsed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.record import Record
    from labelkit.record.work import Work

DEFAULT_RECORD = "season.labelkit"


@dataclass(frozen=True, slots=True)
class Season:
    """An open season: its record, who books into it, and the clock of its bookings (the machine's unless given)."""

    record: Record
    who: str = ""
    clock: datetime | None = None
    salt: Callable[[], str] | None = None  # 256 bits nobody guesses, for each new name; at random unless given
    clock_is_right: bool = False  # a person's word, where the clock is far from the last booking
    because: str = ""  # a person's words, where a step goes into a closed year

    @contextmanager
    def work(self, key: str | None = None) -> Iterator[Work]:
        """One step, kept when the block ends without a refusal and wholly undone otherwise.

        ``key`` names this very step: repeating it under the same key books nothing twice. Raises what the record
        refuses: :class:`~labelkit.errors.record.RecordBusy`, :class:`~labelkit.errors.record.ClockBackwards` …
        """
        with self._step(key) as work:
            yield work
            work.commit()

    @contextmanager
    def rehearsal(self) -> Iterator[Work]:
        """The same step before all the same guards, and nothing of it is kept."""
        with self._step() as work:
            yield work

    @contextmanager
    def reading(self, until: date | None = None) -> Iterator[Reading]:
        """Several questions answered from one state of the record, or as of a day of it."""
        with self.record.reading(until) as state:
            yield state

    def _step(self, key: str | None = None) -> AbstractContextManager[Work]:
        return self.record.work(
            who=self.who,
            at=self.now,
            key=key,
            salt=self.salt,
            clock_is_right=self.clock_is_right,
            because=self.because,
        )

    @property
    def now(self) -> datetime:
        """The time of booking, with its zone."""
        return self.clock or datetime.now().astimezone()


def only_record(folder: Path) -> str:
    """The name of the record a folder is for. Raises :class:`~labelkit.errors.record.RecordsBesideEachOther`."""
    names = sorted(each.name for each in folder.glob("*.labelkit"))
    if DEFAULT_RECORD in names and len(names) > 1:
        from labelkit.errors.record import RecordsBesideEachOther

        raise RecordsBesideEachOther(str(folder.resolve()), names)
    return DEFAULT_RECORD


@contextmanager
def open_season(
    where: str | Path = DEFAULT_RECORD,
    *,
    who: str = "",
    clock: datetime | None = None,
    salt: Callable[[], str] | None = None,
    create: bool = False,
    to_read: bool = False,
    clock_is_right: bool = False,
    because: str = "",
) -> Iterator[Season]:
    """Open the season whose record is this file or ``postgresql://`` address; closed again when the block ends.

    ``create`` begins a new record where there is none, ``to_read`` also opens one that cannot be written,
    ``clock_is_right`` books under a clock that is far from the last booking, ``because`` into a closed year. Raises a
    :class:`~labelkit.errors.RecordRefused` that says what is wrong, and then has changed nothing.
    """
    from labelkit.record import open_record

    with open_record(where, create=create, to_read=to_read) as record:
        yield Season(record, who, clock, salt, clock_is_right, because)


@dataclass(frozen=True)
class SeasonContext:
    """What a command or a request knows of its season and the stages must not ask the machine for.

    ``locale`` says how whoever asks writes numbers; values are read and shown with it, and no verb sees it.
    """

    record: str | None = None
    day: date = date.min
    as_of: date | None = None  # the day whose state is asked for, where one was
    locale: str = "en_US"
    who: str = ""
    clock: datetime | None = None
    salt: Callable[[], str] | None = None
    clock_is_right: bool = False
    because: str = ""

    @property
    def where(self) -> str:
        """The record that was named, or ``season.labelkit`` in this folder where no other lies beside it.

        Raises :class:`~labelkit.errors.record.RecordsBesideEachOther`.
        """
        return self.record or only_record(Path())

    @property
    def shown(self) -> str:
        """The same for messages: never with a password."""
        from labelkit.record.location import parse_location

        return parse_location(self.where).shown

    @property
    def now(self) -> datetime:
        """The time of booking, with its zone: the machine's, unless a clock was given."""
        return self.clock or datetime.now().astimezone()

    @contextmanager
    def season(self, *, create: bool = False, to_read: bool = False) -> Iterator[Season]:
        """The season open for as long as the block lasts; see :func:`open_season`."""
        with open_season(
            self.where,
            who=self.who,
            clock=self.clock,
            salt=self.salt,
            create=create,
            to_read=to_read,
            clock_is_right=self.clock_is_right,
            because=self.because,
        ) as season:
            yield season

    @contextmanager
    def work(self, key: str | None = None, *, create: bool = False) -> Iterator[Work]:
        """One step that is kept when the block ends without a refusal; see :meth:`Season.work`.

        With ``create`` a record that is not there yet is begun by the step, and is gone again where the step is refused.
        """
        where, begun = self.where, create and not self.has_record()
        try:
            with self.season(create=create) as season, season.work(key) as work:
                yield work
        except BaseException:
            if begun and "://" not in where:
                from labelkit.record.leftovers import remove_unfinished

                remove_unfinished(Path(where))
            raise

    @contextmanager
    def rehearsal(self) -> Iterator[Work]:
        """The same step, never kept; see :meth:`Season.rehearsal`."""
        with self.season() as season, season.rehearsal() as work:
            yield work

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """One state of the record to read from, as of the day that was asked for; one that cannot be written is read as well."""
        with self.season(to_read=True) as season, season.reading(self.as_of) as state:
            yield state

    def has_record(self) -> bool:
        """Whether there is a record to look into. Raises what a server refuses."""
        if "://" not in self.where:
            return Path(self.where).exists()
        from labelkit.errors.record import RecordMissing

        try:
            with self.season(to_read=True):
                return True
        except RecordMissing:
            return False
