"""The one door to babel: how this reader writes numbers, money, days and counts.

The locale is always passed in; nothing here looks at the machine. Numbers are read in
:mod:`labelkit.measures.numerals`.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache

from babel import Locale, UnknownLocaleError, dates, numbers

from labelkit.errors.measures import CurrencyUnknown, LocaleUnknown
from labelkit.measures.rounding import HALF_UP, to_step

DEFAULT_LOCALE = "en_US"
# The key for a measurement system in a locale's name: Unicode Technical Standard 35, part 1, section 3.6 (from memory).
_UNITS, _ONLY = "-u-ms-", "-x-only"
_SYSTEMS = {"metric": "metric", "customary": "ussystem"}


@lru_cache
def locale_of(name: str) -> Locale:
    """The babel locale of a name such as ``en_US`` or ``fr-CA``; what :func:`in_units` adds to it is passed over.

    >>> locale_of("de-DE").territory
    'DE'
    """
    try:
        return Locale.parse(name.partition(_UNITS)[0].replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        raise LocaleUnknown(name) from None


def in_units(locale: str, units: str) -> str:
    """The same locale with the weights that come first: ``metric`` or ``customary``, with ``-only`` the others never.

    >>> in_units("en_US", "customary-only"), locale_of(in_units("de_DE", "metric")).territory
    ('en_US-u-ms-ussystem-x-only', 'DE')
    """
    system, _, only = units.partition("-")
    return f"{locale.partition(_UNITS)[0]}{_UNITS}{_SYSTEMS[system]}{_ONLY if only else ''}"


def customary_first(locale: str) -> bool:
    """Whether pounds and ounces come first for this reader; kilograms where nothing is said."""
    return f"{_UNITS}{_SYSTEMS['customary']}" in locale


def one_system(locale: str) -> bool:
    """Whether this reader wants the weights of one system alone."""
    return locale.endswith(_ONLY)


def language_names() -> Mapping[str, str]:
    """The languages of the world by their codes, as English calls them (CLDR).

    >>> language_names()["sk"], "the language of the country" in language_names()
    ('Slovak', False)
    """
    return locale_of("en").languages


def territory_alias(code: str) -> str:
    """The two-letter code of a country that somebody wrote in another way; empty where none is meant (CLDR aliases).

    >>> territory_alias("DEU"), territory_alias("UK"), territory_alias("QQ")
    ('DE', 'GB', '')
    """
    from babel.core import get_global

    return next(iter(get_global("territory_aliases").get(code.upper(), ())), "")


@lru_cache
def decimal_marks(locale: str) -> tuple[str, ...]:
    """The decimal marks a number may have in this locale, the one it is printed with first.

    >>> decimal_marks("de_DE")[0], decimal_marks("en_US")[0]
    (',', '.')
    """
    return _marks(numbers.get_decimal_symbol, locale, "٫")


@lru_cache
def group_marks(locale: str) -> tuple[str, ...]:
    """The thousands marks a number may have in this locale, the one it is printed with first.

    >>> group_marks("de_DE")[0], group_marks("en_US")[0]
    ('.', ',')
    """
    return _marks(numbers.get_group_symbol, locale, "٬")


def _marks(symbol: Callable[..., str], locale: str, arabic: str) -> tuple[str, ...]:
    """The mark babel prints between European digits, that between the locale's own, and the Arabic one, which is plain."""
    known = locale_of(locale)
    return tuple(dict.fromkeys((symbol(known), symbol(known, numbering_system="default"), arabic)))


@lru_cache
def groupings(locale: str) -> frozenset[tuple[int, int]]:
    """How many digits the last group and the groups before it have, as this locale writes numbers, per cents and money.

    >>> sorted(groupings("mr_IN")), sorted(groupings("de_DE"))
    ([(3, 2), (3, 3)], [(3, 3)])
    """
    known = locale_of(locale)
    formats = (known.decimal_formats[None], known.percent_formats[None], known.currency_formats["standard"])
    # Without groups babel gives a thousand, which no number has.
    return frozenset({(3, 3), *(form.grouping for form in formats if max(form.grouping) < 10)})


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


def currency_sign(code: str, locale: str) -> str:
    """The sign people write for a currency, or its code where they have none.

    >>> currency_sign("EUR", "de_DE"), currency_sign("USD", "en_US"), currency_sign("PLN", "pl_PL")
    ('€', '$', 'zł')
    """
    return numbers.get_currency_symbol(code, locale=locale_of(locale))


@lru_cache
def _currencies() -> frozenset[str]:
    return frozenset(numbers.list_currencies())


def show_number(value: Decimal | int, locale: str, *, digits: int | None = None) -> str:
    """A number for the reader's eye; ``digits`` fixes the decimals shown.

    >>> show_number(Decimal("1234.5"), "de_DE"), show_number(Decimal("17.6"), "en_US", digits=2)
    ('1.234,5', '17.60')
    """
    pattern = "#,##0.##########" if digits is None else "#,##0" + ("." + "0" * digits if digits else "")
    return numbers.format_decimal(value, format=pattern, locale=locale_of(locale))


def show_percent(value: Decimal, locale: str, *, digits: int = 1) -> str:
    """A percentage given as percent (not as a fraction), to at most ``digits`` decimals.

    >>> show_percent(Decimal("17.6"), "en_US"), show_percent(Decimal("17.6"), "de_DE")
    ('17.6%', '17,6\\xa0%')
    """
    rounded = to_step(value, Decimal(1).scaleb(-digits), HALF_UP) / 100
    return numbers.format_percent(rounded, locale=locale_of(locale), decimal_quantization=False)


def show_money(amount: Decimal, currency: str, locale: str) -> str:
    """An amount in its currency, as the reader's country prints it.

    >>> show_money(Decimal("1234.50"), "USD", "en_US"), show_money(Decimal("8.50"), "EUR", "de_DE")
    ('$1,234.50', '8,50\\xa0€')
    """
    return numbers.format_currency(amount, currency, locale=locale_of(locale))


def show_day(day: date, locale: str, *, form: str = "long") -> str:
    """A day for the reader's eye.

    >>> show_day(date(2026, 7, 14), "en_US"), show_day(date(2026, 7, 14), "de_DE")
    ('July 14, 2026', '14. Juli 2026')
    >>> show_day(date(2028, 8, 1), "fr_FR"), show_day(date(2028, 8, 11), "fr_FR")
    ('1er août 2028', '11 août 2028')
    """
    shown = dates.format_date(day, format=form, locale=locale_of(locale))
    # The patterns of CLDR have no ordinal for the first of a month, which French writes in words (Lexique des règles
    # typographiques en usage à l'Imprimerie nationale, "dates"; from memory).
    return re.sub(r"\b1 (?=[^\W\d])", "1er ", shown) if day.day == 1 and locale_of(locale).language == "fr" else shown


def day_in_figures(text: str, locale: str) -> date:
    """A day in the order in which this locale writes day, month and year; ``ValueError`` or ``IndexError`` if it is none.

    >>> day_in_figures("14.07.2026", "de_DE")
    datetime.date(2026, 7, 14)
    """
    return dates.parse_date(text, locale=locale_of(locale))


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


def language_name(lang: str) -> str:
    """A language's name for itself, as CLDR has it.

    >>> [language_name(lang) for lang in ("en", "es", "uk")]
    ['English', 'Español', 'Українська']
    """
    from babel import Locale

    return str(Locale.parse(lang).get_display_name(lang)).capitalize()
