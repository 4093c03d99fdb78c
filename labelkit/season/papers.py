"""What every paper of the season asks: how large the sheet is, and in which words and numbers it speaks."""

from __future__ import annotations

from labelkit.measures.locales import locale_of
from labelkit.measures.wording import Wording
from labelkit.shipped.catalogues import wording

LETTER_CURRENCIES = ("USD", "CAD")


def paper_size(currency: str, page: str | None = None) -> str:
    """Letter where dollars of North America are used, A4 elsewhere, unless ``page`` says so.

    >>> paper_size("USD"), paper_size("EUR"), paper_size("USD", "a4")
    ('letter', 'a4', 'a4')
    """
    return page or ("letter" if currency in LETTER_CURRENCIES else "a4")


def paper_words(language: str | None, locale: str) -> tuple[Wording, str]:
    """The words of a paper in this language, or in the reader's, and the locale its numbers are written in."""
    wanted = language or locale
    locale_of(wanted)
    return wording("labelkit", wanted), wanted
