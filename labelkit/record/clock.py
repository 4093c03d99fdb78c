"""The clock of the bookings: when it is asked about, and the event that keeps a person's word that it is right.

A record whose last event was booked under a clock that ran ahead would be locked until that time comes. With the word of
a person the next step is booked all the same; the event says so, and the times of the record begin anew from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import ClassVar

from labelkit.errors import unless_said
from labelkit.errors.record import ClockBackwards, ClockFarAhead
from labelkit.lots.event import Event

# Stations that share a record never agree to the second, and a station may have waited for its turn.
CLOCKS_AGREE_TO = timedelta(minutes=10)
# A year mistyped is 365 days; a honey house books something in between: labelkit's own line, no source.
FAR_AHEAD = timedelta(days=350)


@dataclass(frozen=True, slots=True)
class ClockSaid(Event):
    """The clock was far from the event before, and a person said that it is right."""

    kind: ClassVar[str] = "clock"
    title: ClassVar[str] = "clock said to be right"
    ignores_holds: ClassVar[bool] = True
    day: date
    last: str  # the time of the event before, with its zone

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"the event before was booked at {self.last}"


def clock_said(at: datetime, last: datetime | None, seq: int, is_right: bool) -> ClockSaid | None:
    """The event that keeps the word for the clock, where one is needed; ``last`` is when event ``seq`` was booked.

    Raises :class:`~labelkit.errors.record.ClockBackwards` and :class:`~labelkit.errors.record.ClockFarAhead` unless it
    is said that the clock is right.

    >>> from datetime import UTC
    >>> booked = datetime(2027, 7, 14, tzinfo=UTC)
    >>> clock_said(booked + timedelta(days=1), booked, 3, is_right=False)
    >>> clock_said(booked - timedelta(days=365), booked, 3, is_right=True).last
    '2027-07-14T00:00:00+00:00'
    """
    if last is None or -CLOCKS_AGREE_TO <= at - last <= FAR_AHEAD:
        return None
    refusal = ClockBackwards if at < last else ClockFarAhead
    unless_said("said" if is_right else "", refusal(at.isoformat(), last.isoformat(), seq))
    return ClockSaid(at.date(), last.isoformat())
