"""How much one jar may be short, as the market's tolerance figure says it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures import Declared
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Grams a jar may be short: the first tolerance (T1, or the maximum allowable variation), and the second (T2)."""

    first: Decimal
    second: Decimal | None
    laws: tuple[Value, ...] = ()
    is_variation: bool = False  # the first one is a maximum allowable variation, judged with a sample error limit


def tolerances_of(market: Market, declares: Declared) -> Tolerances:
    """The tolerances of a jar that declares so much in this market, from the rules room."""
    from labelkit.rules.figures import tolerance

    found = tolerance.of(declares, market)
    if found.is_variation:
        return Tolerances(found.error_g, None, found.laws, is_variation=True)
    lowest = found.second_limit_g
    second = found.declared_g - lowest if lowest is not None else 2 * found.error_g
    return Tolerances(found.error_g, second, found.laws)
