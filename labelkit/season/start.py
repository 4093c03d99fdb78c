"""Start: who the producer is and where the jars are sold; said once, changed whenever it changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors import LabelkitError
from labelkit.errors.record import NothingToSet
from labelkit.measures.division import Division
from labelkit.measures.locales import currency_digits, locale_of
from labelkit.rules import market
from labelkit.rules.market import Market

if TYPE_CHECKING:
    from labelkit.record.work import Work

MAKER = ("name", "street", "city", "region", "postcode", "phone", "email", "registration")


@dataclass(frozen=True, slots=True)
class SeasonStart:
    """Markets, currency, the maker's name and address, and how the page shows things; what is empty stays as it was.

    ``units`` is ``metric`` or ``customary``, each also with ``-only``; ``scale`` the step of the scale jars are filled on;
    ``language`` and ``numbers`` are locales.
    """

    markets: tuple[str, ...] = ()
    currency: str = ""
    maker: Mapping[str, str] = field(default_factory=dict)
    units: str = ""
    language: str = ""
    numbers: str = ""
    scale: Division | None = None


@dataclass(frozen=True, slots=True)
class Started:
    """Every setting as it stands now, and the markets that were named."""

    settings: dict[str, Any]
    markets: tuple[Market, ...]


def usual_of(place: Market) -> tuple[str, str]:
    """The language of a place, and the locale its people write numbers in; that of the language where it is no country.

    >>> from labelkit.rules import market
    >>> [usual_of(market(code, date(2026, 7, 14))) for code in ("us-va", "eu-de", "uk", "ch")]
    [('en', 'en_US'), ('de', 'de_DE'), ('en', 'en_GB'), ('de', 'de_CH')]
    """
    language = place.head.languages[0] if place.head.languages else "en"
    country = country_of(place.code)
    try:
        locale_of(f"{language}_{country}")
    except LabelkitError:
        return language, "en_US" if language == "en" else language
    return language, f"{language}_{country}"


def country_of(market: str) -> str:
    """The two letters of the country a market lies in; empty for one that is no country.

    >>> country_of("us-va"), country_of("eu-de"), country_of("uk-wales"), country_of("eu"), country_of("codex")
    ('US', 'DE', 'GB', '', '')
    """
    union, _, part = market.upper().partition("-")
    code = part if union == "EU" else {"UK": "GB"}.get(union, union)
    return code if len(code) == 2 else ""


def check_start(asked: SeasonStart, day: date) -> tuple[Market, ...]:
    """The markets that are named, where all that is said can be kept; asked before a new record is made.

    Raises :class:`~labelkit.errors.record.NothingToSet`, and what refuses a market, a currency or a locale.
    """
    if not (
        asked.markets
        or asked.currency
        or asked.units
        or asked.scale
        or asked.language
        or asked.numbers
        or any(asked.maker.values())
    ):
        raise NothingToSet()
    for locale in filter(None, (asked.language, asked.numbers)):
        locale_of(locale)
    if asked.currency:
        currency_digits(asked.currency)
    return tuple(market(name, day) for name in asked.markets)


def start(work: Work, asked: SeasonStart, day: date) -> Started:
    """Keep what is said. Without a currency that of the first market is taken. Raises what :func:`check_start` does."""
    from labelkit.record.settings import Setting

    places = check_start(asked, day)
    now = work.settings()
    shown = {
        "units": asked.units,
        "scale": str(asked.scale or ""),
        "language": asked.language,
        "numbers": asked.numbers,
    }
    wanted: dict[str, Any] = {name: value for name, value in shown.items() if value}
    if places:
        wanted["market"] = [place.code for place in places]
        wanted["currency"] = asked.currency or now.get("currency") or places[0].head.currency
    elif asked.currency:
        wanted["currency"] = asked.currency
    if maker := {name: value for name, value in asked.maker.items() if value}:
        wanted["maker"] = {**now.get("maker", {}), **maker}
    work.add_all(Setting(day, name, value) for name, value in wanted.items())
    return Started({**now, **wanted}, places)
