"""``labelkit reckon unit-price``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--price", required=True, metavar="AMOUNT", help="Price of the jar, for example 8.50.")
@click.option("--net", required=True, metavar="WEIGHT", help="Net weight of the jar, for example “12 oz”.")
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@click.option("--currency", metavar="CODE", help="Currency of the price; the market's own when left out.")
@click.option("--per", metavar="WEIGHT", help="Another unit than the market's, for example “100 g” or “1 oz”.")
@answering
def command(context: CommandContext, price: str, net: str, place: str, currency: str | None, per: str | None) -> Answer:
    """The price per pound, per kilogram or per 100 g.

    Example:  labelkit reckon unit-price --price 8.50 --net "12 oz" --market us
    """
    from labelkit.measures import Declared, Money
    from labelkit.rules import market
    from labelkit.rules.figures import unit_price
    from labelkit.rules.findings import law_lines

    here = market(place, context.day)
    paid = Money.read(price, currency or here.head.currency, context.locale)
    if per:
        per = per if any(map(str.isnumeric, per)) else f"1 {per.strip()}"
    unit = Declared.read(per, context.locale) if per else None
    found = unit_price.of(paid, Declared.read(net, context.locale).grams, here, unit)
    text = found.text(context.locale)
    document = {"amount": found.amount, "per": found.per, "text": text}
    return Answer(document, "\n".join([text, "", law_lines(found.laws)]))
