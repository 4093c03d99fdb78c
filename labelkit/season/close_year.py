"""Close a year: what was counted on its last evening is booked, and what is still there is carried forward."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors import unless_said
from labelkit.errors.record import JarsStillAtStall, NothingInYear, YearClosedBefore, YearNotOver
from labelkit.lots.bucket import Part
from labelkit.lots.bucket_life import Measured
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.sale.closed_year import BookedLate, CarriedEmpties, CarriedJars, YearClosed
from labelkit.season.empties import empties
from labelkit.season.measure import Happened, Measuring, Weighed, measure
from labelkit.season.stock import Counted, book_count, count_empties

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked


@dataclass(frozen=True, slots=True)
class JarsCounted:
    """Jars of a lot and size as they were counted on the last evening."""

    lot: str
    size: str
    found: int


@dataclass(frozen=True, slots=True)
class YearToClose:
    """A year, what was counted, and why a count differs or open ends stay open."""

    period: Period
    counted: tuple[JarsCounted, ...] = ()
    because: str = ""
    weighed: Mapping[str, Mass] = field(default_factory=dict)  # the honey in buckets
    empties: Mapping[str, int] = field(default_factory=dict)  # empty jars by size


@dataclass(frozen=True, slots=True)
class YearIsDone:
    """The closing as it was booked, and the counts against what the record had."""

    booked: Booked
    counts: tuple[Counted, ...] = ()
    weighed: tuple[Happened[Measured], ...] = ()

    @property
    def event(self) -> YearClosed:
        """What is carried forward."""
        closed: YearClosed = self.booked.event
        return closed


def close_year(work: Work, asked: YearToClose, day: date, locale: str) -> YearIsDone:
    """Take stock of a year's last evening and close it; later bookings into it are asked about.

    Raises :class:`~labelkit.errors.record.YearNotOver`, :class:`~labelkit.errors.record.YearClosedBefore`,
    :class:`~labelkit.errors.record.NothingInYear`, :class:`~labelkit.errors.record.JarsStillAtStall` unless it is said
    why, and what a count or a weighing refuses; ``locale`` is how a refusal writes figures.
    """
    period = asked.period
    before = [each for each in work.booked_before if isinstance(each.event, YearClosed)]
    if before:
        return YearIsDone(before[0])
    _check(work, asked, day)
    why, last = asked.because, period.last
    counts = [book_count(work, each.size, each.found, why, last, each.lot) for each in asked.counted]
    counts += [count_empties(work, size, found, why, last) for size, found in asked.empties.items()]
    weighed = [
        measure(work, Measuring(bucket, Weighed(net), because=why), last, locale)
        for bucket, net in asked.weighed.items()
    ]
    evening = work.as_of(period.last)
    buckets = tuple(Part(bucket.id, bucket.holds) for bucket in evening.buckets(full=True))
    jars = tuple(CarriedJars(*each) for each in _jars(evening))
    empty = tuple(CarriedEmpties(each.size, each.jars, each.lids) for each in empties(evening))
    closed = YearClosed(day, period.first, last, buckets, jars, why.strip(), empty)
    return YearIsDone(work.add(closed), tuple(counts), tuple(weighed))


def _check(work: Work, asked: YearToClose, day: date) -> None:
    period = asked.period
    if day < period.last:
        raise YearNotOver(str(period), period.last.isoformat(), day.isoformat())
    for each in work.closed_years():
        other = each.event.period
        if other.first <= period.last and period.first <= other.last:
            raise YearClosedBefore(str(period), str(other), each.seq)
    if not any(each.day in period for each in work.events() if each.stands and each.event.movements()):
        raise NothingInYear(str(period))
    at_stall = sum(each.count for each in work.as_of(period.last).stock(Account.STALL))
    if at_stall:
        unless_said(asked.because, JarsStillAtStall(str(period), at_stall, period.last.isoformat()))


def _jars(state: Reading) -> Sequence[tuple[str, str, int]]:
    counts: dict[tuple[str, str], int] = {}
    for each in state.stock():
        counts[each.lot, each.size] = counts.get((each.lot, each.size), 0) + each.count
    return [(lot, size, count) for (lot, size), count in sorted(counts.items()) if count]


@dataclass(frozen=True, slots=True)
class ClosedSince:
    """The closing of a year, and what was booked into it since, each with the words that let it through."""

    closing: Booked
    late: tuple[Booked, ...]


def closing_since(state: Reading, period: Period) -> ClosedSince | None:
    """Whether exactly this year was closed, and what was booked into it since."""
    closing = next((each for each in state.closed_years() if each.event.period == period), None)
    if closing is None:
        return None
    late = state.events((BookedLate.kind,), after=closing.seq)
    of_it = tuple(each for each in late if (each.event.first, each.event.last) == (period.first, period.last))
    return ClosedSince(closing, of_it)
