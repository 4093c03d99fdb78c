"""Years side by side: each figure of several years, and what it changed by from one to the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.lots.movement import Account
from labelkit.measures import NOTHING, Mass, Money, show_first, total
from labelkit.measures.wording import Wording
from labelkit.run.hive_yields import YardYield
from labelkit.sale.bars import Bar, Picture, pictures_together
from labelkit.sale.year_report import Year

Value = Mass | Money | int

# Where honey went without being sold, given or kept.
WASTED = (Account.LOST, Account.UNEXPLAINED, Account.BROKEN, Account.DISCARDED)


@dataclass(frozen=True, slots=True)
class YearAlone:
    """What one year is compared by: its result, yields, jars filled and prices on its last day, honey above the labels."""

    result: Year
    yards: tuple[YardYield, ...]
    filled: Mapping[str, int]
    prices: Mapping[str, Money]
    above_labels: Mass


@dataclass(frozen=True, slots=True)
class Figure:
    """One line of the comparison; None for a year that has no such figure."""

    group: str
    name: str
    values: tuple[Value | None, ...]

    @property
    def changes(self) -> tuple[Value | None, ...]:
        """From each year to the next; None where either has no figure.

        >>> Figure("Jars sold", "one pound", (50, 57, None)).changes
        (7, None)
        """
        pairs = zip(self.values, self.values[1:], strict=False)
        return tuple(None if a is None or b is None else _less(b, a) for a, b in pairs)


def _less(later: Any, earlier: Any) -> Any:
    return later - earlier


@dataclass(frozen=True, slots=True)
class Comparison:
    """Several years, the earliest first."""

    years: tuple[Year, ...]
    figures: tuple[Figure, ...]

    def of(self, group: str) -> tuple[Figure, ...]:
        """The figures of one group."""
        return tuple(figure for figure in self.figures if figure.group == group)


def comparison(years: Sequence[YearAlone]) -> Comparison:
    """The figures of some years side by side."""
    return Comparison(tuple(year.result for year in years), tuple(_figures(years)))


def _figures(years: Sequence[YearAlone]) -> Iterable[Figure]:
    def each(group: str, name: str, of: Any) -> Figure:
        return Figure(group, name, tuple(of(year) for year in years))

    yield each("Honey", "from the hives", lambda y: total(yard.mass for yard in y.yards))
    if any(year.result.bought for year in years):
        yield each("Honey", "bought in", lambda y: total(came.net for came in y.result.bought))
    yield from _named("Yards", [{yard.yard: yard.mass for yard in year.yards} for year in years])
    yield from _named("Hives", [_by_hive(year.yards) for year in years])
    yield from _named("Jars filled", [year.filled for year in years], 0)
    yield from _named("Jars sold", [{s.name: s.sold for s in year.result.by("size") if s.sold} for year in years], 0)
    yield from _named("Price of a jar", [year.prices for year in years])
    yield each("Money", "money in", lambda y: y.result.money_in)
    yield each("Money", "cost of the jars", lambda y: y.result.whole.cost)
    yield each("Money", "left", lambda y: y.result.left)
    yield each("Losses", "honey", lambda y: total((y.result.ends or {}).get(at, NOTHING) for at in WASTED))
    yield each("Losses", "jars", lambda y: y.result.whole.lost)
    yield each("Giveaway", "honey above the labels", lambda y: y.above_labels)
    yield each("Giveaway", "jars", lambda y: y.result.whole.given)


def _by_hive(yards: Iterable[YardYield]) -> dict[str, Mass]:
    return {f"{yard.yard} {hive.hive}".strip(): hive.mass for yard in yards for hive in yard.hives if hive.hive}


def _named(group: str, years: Sequence[Mapping[str, Any]], missing: Value | None = None) -> Iterable[Figure]:
    """A figure for every name that any of the years has."""
    for name in sorted({name for year in years for name in year}):
        yield Figure(group, name, tuple(year.get(name, missing) for year in years))


def document(found: Comparison) -> dict[str, Any]:
    """For programs."""
    return {
        "years": [year.name for year in found.years],
        "figures": [
            {
                "group": figure.group,
                "name": figure.name,
                "unit": unit_of(figure),
                "values": [plain_value(value) for value in figure.values],
                "changes": [plain_value(value) for value in figure.changes],
            }
            for figure in found.figures
        ],
    }


def unit_of(figure: Figure) -> str:
    """What the plain values of a figure are in: g, a currency, or jars."""
    said = next((value for value in figure.values if value is not None), 0)
    return "g" if isinstance(said, Mass) else said.currency if isinstance(said, Money) else "jars"


def plain_value(value: Value | None) -> Decimal | int | None:
    """Grams, an amount, or a count."""
    return value.g if isinstance(value, Mass) else value.amount if isinstance(value, Money) else value


def say_value(value: Value | None, locale: str, *, change: bool = False) -> str:
    """A value as the reader writes it; a change with its sign.

    >>> say_value(Mass.of_grams(1500), "de_DE"), say_value(7, "en_US", change=True), say_value(None, "en_US")
    ('1,5 kg', '+7', '–')
    """
    if value is None:
        return "–"
    above = "+" if change and _size(value) > 0 else ""
    if isinstance(value, Mass):
        text = show_first(Mass(abs(value.mg)), locale)
        return text if text == show_first(NOTHING, locale) else f"{'-' if value.mg < 0 else above}{text}"
    return above + (value.show(locale) if isinstance(value, Money) else str(value))


def _size(value: Value | None) -> int:
    """Its milligrams, minor units or jars."""
    return value.mg if isinstance(value, Mass) else value.minor if isinstance(value, Money) else value or 0


def picture(found: Comparison, words: Wording, locale: str) -> Picture:
    """A bar a year for the figures that say most: honey, jars sold, money in, what was left, losses."""
    titles = {
        ("Honey", "from the hives"): words("Honey from the hives"),
        ("Money", "money in"): words("Money in"),
        ("Money", "left"): words("Left"),
        ("Losses", "honey"): words("Honey lost"),
        ("Giveaway", "honey above the labels"): words("Honey above the labels"),
    }
    drawn = [
        (
            title,
            [
                Bar(year.name, _size(value), say_value(value, locale))
                for year, value in zip(found.years, figure.values, strict=True)
            ],
        )
        for figure in found.figures
        if (title := titles.get((figure.group, figure.name)))
    ]
    return pictures_together(words("Years side by side"), drawn)


def interleaved(values: Sequence[Any], changes: Sequence[Any]) -> list[Any]:
    """Each value, and after it what it changed by since the one before.

    >>> interleaved([50, 57, 60], ["+7", "+3"])
    [50, 57, '+7', 60, '+3']
    """
    return [*values[:1], *(cell for pair in zip(values[1:], changes, strict=True) for cell in pair)]
