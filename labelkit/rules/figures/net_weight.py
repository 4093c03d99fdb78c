"""The declared weight: every lawful form of words for it, and what a jar must hold so that all of them are true.

The figures that appear here are definitions of units (16 ounces in a pound, 1000 grams in a kilogram); how many
figures, which form under which weight, and what may come first stand in the packs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labelkit.errors.rules import TooLightToDeclare, WeightRoundsToZero
from labelkit.measures import Declared, Mass
from labelkit.measures.mass import GRAMS_PER_OUNCE
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.figures import customary, metric
from labelkit.rules.market import Market


@dataclass(frozen=True, slots=True)
class NetQuantity:
    """A declared weight: ``statements`` is every lawful form found, the best first."""

    statements: tuple[str, ...]
    customary: str | None
    metric: str
    metric_g: Decimal
    customary_g: Decimal | None
    fill_at_least_g: Decimal
    laws: tuple[Value, ...]

    @property
    def pair(self) -> tuple[str, str]:
        """The customary words (empty where there are none) and the metric words, as a label sets them."""
        return (self.customary or "", self.metric)


def net_quantity(declares: Declared, market: Market) -> NetQuantity:
    """The weight a producer wants to declare, in every form this market accepts.

    No figure of any statement is more than what was asked for. ``fill_at_least_g`` is the larger of the two declared
    weights, exact, where the market enforces the larger. Refuses what is below the market's scope.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> jar = net_quantity(Declared.read("1 lb", "en_US"), market("us", date(2026, 11, 25)))
    >>> jar.statements[0], jar.fill_at_least_g
    ('Net Wt 16 oz (1 lb) 453 g', Decimal('453.59237'))
    >>> net_quantity(Declared.read("500 g", "en_US"), market("us", date(2026, 11, 25))).customary
    '17.63 oz (1 lb 1.63 oz)'
    """
    text, grams, in_ounces = declares.text, declares.grams, declares.customary
    laws: list[Value] = []
    _within_scope(text, grams, market, laws)
    systems = _note(laws, market.value("systems of the net quantity"))
    metric_forms = metric.forms(grams, market, laws, exact=not in_ounces)
    if not metric_forms:
        raise WeightRoundsToZero(text, market.name)
    if systems.value == "metric":
        return _result(_metric_statements(market, metric_forms, (), laws), None, metric_forms, None, market, laws)
    ounces = Fraction(grams) / Fraction(GRAMS_PER_OUNCE)
    choices = customary.choices(ounces, market, grams, laws, tidy=not in_ounces)
    if not choices:
        raise WeightRoundsToZero(text, market.name)
    if systems.value == "both":
        statements = _both_statements(market, metric_forms, choices, laws)
    else:
        statements = _metric_statements(market, metric_forms, choices, laws)
    return _result(statements, choices, metric_forms, grams, market, laws)


def fill_target(declares: Declared, markets: Iterable[Market], uses: Mass | None = None) -> Mass:
    """What a jar must hold so that every market's declaration of this weight is true, down to the milligram.

    ``uses`` is the producer's own, higher target.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> day = date(2026, 11, 25)
    >>> fill_target(Declared.read("1 lb", "en_US"), [market("us", day), market("eu", day)])
    Mass(mg=453592)
    >>> fill_target(Declared.of_grams(Decimal(454)), [market("us", day)], uses=Mass.of_grams(456))
    Mass(mg=456000)
    """
    owed = [Mass.of_grams(net_quantity(declares, market).fill_at_least_g) for market in markets]
    return max([*owed, uses] if uses else owed)


def governing(metric_g: Decimal | None, customary_g: Decimal | None) -> Decimal:
    """Of two declared figures the one that is enforced: the larger.

    >>> governing(Decimal(454), Decimal("453.59237"))
    Decimal('454')
    """
    return max(figure for figure in (metric_g, customary_g) if figure is not None)


#: What a jar must hold, by the figure a market enforces: a function of the metric and the customary figure in grams.
_FILL_TARGETS: Mapping[str, Callable[[Decimal, Decimal | None], Decimal]] = {
    "the larger": governing,
    "the metric": lambda metric_g, _: metric_g,
}


def _note(laws: list[Value], value: Value) -> Value:
    laws.append(value)
    return value


def _within_scope(text: str, grams: Decimal, market: Market, laws: list[Value]) -> None:
    if not market.holds("smallest declared weight"):
        return
    smallest = _note(laws, market.value("smallest declared weight"))
    if grams < smallest.value:
        raise TooLightToDeclare(text, market.name, smallest.raw, str(smallest.cite))


def _words(market: Market, laws: list[Value]) -> Sequence[str]:
    if not market.holds("words with the net quantity"):
        return ()
    words: Sequence[str] = _note(laws, market.value("words with the net quantity")).value
    return words


def _both_statements(market: Market, metrics: Sequence[Any], choices: Sequence[Any], laws: list[Value]) -> list[str]:
    words = _words(market, laws)
    first = market.holds("either system may come first") and market.value("either system may come first").value
    found: list[str] = []
    for choice in choices:
        for shown in metrics:
            for form in choice.forms:
                found.append(f"{form} {shown.words}" if form.endswith(")") else f"{form} ({shown.words})")
    for choice in choices if first else ():
        for shown in metrics:
            found.extend(f"{shown.words} ({form})" for form in choice.forms if not form.endswith(")"))
    return [f"{words[0]} {form}" for form in found] + [f"{word} {found[0]}" for word in words[1:]]


def _metric_statements(market: Market, metrics: Sequence[Any], choices: Sequence[Any], laws: list[Value]) -> list[str]:
    words = _words(market, laws)
    alone = [shown.words for shown in metrics]
    worded = [f"{word} {form}" for word in words for form in alone]
    beside = [f"{form} ({choice.forms[0]})" for choice in choices for form in alone]
    return [*alone, *worded, *beside, *(f"{word} {form}" for word in words for form in beside)]


def _result(
    statements: Sequence[str],
    choices: Sequence[Any] | None,
    metrics: Sequence[Any],
    grams: Decimal | None,
    market: Market,
    laws: list[Value],
) -> NetQuantity:
    best = choices[0] if choices else None
    customary_g = best.grams if best else None
    enforced = _note(laws, market.value("figure that is enforced"))
    return NetQuantity(
        statements=tuple(dict.fromkeys(statements)),
        customary=best.forms[0] if best else None,
        metric=metrics[0].words,
        metric_g=metrics[0].grams,
        customary_g=customary_g,
        fill_at_least_g=Decimal(plain(_FILL_TARGETS[enforced.value](metrics[0].grams, customary_g))),
        laws=tuple(dict.fromkeys(laws)),
    )
