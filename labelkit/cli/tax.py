"""``labelkit tax``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import TAX, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.sale.tax import Rate, Tax


@click.command()
@click.option("--rate", type=TAX, help="none, 'included 7 %', 'added 5.3 %', exempt (small seller) or reverse-charge.")
@click.option("--product", metavar="NAME", default="", help="Only of this product.")
@click.option("--channel", metavar="CHANNEL", default="", help="Only where sold to: stall, shop, wholesale, door …")
@once_option
@late_option
@answering
def command(context: CommandContext, rate: Tax | None, product: str, channel: str, once: str | None) -> Answer:
    """Show or set the tax in your prices.

    A rate holds from the day on; what was sold before keeps its own. The rate of a channel goes before that of a
    product, and both before that of everything.

    \b
    Example:  labelkit tax --rate "included 7 %"
              labelkit tax --rate none --channel shop
              labelkit --day 2027-01-01 tax --rate "included 9 %"
              labelkit tax
    """
    from labelkit.season.tax import TaxFrom, set_tax, tax_rates

    if rate is None:
        if product or channel:
            raise UsageUnclear("A tax of a product or a channel needs --rate.", "labelkit tax --help")
        with context.reading() as state:
            every = tax_rates(state)
    else:
        with context.work(once) as work:
            set_tax(work, TaxFrom(rate, product, channel), context.day)
            every = tax_rates(work)
    asks = list(dict.fromkeys(one.tax.asks for one in every if one.tax.asks))
    return Answer({"rates": [_document(one) for one in every], "ask": asks}, _text(every, asks))


def _document(one: Rate) -> dict[str, str]:
    return {
        "since": one.since.isoformat(),
        "product": one.product,
        "channel": one.channel,
        "how": one.tax.how,
        "percent": str(one.tax.percent),
    }


def _text(every: tuple[Rate, ...], asks: list[str]) -> str:
    if not every:
        return "No tax is set. To set one: labelkit tax --rate none, or labelkit tax --rate 'included 7 %'."
    rows = [(one.since.isoformat(), one.scope, one.tax.words) for one in every]
    last = "Which tax you owe is for your tax office to say. Check your local rules."
    return "\n".join([table(("from", "of", "tax"), rows), "", *(f"Ask: {ask}" for ask in asks), last])
