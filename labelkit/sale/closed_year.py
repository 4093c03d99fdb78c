"""A year that was closed: what was carried into the next, and what was booked into it afterwards all the same."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.bucket import Part
from labelkit.lots.event import Event
from labelkit.measures import show_first, total
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.period import Period


@dataclass(frozen=True, slots=True)
class CarriedJars:
    """Jars of one lot and size that were still the producer's, wherever they stood."""

    lot: str
    size: str
    count: int


@dataclass(frozen=True, slots=True)
class CarriedEmpties:
    """Empty jars of one size, and their lids."""

    size: str
    jars: int
    lids: int


@dataclass(frozen=True, slots=True)
class YearClosed(Event):
    """A year whose stock was taken and whose papers were made; what was there on its last evening is carried forward."""

    kind: ClassVar[str] = "year-close"
    title: ClassVar[str] = "year closed"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    day: date
    first: date
    last: date
    buckets: tuple[Part, ...] = ()
    jars: tuple[CarriedJars, ...] = ()
    because: str = ""
    empties: tuple[CarriedEmpties, ...] = ()

    @property
    def period(self) -> Period:
        """The days that are closed."""
        return Period(self.first, self.last)

    def describe(self, locale: str = DEFAULT_LOCALE) -> str:
        """Return the event in a few words, for lists."""
        honey = show_first(total(part.mass for part in self.buckets), locale)
        return f"{self.period}: {honey} in buckets and {sum(jars.count for jars in self.jars)} jars carried forward"


@dataclass(frozen=True, slots=True)
class BookedLate(Event):
    """The step that follows is booked into a year that was closed, and a person said why."""

    kind: ClassVar[str] = "late"
    title: ClassVar[str] = "booked into a closed year"
    ignores_holds: ClassVar[bool] = True
    day: date
    first: date
    last: date
    because: str

    def describe(self, locale: str = DEFAULT_LOCALE) -> str:
        """Return the event in a few words, for lists."""
        return f"{Period(self.first, self.last)}: {self.because}"


def closing_of(day: date, closings: Iterable[YearClosed]) -> YearClosed | None:
    """The closing of the year a day lies in, if it was closed.

    >>> year = YearClosed(date(2026, 1, 3), date(2025, 1, 1), date(2025, 12, 31))
    >>> closing_of(date(2025, 7, 1), [year]) is year, closing_of(date(2026, 1, 1), [year])
    (True, None)
    """
    return next((each for each in closings if day in each.period), None)
