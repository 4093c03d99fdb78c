"""The named roundings that are not themselves law.

Legal roundings stand with the legal figure they belong to. What all of them share is :func:`to_step`: a value, a
step, a direction, and nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

DOWN = ROUND_FLOOR
UP = ROUND_CEILING
HALF_UP = ROUND_HALF_UP
HALF_EVEN = ROUND_HALF_EVEN


def to_step(value: Decimal, step: Decimal, rule: str) -> Decimal:
    """Round ``value`` to a whole multiple of ``step``.

    >>> to_step(Decimal("453.59237"), Decimal("1"), DOWN)
    Decimal('453')
    >>> to_step(Decimal("11.25"), Decimal("0.1"), UP)
    Decimal('11.3')
    >>> to_step(Decimal("2.70"), Decimal("0.5"), HALF_UP)
    Decimal('2.5')
    """
    with localcontext() as context:
        context.prec = 50
        return (value / step).to_integral_value(rounding=rule) * step


def down_to_milligram(grams: Decimal) -> int:
    """Whole milligrams, never more than there is.

    Everything that is weighed, typed or declared comes in through this one rule. Down on both sides keeps sixty
    one-pound jars in a sixty-pound bucket, where any other choice would lose the last jar to a third of a milligram.

    >>> down_to_milligram(Decimal("453.59237"))
    453592
    >>> 60 * down_to_milligram(Decimal("453.59237")) <= down_to_milligram(60 * Decimal("453.59237"))
    True
    """
    return int(to_step(grams * 1000, Decimal(1), DOWN))


def significant(value: Decimal, figures: int, rule: str) -> Decimal:
    """Round to a number of significant figures.

    >>> significant(Decimal("2267.96185"), 3, DOWN)
    Decimal('2260')
    >>> significant(Decimal("28.349523"), 2, DOWN)
    Decimal('28')
    """
    if value == 0:
        return value
    step = Decimal(1).scaleb(value.adjusted() - figures + 1)
    rounded = to_step(value, step, rule)
    return rounded.quantize(Decimal(1)) if step >= 1 else rounded


def plain(value: Decimal) -> str:
    """A decimal without exponent and without zeros that say nothing, as JSON carries it.

    >>> plain(Decimal("2.84E+7")), plain(Decimal("1.500")), plain(Decimal("-0.0"))
    ('28400000', '1.5', '0')
    """
    text = format(value, "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def apportion(whole: int, weights: Sequence[Decimal | int]) -> tuple[int, ...]:
    """Split a whole number by weights: every part is its exact share rounded down or up, and together they are the whole.

    What is left over after rounding down goes to the largest remainders, the earlier part first where two are equal (the
    method of largest remainders). Where all weights are nothing, all parts count the same.

    >>> apportion(1000, [1, 1, 1]), apportion(-10, [20, 5]), apportion(5, [])
    ((334, 333, 333), (-8, -2), ())
    """
    if not weights:
        return ()
    exact = [Fraction(weight) for weight in weights]
    together = sum(exact)
    if not together:
        exact, together = [Fraction(1)] * len(exact), Fraction(len(exact))
    sign = -1 if whole < 0 else 1
    shares = [abs(whole) * weight / together for weight in exact]
    floors = [share.numerator // share.denominator for share in shares]
    left = abs(whole) - sum(floors)
    for place in sorted(range(len(shares)), key=lambda place: (floors[place] - shares[place], place))[:left]:
        floors[place] += 1
    return tuple(sign * part for part in floors)
