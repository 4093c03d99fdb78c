"""The nutrition panel as data: serving, rows as they are printed, footnotes.

Everything is reckoned from amounts per 100 g: the ready values of the pack, or the producer's own laboratory values.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.figures import servings
from labelkit.rules.figures.metric import forms
from labelkit.rules.market import Market

_PERCENT = Decimal(100)
_ADDED = "added_sugars"
_DAGGER = "†"
_TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Row:
    """One line: ``amount`` with its unit as printed (``None`` where the law lets it stay blank), and its percentage.

    ``level`` is how far the line is set in; ``whole`` is the amount also where it may stay blank; ``mark`` leads from the
    percentage to a footnote.
    """

    key: str
    name: str
    amount: str | None
    percent_dv: Decimal | None
    insignificant: bool
    level: int = 0
    vitamin: bool = False
    whole: str = ""
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel ready to be set. ``jar_rows`` are the same lines for the whole jar, where a second column is due.

    ``note`` is the footnote of every panel, ``dagger`` the one for sugars of a single ingredient; ``footnote`` is both.
    """

    serving: str
    servings_text: str
    rows: tuple[Row, ...]
    footnote: str
    dual_column: bool
    laws: tuple[Value, ...]
    note: str = ""
    dagger: str = ""
    jar_rows: tuple[Row, ...] = ()

    def of(self, key: str) -> Row:
        """The line of that key."""
        return next(row for row in self.rows if row.key == key)


def panel(
    net_g: Decimal, market: Market, ingredients: int = 1, per_100_g: Mapping[str, Decimal] | None = None
) -> Panel:
    """The panel of a jar of this net weight; ``per_100_g`` holds laboratory values by the keys of the rows.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> jar = panel(Decimal("340.194"), market("us", date(2026, 11, 25)))
    >>> [(row.name, row.amount, row.percent_dv) for row in jar.rows if row.key in ("calories", "carbohydrate")]
    [('Calories', '60', None), ('Total Carbohydrate', '17 g', Decimal('6'))]
    """
    held = servings.of(net_g, market)
    table, rounding, percents, line, note = (
        market.value(name)
        for name in (
            "nutrients of the panel",
            "rounding of nutrients",
            "rounding of percentages",
            "servings line",
            "footnote of the panel",
        )
    )
    laws = [*held.laws, table, rounding, percents, line, note]
    alone = market.holds("sugar alone need not be repeated as grams", ingredients=ingredients)
    values = {row["key"]: row["per_100_g"] for row in table.value} | dict(per_100_g or {})

    def rows_of(grams: Decimal) -> tuple[Row, ...]:
        return tuple(
            _row(entry, values[entry["key"]] * grams / _PERCENT, rounding.value, percents.value, blank=alone)
            for entry in table.value
        )

    rows, dagger = rows_of(held.serving_g), ""
    if alone:
        laws.append(market.value("sugar alone need not be repeated as grams", ingredients=ingredients))
        dagger = _dagger(rows, values[_ADDED] * held.serving_g / _PERCENT, market, ingredients, laws)
    return Panel(
        serving=_serving(held, market, laws),
        servings_text=_servings_line(held, line.value),
        rows=rows,
        footnote="\n".join(filter(None, (dagger, note.value))),
        dual_column=held.dual_column,
        laws=tuple(dict.fromkeys(laws)),
        note=note.value,
        dagger=dagger,
        jar_rows=rows_of(net_g) if held.dual_column else (),
    )


_Rows = Sequence[Mapping[str, Any]]  # of a table of the packs


def rounded(amount: Decimal, rounding: str, table: Sequence[Mapping[str, Any]], unit: str = "") -> str:
    """An amount as the panel prints it, by the first row of the rounding table that fits.

    >>> table = [{"nutrient": "sodium", "under": 5, "text": "0 mg"}, {"nutrient": "sodium", "step": Decimal(10)}]
    >>> rounded(Decimal("0.84"), "sodium", table, "mg"), rounded(Decimal(143), "sodium", table, "mg")
    ('0 mg', '140 mg')
    """
    row = next(row for row in table if row["nutrient"] == rounding and _within(amount, row))
    if "text" in row:
        return str(row["text"])
    return f"{plain(to_step(amount, row['step'], HALF_UP))} {unit}".strip()


def percent_of(amount: Decimal, daily_value: Decimal, sort: str, table: Sequence[Mapping[str, Any]]) -> Decimal:
    """A percentage of the daily value, from the amount before it is rounded (either is allowed)."""
    exact = amount / daily_value * _PERCENT
    row = next(row for row in table if row["sort"] == sort and _within(exact, row))
    return row["shown"] if "shown" in row else Decimal(plain(to_step(exact, row["step"], HALF_UP)))


def _within(amount: Decimal, row: Mapping[str, Any]) -> bool:
    return ("under" not in row or amount < row["under"]) and ("to" not in row or amount <= row["to"])


def _row(entry: Mapping[str, Any], amount: Decimal, rounding: _Rows, percents: _Rows, *, blank: bool) -> Row:
    small = amount < entry["insignificant_under"]
    percent = None
    if "percent" in entry:
        percent = percent_of(amount, entry["daily_value"], entry["percent"], percents)
    alone, whole = blank and entry["key"] == _ADDED, _amount(entry, amount, rounding)
    return Row(
        key=entry["key"],
        name=entry["name"],
        amount=None if alone else whole,
        percent_dv=percent,
        insignificant=small,
        level=entry.get("level", 0),
        vitamin=entry["rounding"] == "vitamin",
        whole=whole,
        mark=_DAGGER if alone else "",
    )


def _amount(entry: Mapping[str, Any], amount: Decimal, rounding: _Rows) -> str:
    unit = entry.get("unit", "")
    if "step" in entry:
        return f"{plain(to_step(amount, entry['step'], HALF_UP))} {unit}"
    return rounded(amount, entry["rounding"], rounding, unit)


def _dagger(rows: Sequence[Row], grams: Decimal, market: Market, ingredients: int, laws: list[Value]) -> str:
    text = market.value("footnote of single-ingredient sugars", ingredients=ingredients)
    laws.append(text)
    percent = next(row.percent_dv for row in rows if row.key == _ADDED and row.percent_dv is not None)
    return str(text.value).format(g=plain(to_step(grams, Decimal(1), HALF_UP)), percent=plain(percent))


def _serving(held: servings.Servings, market: Market, laws: list[Value]) -> str:
    """The serving as it is printed; for a single serving with the very metric figure of its net quantity."""
    text = market.value("serving of a single-serving jar" if held.single_serving else "serving")
    laws.append(text)
    grams = to_step(held.serving_g, Decimal(1), HALF_UP)
    if held.single_serving:
        given_in_grams = held.serving_g == to_step(held.serving_g, _TENTH, HALF_UP)
        grams = next((form.grams for form in forms(held.serving_g, market, laws, exact=given_in_grams)), grams)
    return str(text.value).format(g=plain(grams))


def _servings_line(held: servings.Servings, lines: Sequence[Mapping[str, str]]) -> str:
    words = held.words
    line = next((row for row in lines if row["servings"] == words), lines[-1])
    return line["text"].format(servings=words)
