"""The named roundings that are not themselves law.

Legal roundings stand with the legal figure they belong to. What all of them share is :func:`to_step`: a value, a
step, a direction, and nothing else.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal, localcontext

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
