"""``labelkit price``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import message_beside, no_message, write_whole
from labelkit.cli._options import (
    AMOUNT,
    DECLARED,
    MASS,
    PERCENT,
    VOLUME,
    once_option,
    paper_options,
    season_file,
)
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli._show import table

if TYPE_CHECKING:
    from decimal import Decimal

    from labelkit.lots.season import SeasonFile
    from labelkit.measures import Declared, Mass, Money
    from labelkit.season.price import PriceList


@click.command()
@season_file
@click.option("--set", "size", metavar="SIZE", help="Set the price of this jar size from this day on.")
@click.option("--declares", type=DECLARED, help="What its label states (needed the first time).")
@click.option("--price", type=AMOUNT, help="What one jar is sold for.")
@click.option(
    "--cost", type=AMOUNT, help="What one jar costs you: jar, lid, label, and more. By weight: of what --declares says."
)
@click.option("--uses", type=MASS, help="What one jar really takes to its fill line.")
@click.option(
    "--brimful", type=VOLUME, help="Instead of --uses: what the jar holds full to the brim, for example 116 ml."
)
@click.option("--headspace", type=PERCENT, help="With --brimful: what of it stays free, in percent; 7 unless given.")
@click.option("--pdf", metavar="FILE.pdf", help="Print the list to hang up.")
@click.option(
    "--for", "customer", metavar="CUSTOMER", default="", help="With --pdf: their agreed prices, and a message."
)
@click.option("--cards", metavar="FILE.pdf", help="Print price cards to cut out.")
@click.option("--retire", is_flag=True, help="With --set: the size is no longer filled or offered from this day on.")
@click.option(
    "--by-weight",
    is_flag=True,
    help="With --set: every piece has its own weight (comb); price and cost are of what --declares says, such as 1 kg.",
)
@click.option(
    "--product",
    metavar="NAME",
    default="",
    help="The product the size is of, or whose list it is; else the honey's name on list and cards.",
)
@once_option
@late_option
@paper_options
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    size: str | None,
    declares: Declared | None,
    price: Money | None,
    cost: Money | None,
    uses: Mass | None,
    brimful: Decimal | None,
    headspace: Decimal | None,
    retire: bool,
    by_weight: bool,
    pdf: str | None,
    cards: str | None,
    product: str,
    customer: str,
    once: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Show or set prices; print price lists and cards.

    The list shows cost, margin and unit price of every size that is offered. A size of another product than your honey
    is set with --product, as label-words described it.

    To find prices from what a jar costs you, see labelkit find-prices.

    \b
    Example:  labelkit price
              labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35
              labelkit price --set "cut comb" --by-weight --declares "1 kg" --price 36 --product "Cut comb"
              labelkit price --pdf prices.pdf --cards cards.pdf --product "Wildflower Honey"
              labelkit price --pdf for-the-shop.pdf --for "Corner shop"
    """
    from dataclasses import replace

    from labelkit.errors.cli import UsageUnclear
    from labelkit.season.letters import language_for, price_letter
    from labelkit.season.papers import paper_words
    from labelkit.season.price import SizePrice, list_for, price_list, price_list_of_file, set_price
    from labelkit.season.price_papers import price_cards, price_list_paper

    if size:
        with context.work(once) as work:
            asked = SizePrice(size, price, declares, cost, uses, brimful, headspace, product, retire, by_weight)
            set_price(work, asked, context.day)
    if file:
        found = price_list_of_file(file, context.day)
    else:
        with context.reading() as state:
            found = price_list(state, context.day, "" if size else product, may_be_empty=retire)
    if customer and (file or not pdf):
        raise UsageUnclear(
            "--for prints the list of one customer: it needs --pdf and a record.", "labelkit price --help"
        )
    found = list_for(found, customer, context.day) if customer else found
    written = []
    words, locale = paper_words(language_for(found.settings, customer, language), context.locale)
    for name, make in ((pdf, price_list_paper), (cards, price_cards)):
        if name:
            made = make(
                found.every, found.season, words, locale, context.day, product=product, page=page, channel=found.channel
            )
            written.append(paper := write_whole(name, made))
            if customer and name == pdf:
                mail = price_letter(found.settings, customer, context.day, made, words, locale)
                written += message_beside(paper, mail, context.now)
    answer = shown(found, context.locale if file else context.reader, list(map(str, written)))
    if customer and not any(name.suffix == ".eml" for name in written):
        answer = replace(answer, text=f"{answer.text}\n{no_message(customer)}")
    return answer


def shown(found: PriceList, locale: str, written: list[str]) -> Answer:
    """The list as text and as a document."""
    from labelkit.sale.price_words import document, heads_and_rows, laws, notes

    duties = (*_tax_notes(found), *found.duties)
    heads, rows = heads_and_rows(found.every, locale)
    text = [table(heads, rows, right=range(2, len(heads))) if rows else "No size is offered any more."]
    for more in (
        "\n".join((*notes(found.every), *found.misfits(locale), *duties)),
        laws(found.every),
        "\n".join(f"Written: {name}" for name in written),
    ):
        if more:
            text += ["", more]
    return Answer(
        document(found.every, found.season.currency)
        | {"misfits": found.misfits(locale), "duties": list(duties), "files": written},
        "\n".join(text),
    )


def _tax_notes(found: PriceList) -> list[str]:
    """One note for each tax that is in prices of the list, with the sizes where not all bear it."""
    from labelkit.sale.tax import INCLUDED

    notes = []
    for tax in dict.fromkeys(tax for tax in found.taxes.values() if tax.how == INCLUDED):
        of = [size for size, one in found.taxes.items() if one == tax]
        where = "these prices" if len(of) == len(found.every) else f"the price of {', '.join(of)}"
        rate = str(tax).removeprefix(f"{INCLUDED} ")
        notes.append(f"Note: tax of {rate} is in {where}; margins are before it is set aside.")
    return notes
