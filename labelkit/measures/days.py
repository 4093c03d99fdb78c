"""Days of the calendar, as people and files write them."""

from __future__ import annotations

from datetime import date, datetime

from labelkit.errors.measures import DayUnclear


def read_day(text: str | date) -> date:
    """A calendar day from ``year-month-day``; a TOML date passes through.

    >>> read_day("2026-07-14")
    datetime.date(2026, 7, 14)
    """
    if isinstance(text, datetime):
        return text.date()
    if isinstance(text, date):
        return text
    try:
        return date.fromisoformat(str(text).strip())
    except ValueError:
        raise DayUnclear(str(text)) from None


def years_after(day: date, years: int) -> date:
    """The same day some years later; 29 February becomes 28 February where it must.

    >>> years_after(date(2024, 2, 29), 2)
    datetime.date(2026, 2, 28)
    """
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return day.replace(year=day.year + years, day=28)
