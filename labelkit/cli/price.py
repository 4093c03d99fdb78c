"""``labelkit price``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import read_text, write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import (
    added_tax,
    cards_of,
    markets_of,
    paper_options,
    paper_size,
    price_rows,
    statement_of,
    tax_words,
    words_of,
)
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import NothingPriced
from labelkit.season.settings import SeasonSettings, fill_of, settings_of

if TYPE_CHECKING:
    from labelkit.sale import PriceRow
    from labelkit.sale.price_words import Priced


@click.command()
@click.argument("file", required=False, metavar="[SEASON.toml]")
@click.option("--set", "size", metavar="SIZE", help="Set the price of this jar size from this day on.")
@click.option("--declares", metavar="WEIGHT", help="What its label states (needed the first time).")
@click.option("--price", metavar="AMOUNT", help="What one jar is sold for.")
@click.option("--cost", metavar="AMOUNT", help="What one jar costs you: jar, lid, label, and what else you count.")
@click.option("--pdf", metavar="FILE.pdf", help="Print the list to hang up.")
@click.option("--cards", metavar="FILE.pdf", help="Print price cards to cut out.")
@click.option(
    "--product", metavar="NAME", default="", help="The honey's name on list and cards, for example 'Wildflower Honey'."
)
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@paper_options
@answering
def command(
    context: CommandContext,
    file: str | None,
    size: str | None,
    declares: str | None,
    price: str | None,
    cost: str | None,
    pdf: str | None,
    cards: str | None,
    product: str,
    once: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """The price list: cost, margin and unit price of every jar size; or set a price.

    To find prices from what a jar costs you, see labelkit find-prices.

    \b
    Example:  labelkit price
              labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35
              labelkit price --pdf prices.pdf --cards cards.pdf --product "Wildflower Honey"
    """
    from labelkit.sale.price_words import priced
    from labelkit.sale.selling_rules import duties

    if size:
        _set(context, size, declares, price, cost, once)
    rows, season, settings = _from_file(file, context) if file else _from_record(context)
    if not rows:
        raise NothingPriced()
    markets = markets_of(season.markets, context)
    every = priced(rows, markets)
    written = _papers(context, every, season, settings, product, pdf, cards, page, language)
    said = duties(markets, settings.get("situation", {}), "price")
    if str(settings.get("tax", "")).startswith("included"):
        said = (
            f"Note: tax of {settings['tax'].removeprefix('included ')} is in these prices; margins are before it is set aside.",
            *said,
        )
    return price_list(every, context.locale, written, said)


def _set(
    context: CommandContext,
    size: str,
    declares: str | None,
    price: str | None,
    cost: str | None,
    once: str | None = None,
) -> None:
    from labelkit.measures import Declared, Money
    from labelkit.sale import PriceSet

    with context.work(once, create=True) as work:
        season = settings_of(work)
        old = season.prices.get(size)
        if not price or not (declares or old):
            raise UsageUnclear("A new size needs --declares and --price.", "labelkit price --help")
        new_cost = (
            Money.read(cost, season.currency, context.locale)
            if cost
            else old.cost
            if old
            else Money(0, season.currency)
        )
        new_price = Money.read(price, season.currency, context.locale)
        # A weight that cannot be declared is refused before it is booked, not at every later look at the list.
        weight = old.declares if old and not declares else Declared.read(declares or "", context.locale)
        fill_of(weight, season.markets, context.day)
        work.add(PriceSet(context.day, size, weight, new_price, new_cost))
        work.commit()


def _from_record(context: CommandContext) -> tuple[list[PriceRow], SeasonSettings, dict]:
    with context.reading() as book:
        season, settings = settings_of(book), book.settings()
    return price_rows(season.prices.values(), context, lambda p: p.size), season, settings


def _from_file(file: str, context: CommandContext) -> tuple[list[PriceRow], SeasonSettings, dict]:
    from labelkit.reading.season_file import read_season

    held = read_season(read_text(file), file, context.day)
    season = SeasonSettings(held.markets, held.currency, held.maker, {})
    return price_rows(held.jars, context, lambda jar: jar.id), season, {}


def _papers(
    context: CommandContext,
    every: tuple[Priced, ...],
    season: SeasonSettings,
    settings: dict,
    product: str,
    pdf: str | None,
    cards: str | None,
    page: str | None,
    language: str | None,
) -> list[str]:
    if not (pdf or cards):
        return []
    from labelkit.sale.cards import cards_pdf
    from labelkit.sale.price_list import Line, price_list_pdf

    words, locale = words_of(context, language)
    size, markets = paper_size(page, season.currency), markets_of(season.markets, context)
    written = []
    if pdf:
        lines = [
            Line(
                f"{product}, {p.row.size}" if product else p.row.size,
                statement_of(p.row.declares, markets, locale),
                p.row.price.show(locale),
                p.unit_text(locale),
            )
            for p in every
        ]
        made = price_list_pdf(
            lines,
            words,
            locale,
            context.day,
            page=size,
            maker=season.maker,
            tax=tax_words(settings, words, locale),
        )
        written.append(str(write_whole(pdf, made)))
    if cards:
        held = cards_of(every, markets, season, product, locale, added_tax(settings, words, locale))
        made = cards_pdf(held, words("Price cards"), page=size, lang=words.lang, author=season.maker.get("name", ""))
        written.append(str(write_whole(cards, made)))
    return written


def price_list(
    every: tuple[Priced, ...], locale: str, written: list[str] | None = None, duties: tuple[str, ...] = ()
) -> Answer:
    """The list as text and as a document."""
    from labelkit.sale.price_words import document, heads_and_rows, laws, notes

    heads, rows = heads_and_rows(every, locale)
    text = [table(heads, rows, right=range(2, len(heads)))]
    for more in (
        "\n".join((*notes(every), *duties)),
        laws(every),
        "\n".join(f"Written: {name}" for name in written or ()),
    ):
        if more:
            text += ["", more]
    return Answer(document(every) | {"duties": list(duties), "files": written or []}, "\n".join(text))
