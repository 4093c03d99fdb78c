"""Splitting money so that the parts are the whole, to the last cent."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from labelkit.measures import Money, rounding


def apportion(whole: Money, weights: Sequence[Decimal | int]) -> tuple[Money, ...]:
    """Split an amount by weights; see :func:`labelkit.measures.rounding.apportion`.

    >>> [part.amount for part in apportion(Money.of("10.00", "USD"), [1, 1, 1])]
    [Decimal('3.34'), Decimal('3.33'), Decimal('3.33')]
    """
    return tuple(Money(units, whole.currency) for units in rounding.apportion(whole.minor, weights))


def nothing(currency: str) -> Money:
    """No money at all, in a currency.

    >>> nothing("USD")
    Money(minor=0, currency='USD')
    """
    return Money(0, currency)


def together(amounts, currency: str) -> Money:
    """The sum of any number of amounts.

    >>> together([Money.of("1.10", "EUR"), Money.of("2.20", "EUR")], "EUR").amount
    Decimal('3.30')
    """
    whole = nothing(currency)
    for amount in amounts:
        whole = whole + amount
    return whole
