"""``labelkit reckon nutrition``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--net", required=True, metavar="WEIGHT", help="Net weight of the jar, for example “12 oz”.")
@click.option("--ingredients", default=1, show_default=True, type=click.IntRange(1), help="How many ingredients.")
@click.option("--simplified", is_flag=True, help="Leave out what counts as none and name it at the foot.")
@click.option("--market", "place", default="us", show_default=True, metavar="MARKET", help="Whose panel.")
@answering
def command(context: CommandContext, net: str, ingredients: int, simplified: bool, place: str) -> Answer:
    """The nutrition panel of a jar of honey, from the usual values of honey.

    Example:  labelkit reckon nutrition --net "12 oz"
    """
    from labelkit.labels.nutrition.plain import as_text
    from labelkit.labels.nutrition.words import said
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.rules import market
    from labelkit.rules.figures.nutrition import panel
    from labelkit.rules.findings import law_lines

    law = market(place, context.day)
    found = panel(read_quantity(net, MASS, context.locale), law, ingredients)
    document = {
        "serving": found.serving,
        "servings_text": found.servings_text,
        "rows": [{"name": row.name, "amount": row.amount, "percent_dv": row.percent_dv} for row in found.rows],
        "footnote": found.footnote,
    }
    lines = [as_text(said(found, law, simplified=simplified, dual=found.dual_column)), ""]
    if found.dual_column:
        lines.append("The second column, for the whole jar, is due unless a small package frees it.")
    lines.append("Many small producers are freed from the panel. Printing one ends that, as any nutrition claim does.")
    lines.append("To print it on a label: labelkit labels --label LABEL.toml --kind nutrition")
    return Answer(document, "\n".join([*lines, "", law_lines(found.laws)]))
