"""A stretch of days: a calendar year, a year that begins with another month, or from one day to another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class Period:
    """From ``first`` to ``last``, both within."""

    first: date
    last: date

    @classmethod
    def of_year(cls, year: int, month: int = 1) -> Period:
        """The twelve months that begin with a month of a year.

        >>> str(Period.of_year(2026)), str(Period.of_year(2026, 4))
        ('2026', '2026-04-01..2027-03-31')
        """
        return cls(date(year, month, 1), date(year + 1, month, 1) - timedelta(days=1))

    @classmethod
    def of_day(cls, day: date) -> Period:
        """One day alone.

        >>> str(Period.of_day(date(2026, 7, 14)))
        '2026-07-14'
        """
        return cls(day, day)

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    @property
    def day_before(self) -> date:
        """The day whose evening is its beginning."""
        return self.first - timedelta(days=1)

    def __str__(self) -> str:
        if self.first == self.last:
            return str(self.first)
        return str(self.first.year) if self == Period.of_year(self.first.year) else f"{self.first}..{self.last}"
