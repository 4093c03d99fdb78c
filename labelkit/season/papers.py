"""What every paper of the season asks: how large the sheet is, and in which words and numbers it speaks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from labelkit.measures.locales import in_units, locale_of
from labelkit.measures.wording import Wording, language_of
from labelkit.paper.mail import Party
from labelkit.season.settings import SeasonSettings
from labelkit.shipped.catalogues import wording

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile

# The countries whose everyday paper is Letter, of those that have packs: as CLDR's territory data has it, from memory.
LETTER_COUNTRIES = ("us", "ca")
LETTER_CURRENCIES = ("USD", "CAD")


def paper_size(season: SeasonSettings | SeasonFile, page: str | None = None) -> str:
    """Letter in North America, A4 elsewhere, by the country of the first market, else by the currency, unless said.

    >>> from labelkit.season.settings import SeasonSettings
    >>> british = SeasonSettings(("uk", "us"), "USD", {}, {})
    >>> paper_size(british), paper_size(SeasonSettings((), "USD", {}, {})), paper_size(british, "letter")
    ('a4', 'letter', 'letter')
    """
    if page:
        return page
    if season.markets:
        return "letter" if season.markets[0].split("-")[0] in LETTER_COUNTRIES else "a4"
    return "letter" if season.currency in LETTER_CURRENCIES else "a4"


def paper_words(language: str | None, locale: str) -> tuple[Wording, str]:
    """The words of a paper in this language, or in the reader's, and the locale its numbers are written in."""
    wanted = language or locale
    locale_of(wanted)
    return wording("labelkit", wanted), wanted


def season_words(season: SeasonSettings | SeasonFile, language: str | None, locale: str) -> tuple[Wording, str]:
    """The words of the season's own papers, in this language, else the season's, else the reader's; and their locale.

    Numbers and days are written as the reader does where the paper speaks the reader's language, else as the season does.
    """
    of_season = season.language if isinstance(season, SeasonSettings) else ""
    wanted = language or of_season or locale
    locale_of(wanted)
    words = wording("labelkit", wanted)
    if not isinstance(season, SeasonSettings) or language_of(wanted) == language_of(locale):
        return words, locale
    spoken = season.numbers if season.numbers and language_of(season.numbers) == language_of(wanted) else wanted
    return words, in_units(spoken, season.units)


def sender_of(settings: Mapping[str, Any]) -> Party:
    """The producer as the sender of a letter."""
    maker = settings.get("maker", {})
    return Party(str(maker.get("name") or ""), str(maker.get("email") or ""))
