"""``labelkit find-prices``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import read_text
from labelkit.cli._options import AMOUNT, JAR_AMOUNTS, MASS, PERCENT, TAX, grouped, season_file
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import NothingPriced

if TYPE_CHECKING:
    from decimal import Decimal

    from labelkit.lots.season import SeasonFile
    from labelkit.measures import Mass, Money
    from labelkit.sale.found_prices import Offers
    from labelkit.sale.tax import Tax
    from labelkit.season.find_prices import PriceBasis

HELP = "labelkit find-prices --help"


@click.command()
@season_file
@click.option("--template", is_flag=True, help="Print an empty file of season costs to fill in.")
@click.option("--costs", metavar="COSTS.toml", help="Your season costs, filled in.")
@click.option("--margin", type=PERCENT, help="What is to be left of the price after all costs.")
@click.option("--per-kg", type=AMOUNT, help="One price per kilogram for all sizes.")
@click.option("--others", type=JAR_AMOUNTS, multiple=True, help="What others ask here for this size; repeat.")
@click.option("--tax", type=TAX, help="none, 'included 7 %' or 'added 5.3 %'; remembered with --book.")
@click.option("--round-to", type=AMOUNT, help="Prices end on this step; the smallest coin unless given.")
@click.option("--bucket", type=MASS, help="Show what this much honey brings in each size.")
@click.option("--shop", type=PERCENT, help="A shop's share of the price: show what it pays you.")
@click.option("--book", is_flag=True, help="Set these prices in the record from this day on.")
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    template: bool,
    costs: str | None,
    margin: Decimal | None,
    per_kg: Money | None,
    others: tuple[tuple[str, tuple[Money, ...]], ...],
    tax: Tax | None,
    round_to: Money | None,
    bucket: Mass | None,
    shop: Decimal | None,
    book: bool,
) -> Answer:
    """Find prices from costs, a margin or other sellers.

    Costs you do not know yet are asked for and never guessed; honey lost and given away is taken from your real runs.

    \b
    Example:  labelkit find-prices --template > costs.toml
              labelkit find-prices --costs costs.toml --margin 40 --tax none --round-to 0.50 --bucket "60 lb"
    """
    from labelkit.season.find_prices import PriceSearch, book_prices, find_prices
    from labelkit.shipped import template_text

    if template:
        text = template_text("sale/season-costs.toml")
        return Answer({"template": text}, text)
    if sum((margin is not None, per_kg is not None, bool(others))) != 1:
        raise UsageUnclear("Say one of --margin, --per-kg and --others.", HELP)
    if round_to is not None and round_to.minor <= 0:
        raise UsageUnclear("--round-to needs an amount above nothing.", HELP)
    asked = {size: tuple(amount for some in lists for amount in some) for size, lists in grouped(others).items()}
    every = find_prices(_basis(context, file, costs), PriceSearch(margin, per_kg, asked, tax, round_to, bucket, shop))
    if book:
        with context.work() as work:
            book_prices(work, every, context.day)
    return _answer(every, context.locale, book)


def _basis(context: CommandContext, file: SeasonFile | None, costs: str | None) -> PriceBasis:
    """Sizes and costs of a season file, or of the record with its real losses."""
    from labelkit.reading.costs_file import read_season_costs
    from labelkit.season.find_prices import basis_of_file, basis_of_record
    from labelkit.season.settings import currency_of

    if not file and not context.has_record():
        raise NothingPriced()
    stated = read_season_costs(read_text(costs), costs, context.locale) if costs else None
    currency = file.currency if file else currency_of(context)
    if stated and stated.currency != currency:
        raise UsageUnclear(f"The costs are in {stated.currency}, the season in {currency}.", HELP)
    if file:
        return basis_of_file(file, context.day, stated)
    with context.reading() as state:
        return basis_of_record(state, context.day, stated)


def _answer(every: Offers, locale: str, booked: bool) -> Answer:
    from labelkit.sale.found_prices import cost_lines, offers_document, offers_tables

    heads = ("a jar", *(o.found.size.size for o in every.offers))
    text = [table(heads, cost_lines(every, locale), right=range(1, len(heads)))]
    text += [table(head, rows, right=range(1, len(head))) for head, rows in offers_tables(every, locale)]
    said = [f"Tax: {every.tax.words}."]
    said += [
        f"{o.found.size.size} was raised, so that {o.found.raised_for} is not dearer by weight."
        for o in every.offers
        if o.found.raised_for
    ]
    if every.asked:
        said += [
            "At least (≥) and at most (≤), because nobody has said:",
            *(f"  {question}" for question in every.asked),
        ]
    if booked:
        said.append("Booked: these prices hold from this day on.")
    return Answer(offers_document(every) | {"booked": booked}, "\n\n".join([*text, "\n".join(said)]))
