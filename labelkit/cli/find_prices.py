"""``labelkit find-prices``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import read_text
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import sizes_of, tax_of
from labelkit.cli._season import pairs
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import NothingPriced
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from decimal import Decimal

    from labelkit.sale.cost import Basis
    from labelkit.sale.found_prices import Offers
    from labelkit.sale.pricing import Found, Size

HELP = "labelkit find-prices --help"


@click.command()
@click.argument("file", required=False, metavar="[SEASON.toml]")
@click.option("--template", is_flag=True, help="Print an empty file of season costs to fill in.")
@click.option("--costs", metavar="COSTS.toml", help="Your season costs, filled in.")
@click.option("--margin", metavar="PERCENT", help="What is to be left of the price after all costs.")
@click.option("--per-kg", metavar="AMOUNT", help="One price per kilogram for all sizes.")
@click.option(
    "--others", metavar="SIZE=AMOUNT,AMOUNT", multiple=True, help="What others ask here for this size; repeat."
)
@click.option("--tax", metavar="WORDS", help="none, 'included 7 %' or 'added 5.3 %'; remembered with --book.")
@click.option("--round-to", metavar="AMOUNT", help="Prices end on this step; the smallest coin unless given.")
@click.option("--bucket", metavar="WEIGHT", help="Show what this much honey brings in each size.")
@click.option("--shop", metavar="PERCENT", help="A shop's share of the price: show what it pays you.")
@click.option("--book", is_flag=True, help="Set these prices in the record from this day on.")
@answering
def command(
    context: CommandContext,
    file: str | None,
    template: bool,
    costs: str | None,
    margin: str | None,
    per_kg: str | None,
    others: tuple[str, ...],
    tax: str | None,
    round_to: str | None,
    bucket: str | None,
    shop: str | None,
    book: bool,
) -> Answer:
    """Find prices from what a jar costs you, from a price per kilogram, or from what others ask.

    Costs you do not know yet are asked for and never guessed; honey lost and given away is taken from your real runs.

    \b
    Example:  labelkit find-prices --template > costs.toml
              labelkit find-prices --costs costs.toml --margin 40 --tax none --round-to 0.50 --bucket "60 lb"
    """
    from labelkit.measures import Mass
    from labelkit.measures.numerals import read_percent
    from labelkit.sale.found_prices import offers
    from labelkit.shipped import template_text

    if template:
        text = template_text("sale/season-costs.toml")
        return Answer({"template": text}, text)
    if sum(map(bool, (margin, per_kg, others))) != 1:
        raise UsageUnclear("Say one of --margin, --per-kg and --others.", HELP)
    sizes, basis, settings = _facts(context, file, costs)
    stated = tax_of(tax, settings, context)
    step = _step(round_to, basis.costs.currency, context)
    found = _found(context, sizes, basis, stated, step, margin, per_kg, others)
    every = offers(
        found,
        basis,
        stated,
        step,
        bucket=Mass.read(bucket, context.locale) if bucket else None,
        shop_margin=read_percent(shop, context.locale) if shop else None,
    )
    if book:
        _book(context, every)
    return _answer(every, context.locale, book)


def _facts(context: CommandContext, file: str | None, costs: str | None) -> tuple[list[Size], Basis, dict]:
    """Sizes, costs with real losses, and settings: of a season file, or of the record."""
    from labelkit.measures import NOTHING, total
    from labelkit.reading.costs_file import read_season_costs
    from labelkit.sale.cost import Basis
    from labelkit.sale.losses import real_losses
    from labelkit.sale.season_costs import SeasonCosts

    losses, came_in, settings = real_losses(()), NOTHING, {}
    if file:
        from labelkit.reading.season_file import read_season

        held = read_season(read_text(file), file, context.day)
        jars, markets, currency = [(jar.id, jar.declares) for jar in held.jars], held.markets, held.currency
        came_in = total(b.bucket.holds for b in held.buckets)
    else:
        if not context.has_record():
            raise NothingPriced()
        with context.reading() as book:
            season, settings = settings_of(book), book.settings()
            moves = [m for booked in book.events() for m in booked.movements()]
        jars, markets, currency = (
            [(p.size, p.declares) for p in season.prices.values()],
            season.markets,
            season.currency,
        )
        losses = real_losses(moves)
        came_in = total(-m.mass for m in moves if m.account == "hives")
    if not jars:
        raise NothingPriced()
    stated = read_season_costs(read_text(costs), costs, context.locale) if costs else SeasonCosts(currency)
    if stated.currency != currency:
        raise UsageUnclear(f"The costs are in {stated.currency}, the season in {currency}.", HELP)
    return sizes_of(jars, markets, context), Basis(stated, losses, came_in), settings


def _step(round_to: str | None, currency: str, context: CommandContext) -> Decimal:
    from labelkit.measures import Money
    from labelkit.measures.locales import cash_step

    step = Money.read(round_to, currency, context.locale).amount if round_to else cash_step(currency)
    if step <= 0:
        raise UsageUnclear("--round-to needs an amount above nothing.", HELP)
    return step


def _found(context, sizes, basis, tax, step, margin, per_kg, others) -> tuple[Found, ...]:
    from labelkit.measures import Money
    from labelkit.measures.numerals import read_percent
    from labelkit.sale.pricing import from_margin, from_others, from_per_kg, laddered

    currency = basis.costs.currency
    if margin:
        wanted = from_margin(sizes, basis, read_percent(margin, context.locale), tax)
    elif per_kg:
        wanted = from_per_kg(sizes, Money.read(per_kg, currency, context.locale))
    else:
        known = {size.size for size in sizes}
        asked: dict = {}
        for size, texts in pairs(others, "--others", "one pound=11.00,12.50"):
            if size not in known:
                raise UsageUnclear(f"There is no jar size “{size}”; there are {', '.join(sorted(known))}.", HELP)
            # A comma may be this reader's decimal mark, so prices are also told apart by semicolons and spaces.
            parts = texts.split(";") if ";" in texts else texts.split() if " " in texts else texts.split(",")
            asked.setdefault(size, []).extend(
                Money.read(part, currency, context.locale) for part in parts if part.strip()
            )
        wanted = from_others(sizes, asked)
    return laddered(sizes, wanted, currency, step)


def _book(context: CommandContext, every: Offers) -> None:
    from labelkit.record.settings import Setting
    from labelkit.sale import PriceSet

    stated = every.tax.how if every.tax.how == "none" else f"{every.tax.how} {every.tax.percent.normalize():f} %"
    with context.work(create=True) as work:
        known = settings_of(work).prices
        if work.settings().get("tax") != stated:
            work.add(Setting(context.day, "tax", stated))
        for o in every.offers:
            size, cost = o.found.size, o.making.whole
            # Where no cost was given, the cost that was booked before stays.
            if not o.making.exact and size.size in known:
                cost = known[size.size].cost
            work.add(PriceSet(context.day, size.size, size.declares, o.found.price, cost))
        work.commit()


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
