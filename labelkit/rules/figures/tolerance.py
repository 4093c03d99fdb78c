"""How much less than it declares a single jar may hold, and the limits that follow from it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.errors.rules import OutsideTolerances
from labelkit.measures import Declared
from labelkit.measures.rounding import DOWN, UP, plain, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

# A variation that is a share of the label is shown down to this; down, because a smaller one is the safer one.
_SHOWN = Decimal("0.01")
_PERCENT = Decimal(100)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """In grams. ``error_g`` is the tolerable error (the maximum allowable variation where a market speaks of that).

    ``first_limit_g`` is what all but a few jars must hold, ``second_limit_g`` what every jar must hold; ``None`` where
    the market sets no such limit.
    """

    declared_g: Decimal
    error_g: Decimal
    first_limit_g: Decimal | None
    second_limit_g: Decimal | None
    is_variation: bool
    laws: tuple[Value, ...]


def of(declares: Declared, market: Market) -> Tolerance:
    """The tolerance of a declared weight in this market.

    Raises :class:`~labelkit.errors.rules.OutsideTolerances` where its table does not reach, and
    :class:`~labelkit.errors.rules.NoRuleInForce` where no table is held.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> eu = of(Declared.of_grams(Decimal(375)), market("eu", date(2026, 11, 25)))
    >>> eu.error_g, eu.first_limit_g, eu.second_limit_g
    (Decimal('11.3'), Decimal('363.7'), Decimal('352.4'))
    >>> of(Declared.read("1 lb", "en_US"), market("us", date(2026, 11, 25))).error_g
    Decimal('19.9')
    """
    if market.holds("maximum allowable variation"):
        return _variation(declares, market)
    return _tolerable_error(declares, market)


def _variation(declares: Declared, market: Market) -> Tolerance:
    grams = declares.grams
    table = market.value("maximum allowable variation")
    over, to = ("over", "to") if declares.customary else ("over_metric", "to_metric")
    row = _row(declares, market, table, over, to)
    share = row.get("percent")
    error = row["metric"] if share is None else to_step(grams * share / _PERCENT, _SHOWN, DOWN)
    return Tolerance(grams, error, None, None, True, (table,))


def _tolerable_error(declares: Declared, market: Market) -> Tolerance:
    grams, laws = declares.grams, [_table(declares, market)]
    _within(declares, market, laws)
    raw = raw_error(_row(declares, market, laws[0], "over", "to"), grams)
    step = None
    if market.holds("step of the tolerable error", declared=grams):
        laws.append(market.value("step of the tolerable error", declared=grams))
        step = laws[-1].value
    error = _up(raw, step)
    if not market.holds("second tolerable error"):
        return Tolerance(grams, error, grams - error, None, False, tuple(laws))
    second = market.value("second tolerable error")
    laws.append(second)
    twice = 2 * error if second.value == "twice the rounded error" else _up(2 * raw, step)
    return Tolerance(grams, error, grams - error, grams - twice, False, tuple(laws))


def raw_error(row: Mapping[str, Any], grams: Decimal) -> Decimal:
    """The error a row of the table names, before it is rounded."""
    mass: Decimal = row["mass"] if "mass" in row else grams * row["percent"] / _PERCENT
    return mass


def _up(error: Decimal, step: Decimal | None) -> Decimal:
    return Decimal(plain(error if step is None else to_step(error, step, UP)))


def _table(declares: Declared, market: Market) -> Value:
    customary = "tolerable error of a customary weight"
    return market.value(customary if declares.customary and market.holds(customary) else "tolerable error")


def _within(declares: Declared, market: Market, laws: list[Value]) -> None:
    bounds = [
        market.value(name)
        for name in ("smallest weight under the average system", "largest weight under the average system")
        if market.holds(name)
    ]
    laws.extend(bounds)
    if len(bounds) == 2 and not bounds[0].value <= declares.grams <= bounds[1].value:
        reach = f"{bounds[0].raw} to {bounds[1].raw}"
        raise OutsideTolerances(declares.text, market.name, reach, str(bounds[0].cite))


def _row(declares: Declared, market: Market, table: Value, over: str, to: str) -> Mapping[str, Any]:
    rows: Sequence[Mapping[str, Any]] = table.value
    for row in rows:
        if row.get(over, 0) < declares.grams and (to not in row or declares.grams <= row[to]):
            return row
    raise OutsideTolerances(declares.text, market.name, f"up to {plain(rows[-1][to])} g", str(table.cite))


__all__ = ["Tolerance", "of", "raw_error"]
