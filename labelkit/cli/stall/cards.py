"""``labelkit stall cards``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import paper_options
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option("--out", default="price-cards.pdf", show_default=True, metavar="FILE.pdf", help="Where the cards go.")
@click.option("--product", metavar="NAME", default="", help="The honey's name, for example 'Wildflower Honey'.")
@paper_options
@answering
def command(
    context: CommandContext, place: str | None, out: str, product: str, page: str | None, language: str | None
) -> Answer:
    """Print price cards.

    For the jars that are loaded, with the unit price your market asks for.

    Example:  labelkit stall cards --product "Wildflower Honey"
    """
    from labelkit.sale.price_words import laws
    from labelkit.season.papers import paper_words
    from labelkit.season.stall import loaded_day, paper_cards

    words, locale = paper_words(language, context.locale)
    with context.reading() as state:
        load = loaded_day(state, context.day, place)
        made, every = paper_cards(state, load, words, locale, product=product, page=page)
    write_whole(out, made)
    document = {
        "file": out,
        "cards": [
            {"size": p.row.size, "price": str(p.row.price.amount), "unit_price": p.unit_text(context.locale)}
            for p in every
        ],
    }
    return Answer(document, "\n".join(filter(None, [f"{len(every)} price cards: {out}", laws(every)])))
