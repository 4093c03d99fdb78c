"""``labelkit reckon servings``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--net", required=True, metavar="WEIGHT", help="Net weight of the jar, for example “12 oz”.")
@click.option("--market", "place", default="us", show_default=True, metavar="MARKET", help="Whose serving rules.")
@answering
def command(context: CommandContext, net: str, place: str) -> Answer:
    """How many servings a jar holds, as the nutrition panel prints it.

    Example:  labelkit reckon servings --net "12 oz"
    """
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.rules import market
    from labelkit.rules.figures import servings
    from labelkit.rules.findings import law_lines

    found = servings.of(read_quantity(net, MASS, context.locale), market(place, context.day))
    document = {"servings": found.count, "about": found.about, "single_serving": found.single_serving}
    lines = [f"Servings: {found.words}"]
    if found.single_serving:
        lines = ["One serving: the whole jar."]
    if found.dual_column:
        lines.append("The panel needs a second column for the whole jar, unless a small package frees it.")
    return Answer(document, "\n".join([*lines, "", law_lines(found.laws)]))
