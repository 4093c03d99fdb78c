"""What a nutrition panel says, word for word, before a display sets it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.measures.rounding import plain
from labelkit.rules.figures.nutrition import Panel, Row
from labelkit.rules.figures.nutrition_displays import kept
from labelkit.rules.market import Market

#: Leads from the heading of the percentages to the footnote (21 CFR 101.9(d)(6) and (9)).
STAR = "*"


@dataclass(frozen=True, slots=True)
class Line:
    """One nutrient: its name, amount and percentage as printed, for a serving and, where due, for the whole jar.

    ``whole_name`` names it also where the law lets the line be blank, for displays that run on in one text.
    """

    name: str
    whole_name: str
    amount: str
    percent: str
    level: int
    strong: bool
    jar_amount: str = ""
    jar_percent: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """All words of one panel. ``jar_number`` is empty where the panel has no second column."""

    heading: str
    servings: str
    serving_label: str
    serving: str
    amount_per_serving: str
    amount: str
    calories: str
    calories_per_serving: str
    number: str
    jar_number: str
    per_serving: str
    per_container: str
    percent: str
    short_percent: str
    lines: tuple[Line, ...]
    vitamins: tuple[Line, ...]
    none_of: str
    notes: tuple[str, ...]

    @property
    def dual(self) -> bool:
        return bool(self.jar_number)


def said(
    panel: Panel,
    market: Market,
    *,
    simplified: bool = False,
    short: bool = False,
    dual: bool = False,
    dagger: bool = True,
) -> Said:
    """The words of a panel.

    ``simplified`` leaves out what counts as none, names it at the foot and has the short footnote; ``short`` uses the
    abbreviations of small packages; ``dagger`` keeps the voluntary footnote of single-ingredient sugars.

    >>> from decimal import Decimal
    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> from labelkit.rules.figures.nutrition import panel
    >>> us = market("us", date(2026, 11, 25))
    >>> words = said(panel(Decimal("340.194"), us), us, simplified=True)
    >>> [line.name for line in words.lines]
    ['Total Fat', 'Sodium', 'Total Carbohydrate', 'Total Sugars', '', 'Protein']
    >>> words.none_of[:52]
    'Not a significant source of saturated fat, trans fat'
    """
    law = {row["item"]: row["text"] for row in market.value("words of the panel").value}
    shorter = _Shorter(market if short else None)
    shown, left_out = kept(market, panel.rows) if simplified else (panel.rows, ())
    jar = {row.key: row for row in panel.jar_rows} if dual else {}
    added = market.value("added sugars line").value
    lines = [(row, _line(row, jar.get(row.key), added, shorter, dagger)) for row in shown if row.key != "calories"]
    return Said(
        heading=law["heading"],
        servings=shorter(panel.servings_text),
        serving_label=shorter(law["serving size"]),
        serving=panel.serving,
        amount_per_serving=law["amount per serving"],
        amount=law["amount"],
        calories=law["calories"],
        calories_per_serving=law["calories per serving"],
        number=_unit(panel.of("calories").whole),
        jar_number=_unit(jar["calories"].whole) if jar else "",
        per_serving=law["per serving"],
        per_container=law["per container"],
        percent=shorter(law["percent"]),
        short_percent=_Shorter(market)(law["percent"]),
        lines=tuple(line for row, line in lines if not row.vitamin),
        vitamins=tuple(line for row, line in lines if row.vitamin),
        none_of=law["none of"].format(nutrients=_listed(left_out)) if left_out else "",
        notes=_notes(panel, market, brief=simplified, dagger=dagger),
    )


def _line(row: Row, jar: Row | None, added: str, shorter: _Shorter, dagger: bool) -> Line:
    name, amount, whole = shorter(row.name), _unit(row.amount or ""), _unit(row.whole)
    in_words = shorter(added.format(amount=whole)) if row.key == "added_sugars" else name
    if row.key == "added_sugars":
        name, amount, whole = (in_words if row.amount else ""), "", ""
    return Line(
        name,
        in_words,
        amount,
        _percent(row, dagger),
        row.level,
        row.level == 0 and not row.vitamin,
        _jar_amount(jar, row),
        _percent(jar, dagger=False) if jar else "",
    )


def _jar_amount(jar: Row | None, row: Row) -> str:
    """In a second column the grams of added sugars stand by themselves, since the name holds those of a serving."""
    return _unit(jar.amount or "") if jar and row.amount else ""


def _percent(row: Row, dagger: bool) -> str:
    return "" if row.percent_dv is None else f"{plain(row.percent_dv)}%{row.mark if dagger else ''}"


def _unit(amount: str) -> str:
    """An amount as panels have it, its unit close up.

    >>> _unit("17 g"), _unit("less than 1 g"), _unit("60")
    ('17g', 'less than 1g', '60')
    """
    return re.sub(r"(\d) (mcg|mg|g)$", r"\1\2", amount)


def _listed(rows: Sequence[Row]) -> str:
    names = [" ".join(word.lower() if len(word) > 1 else word for word in row.name.split()) for row in rows]
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _notes(panel: Panel, market: Market, *, brief: bool, dagger: bool) -> tuple[str, ...]:
    star = STAR + (market.value("short footnote of the panel").value if brief else panel.note)
    return (star, panel.dagger) if dagger and panel.dagger else (star,)


class _Shorter:
    """The abbreviations of small packages, or none."""

    def __init__(self, market: Market | None) -> None:
        rows = market.value("short words of a small panel").value if market else ()
        self.words = {row["long"]: row["short"] for row in rows}

    def __call__(self, text: str) -> str:
        for long, short in self.words.items():
            text = text.replace(long, short)
        return text
