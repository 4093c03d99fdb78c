"""Numbers as people type and paste them: the locale's marks, any script's digits, any space, either apostrophe.

The locale is a required argument of everything that reads or shows, because ``12.500`` is twelve and a half or twelve
thousand five hundred, depending on where the reader lives.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import date, datetime
from decimal import Decimal
from functools import lru_cache

from labelkit.errors.measures import CountUnclear, DayUnclear, NumberOutOfReach, NumberUnclear, YearOutOfReach
from labelkit.errors.sentence import Sentence
from labelkit.measures.locales import day_in_figures, decimal_marks, group_marks, groupings, show_number

_MOST_DIGITS = 18
_ODD = {"'": "’ʼ＇`´", "-": "−‐‑‒–﹣－", "+": "＋", "/": "⁄∕／", ".": "．", ",": "，", "%": "٪％﹪"}
_SAME = {ord(sign): plain for plain, signs in _ODD.items() for sign in signs}
_POINT_DECIMAL = re.compile(r"\d+\.\d+")
_GROUP_OF_THREE = re.compile(r"[1-9]\d{0,2}\.\d{3}")
_FRACTION = re.compile(r"(?:(?P<whole>\d+) )?(?P<upper>\d+) ?/ ?(?P<lower>\d+)")


def fold(text: str) -> str:
    """What was typed, with one sign for each thing that has several: digits, spaces, minus, apostrophe, slash.

    Marks nobody sees (direction marks, soft hyphens, zero-width spaces) go. Source of the digits: the Unicode Character
    Database, as Python carries it.

    >>> fold("٢٥٠ g"), fold("2\\u202f1⁄2\\xa0lb"), fold("\\u200e−1’234")
    ('250 g', '2 1/2 lb', "-1'234")
    """
    return " ".join("".join(map(_plain_sign, text.translate(_SAME))).split())


def _plain_sign(sign: str) -> str:
    if sign.isascii():
        return sign
    if unicodedata.category(sign) == "Cf":
        return ""
    digit = unicodedata.decimal(sign, None)
    return sign if digit is None else str(digit)


def read_number(number: str, locale: str, *, text: str | None = None) -> Decimal:
    """Read one number as people of this locale write it; ``text`` is all that was typed, for the message.

    A decimal point is understood everywhere, because scales, refractometers and TOML files print one, as long as it
    cannot be a thousands mark. Anything doubtful is refused rather than guessed. Raises
    :class:`~labelkit.errors.measures.NumberUnclear` or :class:`~labelkit.errors.measures.NumberOutOfReach`.

    >>> read_number("12,7", "de_DE"), read_number("28.4", "de_DE"), read_number("1,234.5", "en_US")
    (Decimal('12.7'), Decimal('28.4'), Decimal('1234.5'))
    >>> read_number("12.500", "de_DE"), read_number("1’234.5", "de_CH"), read_number("१२,३४,५६७", "mr_IN")
    (Decimal('12500'), Decimal('1234.5'), Decimal('1234567'))
    """
    whole = number if text is None else text
    folded = fold(number)
    negative, digits = folded.startswith("-"), folded.removeprefix("-").removeprefix("+").strip()
    if not re.fullmatch(rf"[\d {re.escape(_marks(locale))}]+", digits) or sum(map(str.isdigit, digits)) > _MOST_DIGITS:
        raise NumberOutOfReach(whole, number)
    found = _pattern(locale).fullmatch(digits)
    if found:
        value = Decimal(f"{re.sub(r'[^0-9]', '', found['whole'] or '0')}.{found['parts'] or '0'}")
        value = value if found["parts"] else value.to_integral_value()
    elif _POINT_DECIMAL.fullmatch(digits) and not _GROUP_OF_THREE.fullmatch(digits):
        value = Decimal(digits)
    else:
        raise NumberUnclear(whole, number, locale, do=_suggestion(digits, locale))
    return -value if negative else value


@lru_cache
def _marks(locale: str) -> str:
    return "".join({".", ",", "'", *map(fold, (*decimal_marks(locale), *group_marks(locale)))})


@lru_cache
def _pattern(locale: str) -> re.Pattern[str]:
    """Plain digits or whole groups of them, then the decimal mark."""
    group, point = (
        f"[{re.escape(''.join(fold(mark) or ' ' for mark in marks(locale)))}]" for marks in (group_marks, decimal_marks)
    )
    grouped = "|".join(
        rf"[1-9]\d{{0,{before - 1}}}(?:{group}\d{{{before}}})*{group}\d{{{last}}}" for last, before in groupings(locale)
    )
    return re.compile(rf"(?P<whole>{grouped}|\d+)?(?:{point}(?P<parts>\d+))?(?<=\d)")


def _suggestion(digits: str, locale: str) -> str:
    if _GROUP_OF_THREE.fullmatch(digits):
        mark = decimal_marks(locale)[0]
        return Sentence(
            "Write “{whole}” if the point marks the thousands, “{decimal}” if it is the decimal mark.",
            whole=digits.replace(".", ""),
            decimal=digits.replace(".", mark),
        )
    if digits.count(",") == 1 and "." not in digits:
        return Sentence(
            "Write “{decimal}” if the comma is a decimal mark. Or choose the locale you write in, for example --locale de_DE.",
            decimal=digits.replace(",", "."),
        )
    return Sentence(
        "Write it like “{example}”, with at most one decimal mark.", example=show_number(Decimal("1234.5"), locale)
    )


def read_amount(number: str, locale: str, *, text: str) -> Decimal:
    """A number or a common fraction, such as ``2 1/2``.

    >>> read_amount("2 1/2", "en_US", text="2 1/2 lb")
    Decimal('2.5')
    """
    fraction = _FRACTION.fullmatch(fold(number))
    if fraction is None:
        return read_number(number, locale, text=text)
    upper, lower = int(fraction["upper"]), int(fraction["lower"])
    if lower == 0 or upper >= lower:
        raise NumberUnclear(text, number, locale, do="Write a proper fraction such as 1/2, or decimals.")
    return int(fraction["whole"] or 0) + Decimal(upper) / Decimal(lower)


def read_percent(text: str, locale: str) -> Decimal:
    """A number of per cent, with or without its sign, on whichever side.

    >>> read_percent("17.6%", "en_US"), read_percent("17,6 %", "de_DE"), read_percent("%17,6", "tr_TR")
    (Decimal('17.6'), Decimal('17.6'), Decimal('17.6'))
    """
    return read_number(fold(text).replace("%", "", 1), locale, text=text)


def read_count(text: str, locale: str, *, least: int = 0) -> int:
    """A whole number of things, at least ``least``. Raises :class:`~labelkit.errors.measures.CountUnclear`.

    >>> read_count("1,200", "en_US"), read_count("0", "en_US")
    (1200, 0)
    """
    try:
        number = read_number(text, locale)
    except (NumberUnclear, NumberOutOfReach):
        raise CountUnclear(text, least) from None
    if number != number.to_integral_value() or number < least:
        raise CountUnclear(text, least)
    return int(number)


FIRST_YEAR, LAST_YEAR = 1900, 2999


def read_day(text: str | date, locale: str) -> date:
    """A day in figures as people of this locale write it, or as year-month-day anywhere; a TOML date passes through.

    A two-digit year is refused, because 01/02/03 is six different days, and so is one no jar was ever filled in. Raises
    :class:`~labelkit.errors.measures.DayUnclear` and :class:`~labelkit.errors.measures.YearOutOfReach`.

    >>> read_day("14.07.2026", "de_DE"), read_day("7/14/2026", "en_US"), read_day("2026-07-14", "fr_FR")
    (datetime.date(2026, 7, 14), datetime.date(2026, 7, 14), datetime.date(2026, 7, 14))
    """
    day = _day(text, locale)
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise YearOutOfReach(day.isoformat(), FIRST_YEAR, LAST_YEAR)
    return day


def _day(text: str | date, locale: str) -> date:
    if isinstance(text, date):
        return text.date() if isinstance(text, datetime) else text
    folded = fold(text)
    try:
        if re.search(r"\b\d{4}\b", folded) and not re.fullmatch(r"\d{4}-\d{2}-\d{2}", folded):
            return day_in_figures(folded, locale)
        return date.fromisoformat(folded)
    except (ValueError, IndexError):
        raise DayUnclear(text) from None
