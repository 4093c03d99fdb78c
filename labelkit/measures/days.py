"""Days of the calendar."""

from __future__ import annotations

from datetime import date


def years_after(day: date, years: int) -> date:
    """The same day some years later; 29 February becomes 28 February where it must.

    >>> years_after(date(2024, 2, 29), 2)
    datetime.date(2026, 2, 28)
    """
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return day.replace(year=day.year + years, day=28)
