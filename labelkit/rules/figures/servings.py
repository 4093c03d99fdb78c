"""How many servings a jar holds, and whether it is one serving by law."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market


@dataclass(frozen=True, slots=True)
class Servings:
    """``count`` as it is printed, ``about`` when it was rounded, ``dual_column`` when the whole jar needs a column too."""

    count: Decimal
    about: bool
    single_serving: bool
    dual_column: bool
    serving_g: Decimal
    laws: tuple[Value, ...]

    @property
    def words(self) -> str:
        """The number as the panel prints it, with "about" where it was rounded."""
        return f"about {plain(self.count)}" if self.about else plain(self.count)


def of(net_g: Decimal, market: Market) -> Servings:
    """The servings in a jar of this net weight.

    Raises :class:`~labelkit.errors.rules.NoRuleInForce` for markets whose serving rules are not held.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> us = market("us", date(2026, 11, 25))
    >>> of(Decimal("340.194"), us).words, of(Decimal("56.699"), us).words, of(Decimal(105), us).words
    ('about 16', 'about 2.5', '5')
    """
    reference, single, dual, steps = (
        market.value(name)
        for name in ("reference amount", "single serving below", "dual column up to", "rounding of servings")
    )
    share = Fraction(net_g) / Fraction(reference.value)
    if share < single.value:
        return Servings(Decimal(1), False, True, False, net_g, (reference, single))
    exact = net_g / reference.value
    step = next(row for row in steps.value if row["from"] <= exact and ("under" not in row or exact < row["under"]))
    count = to_step(exact, step["step"], HALF_UP)
    laws = (reference, single, dual, steps)
    return Servings(count, count != exact, False, share <= dual.value, reference.value, laws)
