"""The price list in words and for programs: every size with its margin, its unit price by the market's rule, and doubts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from labelkit.errors.rules import NoRuleInForce
from labelkit.measures.locales import DEFAULT_LOCALE, show_percent
from labelkit.rules.figures import unit_price
from labelkit.rules.figures.unit_price import UnitPrice
from labelkit.rules.findings import law_lines
from labelkit.rules.market import Market
from labelkit.sale.price import UNITS, PriceRow, ladder_faults


@dataclass(frozen=True, slots=True)
class Priced:
    """A row of the list with the unit price each market asks for."""

    row: PriceRow
    units: tuple[tuple[str, UnitPrice], ...]  # market code, unit price

    def unit_text(self, locale: str) -> str:
        """What stands beside the price: each market's unit price, said once."""
        return " · ".join(dict.fromkeys(unit.text(locale) for _, unit in self.units))


def priced(rows: Iterable[PriceRow], markets: Sequence[Market]) -> tuple[Priced, ...]:
    """The rows by weight, with the unit prices of the markets that have a rule."""
    made = []
    for row in sorted(rows, key=lambda r: (r.product, r.grams, r.size)):
        units = tuple((m.code, unit) for m in markets if (unit := _unit(row, m)) is not None)
        made.append(Priced(row, units))
    return tuple(made)


def _unit(row: PriceRow, market: Market) -> UnitPrice | None:
    if row.declares is None:
        return None
    try:
        return unit_price.of(row.price, row.grams, market)
    except NoRuleInForce:
        return None


def notes(every: Sequence[Priced]) -> list[str]:
    """What the reader should know about the list."""
    dearer = [
        f"Note: {step.bigger.size} is dearer by weight than {step.smaller.size}; buyers expect the bigger jar to be the better buy."
        for step in ladder_faults(p.row for p in every)
    ]
    costless = [p.row.size for p in every if p.row.cost.minor == 0]
    if not costless:
        return dearer
    return [
        *dearer,
        f"Ask: what does a jar of {', '.join(costless)} cost you (jar, lid, label)? It counts as nothing until you say it"
        " with --cost, so the margin is too high; “labelkit find-prices” reckons it.",
    ]


def laws(every: Sequence[Priced]) -> str:
    """Where the unit prices come from; empty where none was asked for."""
    found = {law.rule: law for p in every for _, unit in p.units for law in unit.laws}
    return law_lines(found.values()) if found else ""


def document(every: Sequence[Priced], currency: str) -> dict[str, Any]:
    """For programs; there may be no size."""
    return {
        "currency": currency,
        "sizes": [
            {
                "size": p.row.size,
                "product": p.row.product,
                "declares": p.row.declares.text if p.row.declares else None,
                "price": str(p.row.price.amount),
                "cost": str(p.row.cost.amount),
                "margin": str(p.row.margin.amount),
                "per": {unit: str(p.row.per(unit).amount) for unit in UNITS if p.row.declares},
                "unit_price": [
                    {"market": code, "amount": str(unit.amount), "per": unit.per, "text": unit.text(DEFAULT_LOCALE)}
                    for code, unit in p.units
                ],
            }
            for p in every
        ],
        "notes": notes(every),
    }


def heads_and_rows(every: Sequence[Priced], locale: str) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """For the terminal: by the market's units where there are any, else per lb, oz, kg and 100 g."""
    by_law = any(p.units for p in every)
    rows = []
    for p in every:
        row = p.row
        percent = show_percent(row.margin_percent, locale, digits=0) if row.margin_percent is not None else "–"
        units = (p.unit_text(locale),) if by_law else tuple(_per(row, unit, locale) for unit in UNITS)
        rows.append(
            (
                row.called or row.size,
                row.declares.show(locale) if row.declares else "by the piece",
                row.price.show(locale),
                row.cost.show(locale),
                row.margin.show(locale),
                percent,
                *units,
            )
        )
    per = ("unit price",) if by_law else tuple(f"per {unit}" for unit in UNITS)
    return ("size", "declares", "price", "cost", "margin", "of price", *per), rows


def _per(row: PriceRow, unit: str, locale: str) -> str:
    return row.per(unit).show(locale) if row.declares else "–"
