"""``labelkit stall cards``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import added_tax, cards_of, markets_of, paper_options, paper_size, price_rows, words_of
from labelkit.cli._stall import loaded_day
from labelkit.season.settings import settings_of


@click.command()
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option("--out", default="price-cards.pdf", show_default=True, metavar="FILE.pdf", help="Where the cards go.")
@click.option("--product", metavar="NAME", default="", help="The honey's name, for example 'Wildflower Honey'.")
@paper_options
@answering
def command(
    context: CommandContext, place: str | None, out: str, product: str, page: str | None, language: str | None
) -> Answer:
    """Price cards for the jars that are loaded, with the unit price your market asks for.

    Example:  labelkit stall cards --product "Wildflower Honey"
    """
    from labelkit.sale.cards import cards_pdf
    from labelkit.sale.price_words import laws, priced

    with context.reading() as reading:
        season, load, settings = settings_of(reading), loaded_day(reading, context, place), reading.settings()
    words, locale = words_of(context, language)
    markets = markets_of(season.markets, context)
    loaded = dict.fromkeys(line.size for line in load.lines)
    rows = price_rows((season.size(size) for size in loaded), context, lambda p: p.size)
    every = priced(rows, markets)
    cards = cards_of(every, markets, season, product, locale, added_tax(settings, words, locale))
    made = cards_pdf(cards, words("Price cards"), page=paper_size(page, season.currency), lang=words.lang)
    write_whole(out, made)
    document = {
        "file": out,
        "cards": [{"size": p.row.size, "price": str(p.row.price.amount), "unit_price": p.unit_text()} for p in every],
    }
    return Answer(document, "\n".join(filter(None, [f"{len(cards)} price cards: {out}", laws(every)])))
