"""The metric half of a declared weight: grams or kilograms, as many figures as the market allows, never rounded up."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from labelkit.measures.locales import show_number
from labelkit.measures.rounding import DOWN, HALF_UP, plain, significant, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

POUND_SIZES = "metric weights of the pound sizes"
_GRAM, _MILLIGRAM = Decimal(1), Decimal("0.001")
_KILOGRAM = Decimal(1000)


class Metric(NamedTuple):
    """One lawful metric figure: as it is printed, and what it says in grams."""

    words: str
    grams: Decimal


def forms(grams: Decimal, market: Market, laws: list[Value], *, exact: bool) -> list[Metric]:
    """Every lawful metric form of a weight, the best first; none when it rounds down to nothing.

    ``exact`` keeps the decimals of a weight that was given in metric units; a weight given in ounces or pounds becomes
    whole figures. The values it rests on are added to ``laws``.
    """
    found = [
        Metric(words, figure)
        for figure in _figures(grams, market, laws, exact=exact)
        for words in _spelt(figure, market, laws)
    ]
    return [form for form in found if form.grams >= _GRAM]


def _figures(grams: Decimal, market: Market, laws: list[Value], *, exact: bool) -> list[Decimal]:
    """The figures in grams: the full ones first when given in metric units, the short ones first otherwise."""
    name, small = "figures of the metric weight", "figures that are enough for a small metric weight"
    if not market.holds(name):
        cut = to_step(grams, _MILLIGRAM if exact else _GRAM, DOWN)
        return [cut] if exact else list(dict.fromkeys([pound_size(grams, market, laws), cut]))
    allowed = market.value(name)
    laws.append(allowed)
    full = significant(grams, allowed.value, DOWN)
    if not market.holds(small, declared=grams):
        return [full]
    enough = market.value(small, declared=grams)
    laws.append(enough)
    short = significant(grams, enough.value, DOWN)
    return list(dict.fromkeys([full, short] if exact else [short]))


def pound_size(grams: Decimal, market: Market, laws: list[Value]) -> Decimal:
    """The metric weight a pound size is sold as, where it is the nearest gram; otherwise the weight cut to whole grams.

    The jar is filled to the larger of its two figures, so 454 g is as true as 453 g on a jar of a pound.
    """
    nearest, cut = to_step(grams, _GRAM, HALF_UP), to_step(grams, _GRAM, DOWN)
    if nearest == cut or not market.holds(POUND_SIZES) or nearest not in market.value(POUND_SIZES).value:
        return cut
    laws.append(market.value(POUND_SIZES))
    return nearest


def _spelt(figure: Decimal, market: Market, laws: list[Value]) -> list[str]:
    in_grams, in_kilograms = f"{printed(figure, market)} g", f"{printed(figure / _KILOGRAM, market)} kg"
    if market.holds("weights that may be shown in either metric unit"):
        either = market.value("weights that may be shown in either metric unit")
        if figure in either.value:
            laws.append(either)
            return [in_grams, in_kilograms]
    if market.holds("kilograms from"):
        from_here = market.value("kilograms from")
        laws.append(from_here)
        return [in_kilograms] if figure >= from_here.value else [in_grams]
    return [in_kilograms, in_grams] if figure >= _KILOGRAM else [in_grams]


def printed(figure: Decimal, market: Market) -> str:
    """A figure with the decimal mark of the market's language, without thousands marks or idle zeros."""
    mark = show_number(Decimal("0.5"), market.head.languages[0])[1]
    return plain(figure).replace(".", mark)
