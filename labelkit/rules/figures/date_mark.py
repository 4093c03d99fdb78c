"""The best-before statement, how much of the date is enough, and whether a lot mark is due beside it."""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from labelkit.errors.measures import DayUnclear
from labelkit.errors.rules import DateBeforeBottling, DateNotShortEnough, FactMissing
from labelkit.measures.locales import show_day
from labelkit.rules.blocks import Value
from labelkit.rules.glossary import glossary
from labelkit.rules.market import Market

DAY, MONTH, YEAR = "day", "month", "year"
_PARTS = re.compile(r"(\d{4})(?:-(\d{1,2}))?(?:-(\d{1,2}))?")
_MONTHS_IN_A_YEAR = 12
_LONGEST_MONTH = 31  # days: makes a part of a month less than a whole one, whatever the month


@dataclass(frozen=True, slots=True)
class BestBefore:
    """A date of which the day, or the day and the month, may be left open; ``last`` is its last day."""

    last: date
    shows: str

    @classmethod
    def read(cls, text: str | date) -> BestBefore:
        """From ``2028-06-30``, ``2028-06`` or ``2028``.

        >>> BestBefore.read("2028-06")
        BestBefore(last=datetime.date(2028, 6, 30), shows='month')
        """
        if isinstance(text, date):
            return cls(text, DAY)
        found = _PARTS.fullmatch(text.strip())
        if not found:
            raise DayUnclear(text)
        year = int(found[1])
        month, day = (int(part) if part else None for part in found.groups()[1:])
        try:
            if month is None:
                return cls(date(year, _MONTHS_IN_A_YEAR, monthrange(year, _MONTHS_IN_A_YEAR)[1]), YEAR)
            if day is None:
                return cls(date(year, month, monthrange(year, month)[1]), MONTH)
            return cls(date(year, month, day), DAY)
        except ValueError:
            raise DayUnclear(text) from None

    def __str__(self) -> str:
        whole = self.last.isoformat()
        return {DAY: whole, MONTH: whole[:7], YEAR: whole[:4]}[self.shows]


@dataclass(frozen=True, slots=True)
class DateMark:
    """The statement, whether a lot mark is due with it, and whether a date is due at all (``None``: that depends)."""

    statement: str
    lot_mark_needed: bool
    date_due: bool | None
    laws: tuple[Value, ...]


def of(best_before: BestBefore, market: Market, bottled: date | None = None) -> DateMark:
    """The best-before statement of this market.

    A shortened date (month or year only) needs the day of bottling, because how much of the date is enough depends on
    how long the honey keeps.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> eu = market("eu", date(2026, 11, 25))
    >>> of(BestBefore.read("2028-06-30"), eu).statement
    'Best before 30 June 2028'
    >>> short = of(BestBefore.read("2028"), eu, date(2026, 6, 30))
    >>> short.statement, short.lot_mark_needed
    ('Best before end 2028', True)
    """
    if bottled and best_before.last <= bottled:
        raise DateBeforeBottling(str(best_before), bottled.isoformat())
    laws = _enough(best_before, market, bottled)
    words = market.value("best before with the day" if best_before.shows == DAY else "best before without the day")
    lot, due = market.value("lot mark is due"), market.value("date is due")
    laws += [words, lot, due]
    statement = words.value.format(date=_written(best_before, market, laws))
    return DateMark(statement, _lot_due(lot, best_before), _due(due, market, best_before, bottled), tuple(laws))


def months_between(start: date, end: date) -> Fraction:
    """Months from one day to another; days beyond whole months count as a part of one.

    >>> months_between(date(2026, 6, 30), date(2028, 6, 30)), months_between(date(2026, 6, 30), date(2027, 12, 31)) > 18
    (Fraction(24, 1), True)
    """
    months = _MONTHS_IN_A_YEAR * (end.year - start.year) + end.month - start.month
    return months + Fraction(end.day - start.day, _LONGEST_MONTH)


def _enough(best_before: BestBefore, market: Market, bottled: date | None) -> list[Value]:
    name = "a date may be shortened"
    if best_before.shows == DAY or not market.holds(name):
        return []
    rule = market.value(name)
    if bottled is None:
        question = "On which day is the honey bottled? How much of the date is enough depends on how long it keeps."
        raise FactMissing("form of the best-before date", market.name, (question,))
    keeps = months_between(bottled, best_before.last)
    row = next(row for row in rule.value if "to" not in row or keeps <= row["to"])
    if best_before.shows not in row["shows"]:
        enough = f"at least the {row['shows'][0]} must be shown"
        raise DateNotShortEnough(str(best_before), market.name, str(round(keeps)), enough, str(rule.cite))
    return [rule]


def _written(best_before: BestBefore, market: Market, laws: list[Value]) -> str:
    patterns = market.value("date written")
    laws.append(patterns)
    shown = next((row for row in patterns.value if row["shows"] == best_before.shows), patterns.value[0])
    text = show_day(best_before.last, market.head.languages[0], form=shown["pattern"])
    if market.holds("month codes"):
        codes = market.value("month codes")
        laws.append(codes)
        text = text.replace("@", codes.value[best_before.last.month - 1])
    return text


def _lot_due(lot: Value, best_before: BestBefore) -> bool:
    return lot.value == "always" or (lot.value != "not required" and best_before.shows != DAY)


def _due(due: Value, market: Market, best_before: BestBefore, bottled: date | None) -> bool | None:
    if due.value in ("always", "not required"):
        return bool(due.value == "always")
    if bottled is None:
        return None
    return bool((best_before.last - bottled).days <= market.value("date is due when it keeps up to").value)


def question_of_keeping() -> str:
    """The question that settles whether a date is due."""
    return glossary().fact("keeps_days").asks
