"""A year or another stretch of days, as people write it."""

from __future__ import annotations

import re

from labelkit.errors.sale import PeriodUnclear
from labelkit.measures.numerals import read_day
from labelkit.measures.period import Period

_YEAR = re.compile(r"(\d{4})(?:-(\d{1,2}))?")


def read_period(text: str, locale: str) -> Period:
    """A calendar year, the year that begins with a month, or two days with “..” between.

    Raises :class:`~labelkit.errors.sale.PeriodUnclear`.

    >>> [str(read_period(text, "en_US")) for text in ("2026", "2026-04", "2026-03-01..2026-10-31")]
    ['2026', '2026-04-01..2027-03-31', '2026-03-01..2026-10-31']
    """
    wanted = text.strip()
    if found := _YEAR.fullmatch(wanted):
        year, month = int(found[1]), int(found[2] or 1)
        if 1900 <= year <= 2200 and 1 <= month <= 12:
            return Period.of_year(year, month)
        raise PeriodUnclear(text)
    first, between, last = (part.strip() for part in wanted.partition(".."))
    if not between or not first or not last:
        raise PeriodUnclear(text)
    period = Period(read_day(first, locale), read_day(last, locale))
    if period.last < period.first:
        raise PeriodUnclear(text)
    return period
