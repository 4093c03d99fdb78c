"""Shares of the countries a honey comes from."""

from __future__ import annotations

from decimal import Decimal

from labelkit.errors.rules import ShareUnclear
from labelkit.measures import read_percent
from labelkit.rules.figures.origin import known_country


def read_share(text: str, locale: str) -> tuple[str, Decimal]:
    """A country and its per cent from what a producer types.

    >>> read_share("es = 60", "en_US")
    ('ES', Decimal('60'))
    """
    code, equals, percent = text.partition("=")
    code = code.strip().upper()
    if not equals or not percent.strip():
        raise ShareUnclear(text, "it has no “=” with a per cent after it")
    known_country(code)
    share = read_percent(percent, locale)
    if not 0 < share <= 100:
        raise ShareUnclear(text, "a share is more than 0 and at most 100 per cent")
    return code, share
