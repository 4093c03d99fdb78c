"""Days of the calendar."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

_MONTHS = 12


def months_after(day: date, months: int) -> date:
    """The same day some months later; the last of the month where it has no such day.

    >>> months_after(date(2026, 8, 31), 18)
    datetime.date(2028, 2, 29)
    """
    years, month = divmod(day.month - 1 + months, _MONTHS)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def years_after(day: date, years: int) -> date:
    """The same day some years later; 29 February becomes 28 February where it must.

    >>> years_after(date(2024, 2, 29), 2)
    datetime.date(2026, 2, 28)
    """
    return months_after(day, _MONTHS * years)
