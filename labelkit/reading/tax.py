"""Tax as a producer states it."""

from __future__ import annotations

from labelkit.errors.measures import NumberOutOfReach, NumberUnclear
from labelkit.errors.sale import TaxUnclear
from labelkit.measures import read_percent
from labelkit.sale.tax import ADDED, INCLUDED, WAYS, Tax


def read_tax(text: str, locale: str) -> Tax:
    """From what a producer types: "none", "included 7 %", "added 5.3 %", "exempt" or "reverse-charge".

    Raises :class:`~labelkit.errors.sale.TaxUnclear`.

    >>> read_tax("included 7 %", "en_US").percent, read_tax("none", "en_US").how
    (Decimal('7'), 'none')
    """
    how, _, rate = text.strip().partition(" ")
    if how not in WAYS or (how in (INCLUDED, ADDED)) != bool(rate.strip()):
        raise TaxUnclear(text)
    if not rate:
        return Tax(how)
    try:
        percent = read_percent(rate, locale)
    except (NumberUnclear, NumberOutOfReach):
        raise TaxUnclear(text) from None
    if not 0 <= percent <= 100:
        raise TaxUnclear(text)
    return Tax(how, percent)
