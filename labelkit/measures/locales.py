"""The one door to babel: how this reader writes numbers, money, days and counts.

Numbers are read here too, because whether ``12,7`` is twelve point seven is a matter of where the reader lives.
The locale is always passed in; nothing here looks at the machine.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache

from babel import Locale, UnknownLocaleError, dates, numbers

from labelkit.errors.measures import CurrencyUnknown, LocaleUnknown, NumberOutOfReach, NumberUnclear
from labelkit.measures.rounding import HALF_UP, to_step

DEFAULT_LOCALE = "en_US"

_MOST_DIGITS = 18
_NOT_DIGITS = re.compile(r"[^\d.,'’\u00a0\u202f \u066b\u066c+\-−]")
_POINT_DECIMAL = re.compile(r"[+-]?\d+\.\d+")
_GROUP_OF_THREE = re.compile(r"[+-]?[1-9]\d{0,2}\.\d{3}")


@lru_cache
def locale_of(name: str) -> Locale:
    """The babel locale of a name such as ``en_US`` or ``fr-CA``.

    >>> locale_of("de-DE").territory
    'DE'
    """
    try:
        return Locale.parse(name.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        raise LocaleUnknown(name) from None


def language_names() -> Mapping[str, str]:
    """The languages of the world by their codes, as English calls them (CLDR).

    >>> language_names()["sk"], "the language of the country" in language_names()
    ('Slovak', False)
    """
    return locale_of("en").languages


def read_number(number: str, locale: str = DEFAULT_LOCALE, *, text: str | None = None) -> Decimal:
    """Read one number as people of this locale write it.

    A decimal point is understood everywhere, because scales, refractometers and TOML files print one, as long as it
    cannot be a thousands mark. Anything doubtful is refused rather than guessed. Raises
    :class:`~labelkit.errors.measures.NumberUnclear` or :class:`~labelkit.errors.measures.NumberOutOfReach`.

    >>> read_number("12,7", "de_DE"), read_number("28.4", "de_DE"), read_number("1,234.5", "en_US")
    (Decimal('12.7'), Decimal('28.4'), Decimal('1234.5'))
    """
    text = number if text is None else text
    known = locale_of(locale)
    digits = number.strip().replace("−", "-")
    if _NOT_DIGITS.search(digits) or sum(c.isdigit() for c in digits) > _MOST_DIGITS:
        raise NumberOutOfReach(text, number)
    try:
        return numbers.parse_decimal(digits, locale=known, strict=True)
    except numbers.NumberFormatError:
        pass
    if _POINT_DECIMAL.fullmatch(digits) and not _GROUP_OF_THREE.fullmatch(digits):
        return Decimal(digits)
    raise NumberUnclear(text, number, locale, do=_suggestion(digits, known))


def _suggestion(digits: str, known: Locale) -> str:
    if digits.count(",") == 1 and "." not in digits:
        return (
            f"Write “{digits.replace(',', '.')}” if the comma is a decimal mark, or choose the locale that "
            "writes it so, for example --locale de_DE."
        )
    shown = numbers.format_decimal(Decimal("1234.5"), locale=known)
    return f"Write it like “{shown}”, with at most one decimal mark."


def currency_digits(code: str) -> int:
    """Decimals of a currency by ISO 4217, as babel carries them.

    >>> currency_digits("USD"), currency_digits("JPY"), currency_digits("TND")
    (2, 0, 3)
    """
    if code not in _currencies():
        # Two letters swapped is the usual slip, so the same letters in another order come first.
        swapped = [c for c in sorted(_currencies()) if sorted(c) == sorted(code.upper())]
        near = (swapped + difflib.get_close_matches(code.upper(), sorted(_currencies()), n=3))[:3]
        raise CurrencyUnknown(code, f"; near it: {', '.join(near)}" if near else ", for example USD, EUR or GBP")
    return numbers.get_currency_precision(code)


def currency_sign(code: str, locale: str = DEFAULT_LOCALE) -> str:
    """The sign people write for a currency, or its code where they have none.

    >>> currency_sign("EUR", "de_DE"), currency_sign("USD"), currency_sign("PLN", "pl_PL")
    ('€', '$', 'zł')
    """
    return numbers.get_currency_symbol(code, locale=locale_of(locale))


@lru_cache
def _currencies() -> frozenset[str]:
    return frozenset(numbers.list_currencies())


def show_number(value: Decimal | int, locale: str = DEFAULT_LOCALE, *, digits: int | None = None) -> str:
    """A number for the reader's eye; ``digits`` fixes the decimals shown.

    >>> show_number(Decimal("1234.5"), "de_DE"), show_number(Decimal("17.6"), "en_US", digits=2)
    ('1.234,5', '17.60')
    """
    pattern = "#,##0.##########" if digits is None else "#,##0" + ("." + "0" * digits if digits else "")
    return numbers.format_decimal(value, format=pattern, locale=locale_of(locale))


def show_percent(value: Decimal, locale: str = DEFAULT_LOCALE, *, digits: int = 1) -> str:
    """A percentage given as percent (not as a fraction), to at most ``digits`` decimals.

    >>> show_percent(Decimal("17.6"), "en_US"), show_percent(Decimal("17.6"), "de_DE")
    ('17.6%', '17,6\\xa0%')
    """
    rounded = to_step(value, Decimal(1).scaleb(-digits), HALF_UP) / 100
    return numbers.format_percent(rounded, locale=locale_of(locale), decimal_quantization=False)


def show_money(amount: Decimal, currency: str, locale: str = DEFAULT_LOCALE) -> str:
    """An amount in its currency, as the reader's country prints it.

    >>> show_money(Decimal("1234.50"), "USD", "en_US"), show_money(Decimal("8.50"), "EUR", "de_DE")
    ('$1,234.50', '8,50\\xa0€')
    """
    return numbers.format_currency(amount, currency, locale=locale_of(locale))


def show_day(day: date, locale: str = DEFAULT_LOCALE, *, form: str = "long") -> str:
    """A day for the reader's eye.

    >>> show_day(date(2026, 7, 14), "en_US"), show_day(date(2026, 7, 14), "de_DE")
    ('July 14, 2026', '14. Juli 2026')
    """
    return dates.format_date(day, format=form, locale=locale_of(locale))


def read_local_day(text: str, locale: str = DEFAULT_LOCALE) -> date:
    """A day as people of this locale write it in figures, or as year-month-day anywhere.

    A two-digit year is refused, because 01/02/03 is six different days. Raises
    :class:`~labelkit.errors.measures.DayUnclear`.

    >>> read_local_day("14.07.2026", "de_DE"), read_local_day("7/14/2026", "en_US"), read_local_day("2026-07-14")
    (datetime.date(2026, 7, 14), datetime.date(2026, 7, 14), datetime.date(2026, 7, 14))
    """
    from labelkit.measures.days import read_day

    if not re.search(r"\b\d{4}\b", text) or re.fullmatch(r"\d{4}-\d{2}-\d{2}", text.strip()):
        return read_day(text)
    try:
        return dates.parse_date(text.strip(), locale=locale_of(locale))
    except (ValueError, IndexError, dates.ParseError):
        return read_day(text)


def cash_step(code: str) -> Decimal:
    """The smallest amount a till can be settled in with coins and notes, as Unicode CLDR has it for the currency.

    CLDR knows currencies, not countries: where one country of a currency rounds cash otherwise, say so yourself.
    Source: CLDR supplemental data, ``currencyData/fractions``, ``cashDigits`` and ``cashRounding``, as babel carries it.

    >>> cash_step("USD"), cash_step("CHF"), cash_step("DKK"), cash_step("JPY"), cash_step("TND")
    (Decimal('0.01'), Decimal('0.05'), Decimal('0.50'), Decimal('1'), Decimal('0.001'))
    """
    from babel.core import get_global

    currency_digits(code)
    fractions = get_global("currency_fractions")
    _, _, digits, step = fractions.get(code, fractions["DEFAULT"])
    return Decimal(step or 1).scaleb(-digits)


@dataclass(frozen=True, slots=True)
class Message:
    """One entry of a catalogue: its translations (one for each plural form), and whether it is marked as unsure."""

    strings: tuple[str, ...]
    unsure: bool


@dataclass(frozen=True, slots=True)
class Catalogue:
    """A message catalogue: the language, its entries by (context, English), the plural rule, the file's own headers."""

    lang: str
    messages: dict[tuple[str, str], Message]
    plural_rule: str
    headers: dict[str, str]


def read_catalogue(text: str, lang: str) -> Catalogue:
    """A gettext catalogue (``.po``) from its text.

    >>> read_catalogue('msgid "honey"\\nmsgstr "miel"\\n', "fr").messages[("", "honey")].strings
    ('miel',)
    """
    from io import StringIO

    from babel.messages.pofile import read_po

    held = read_po(StringIO(text), locale=lang)
    found = {}
    for entry in held:
        if not entry.id:
            continue
        name = entry.id[0] if isinstance(entry.id, tuple | list) else entry.id
        strings = tuple(entry.string) if isinstance(entry.string, tuple | list) else (entry.string or "",)
        found[entry.context or "", name] = Message(strings, "fuzzy" in entry.flags)
    headers = dict(re.findall(r'^"([A-Za-z-]+): (.*)\\n"$', text, re.MULTILINE))
    return Catalogue(lang, found, held.plural_expr, headers)
