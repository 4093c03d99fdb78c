"""Splitting money so that the parts are the whole, to the last cent."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from labelkit.measures import Money


def apportion(whole: Money, weights: Sequence[Decimal | int]) -> tuple[Money, ...]:
    """Split an amount by weights: every part is its exact share rounded down or up, and together they are the whole.

    The minor units left over after rounding down go to the largest remainders, the earlier part first where two are
    equal (the method of largest remainders). Where all weights are nothing, all parts count the same.

    >>> [part.amount for part in apportion(Money.of("10.00", "USD"), [1, 1, 1])]
    [Decimal('3.34'), Decimal('3.33'), Decimal('3.33')]
    """
    if not weights:
        return ()
    exact = [Fraction(weight) for weight in weights]
    together = sum(exact)
    if not together:
        exact, together = [Fraction(1)] * len(exact), Fraction(len(exact))
    sign = -1 if whole.minor < 0 else 1
    shares = [abs(whole.minor) * weight / together for weight in exact]
    floors = [share.numerator // share.denominator for share in shares]
    left = abs(whole.minor) - sum(floors)
    first = sorted(range(len(shares)), key=lambda place: (floors[place] - shares[place], place))
    for place in first[:left]:
        floors[place] += 1
    return tuple(Money(sign * units, whole.currency) for units in floors)


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
