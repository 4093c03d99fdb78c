"""``labelkit reckon nutrition``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering


@click.command()
@click.option("--net", required=True, metavar="WEIGHT", help="Net weight of the jar, for example “12 oz”.")
@click.option("--ingredients", default=1, show_default=True, type=click.IntRange(1), help="How many ingredients.")
@click.option("--market", "place", default="us", show_default=True, metavar="MARKET", help="Whose panel.")
@answering
def command(desk: Desk, net: str, ingredients: int, place: str) -> Answer:
    """The nutrition panel of a jar of honey, from the usual values of honey.

    Example:  labelkit reckon nutrition --net "12 oz"
    """
    from labelkit.measures.rounding import plain
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.rules import market
    from labelkit.rules.figures.nutrition import panel
    from labelkit.rules.findings import law_lines

    found = panel(read_quantity(net, MASS, desk.locale), market(place, desk.day), ingredients)
    document = {
        "serving": found.serving,
        "servings_text": found.servings_text,
        "rows": [{"name": row.name, "amount": row.amount, "percent_dv": row.percent_dv} for row in found.rows],
        "footnote": found.footnote,
    }
    lines = [found.servings_text, f"Serving size {found.serving}", ""]
    for row in found.rows:
        percent = "" if row.percent_dv is None else f"{plain(row.percent_dv)} %"
        lines.append(f"{row.name:<20}{row.amount or '':>14}{percent:>8}")
    lines += ["", found.footnote, ""]
    if found.dual_column:
        lines.append("A second column for the whole jar is due, unless a small package frees it.")
    lines.append("Many small producers are freed from the panel; any nutrition claim ends that.")
    return Answer(document, "\n".join([*lines, law_lines(found.laws)]))
