"""``labelkit price``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import read_text
from labelkit.cli._rim import Answer, Desk, answering
from labelkit.cli._season import season_book, season_of, season_step
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import NothingPriced

if TYPE_CHECKING:
    from labelkit.sale import PriceRow

UNITS = ("lb", "oz", "kg", "100 g")


@click.command()
@click.argument("file", required=False, metavar="[SEASON.toml]")
@click.option("--set", "size", metavar="SIZE", help="Set the price of this jar size from this day on.")
@click.option("--declares", metavar="WEIGHT", help="What its label states (needed the first time).")
@click.option("--price", metavar="AMOUNT", help="What one jar is sold for.")
@click.option("--cost", metavar="AMOUNT", help="What one jar costs you: jar, lid, label, and what else you count.")
@answering
def command(
    desk: Desk, file: str | None, size: str | None, declares: str | None, price: str | None, cost: str | None
) -> Answer:
    """The price list: cost, margin and price per unit of every jar size; or set one.

    \b
    Example:  labelkit price
              labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35
    """
    if size:
        _set(desk, size, declares, price, cost)
    rows = _from_file(file, desk) if file else _from_record(desk)
    if not rows:
        raise NothingPriced()
    return price_list(rows, desk.locale)


def _set(desk: Desk, size: str, declares: str | None, price: str | None, cost: str | None) -> None:
    from labelkit.measures import Money
    from labelkit.sale import PriceSet

    with season_step(desk, create=True) as work:
        season = season_of(work)
        old = season.prices.get(size)
        if not price or not (declares or old):
            raise UsageUnclear("A new size needs --declares and --price.", "labelkit price --help")
        new_cost = (
            Money.read(cost, season.currency, desk.locale) if cost else old.cost if old else Money(0, season.currency)
        )
        new_price = Money.read(price, season.currency, desk.locale)
        work.add(PriceSet(desk.day, size, declares or old.declares, new_price, new_cost))
        work.commit()


def _from_record(desk: Desk) -> list[PriceRow]:
    with season_book(desk, to_read=True) as book:
        season = season_of(book)
    return _rows(season.prices.values(), desk, lambda p: p.size)


def _from_file(file: str, desk: Desk) -> list[PriceRow]:
    from labelkit.lots.season_file import read_season

    season = read_season(read_text(file), file, desk.day)
    return _rows(season.jars, desk, lambda jar: jar.id)


def _rows(priced, desk: Desk, name) -> list[PriceRow]:
    """One row a size; the unit price is reckoned from the weight the label declares, never from a heavier fill."""
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.sale import PriceRow

    return [PriceRow(name(p), p.declares, read_quantity(p.declares, MASS, desk.locale), p.price, p.cost) for p in priced]


def price_list(rows: list[PriceRow], locale: str) -> Answer:
    """The list as text and as a document."""
    from labelkit.measures.locales import show_percent
    from labelkit.sale import ladder_faults

    rows = sorted(rows, key=lambda row: row.declared_g)
    shown = [
        (
            row.size, row.declares, row.price.show(locale), row.cost.show(locale), row.margin.show(locale),
            show_percent(row.margin_percent, locale, digits=0) if row.margin_percent is not None else "–",
            *(row.per(unit).show(locale) for unit in UNITS),
        )
        for row in rows
    ]  # fmt: skip
    heads = ("size", "declares", "price", "cost", "margin", "of price", *(f"per {unit}" for unit in UNITS))
    words = [
        f"Note: {step.bigger.size} is dearer by weight than {step.smaller.size}; buyers expect the bigger jar to be the better buy."
        for step in ladder_faults(rows)
    ]
    document = {
        "currency": rows[0].price.currency,
        "sizes": [
            {
                "size": row.size, "declares": row.declares, "price": str(row.price.amount), "cost": str(row.cost.amount),
                "margin": str(row.margin.amount),
                "per": {unit: str(row.per(unit).amount) for unit in UNITS},
            }
            for row in rows
        ],
        "notes": words,
    }  # fmt: skip
    text = table(heads, shown, right=range(2, len(heads)))
    return Answer(document, "\n".join([text, *([""] if words else []), *words]))
