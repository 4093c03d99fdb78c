"""``labelkit reckon net-weight``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--declare", required=True, metavar="WEIGHT", help="What the label will declare, for example “1 lb”.")
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@answering
def command(context: CommandContext, declare: str, place: str) -> Answer:
    """Every lawful way to print a declared weight, and what the jar must hold for it.

    Example:  labelkit reckon net-weight --declare "1 lb" --market us
    """
    from labelkit.measures import Declared
    from labelkit.measures.locales import show_number
    from labelkit.rules import market
    from labelkit.rules.figures.net_weight import net_quantity
    from labelkit.rules.findings import law_lines

    found = net_quantity(Declared.read(declare, context.locale), market(place, context.day))
    document = {
        "statements": list(found.statements),
        "customary": found.customary,
        "metric_g": found.metric_g,
        "fill_at_least_g": found.fill_at_least_g,
    }
    lines = [
        found.statements[0],
        *(f"or  {other}" for other in found.statements[1:]),
        "",
        f"Fill at least {show_number(found.fill_at_least_g, context.locale)} g, so that every figure printed is true.",
        law_lines(found.laws),
    ]
    return Answer(document, "\n".join(lines))
