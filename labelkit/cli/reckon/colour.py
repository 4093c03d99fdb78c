"""``labelkit reckon colour``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--pfund", required=True, metavar="MM", help="Reading in millimetres on the Pfund scale.")
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, ca or au.")
@click.option("--bulk", is_flag=True, help="Sold in bulk instead of in consumer jars.")
@answering
def command(context: CommandContext, pfund: str, place: str, bulk: bool) -> Answer:
    """The colour class of a Pfund reading.

    Example:  labelkit reckon colour --pfund 32 --market ca
    """
    from labelkit.measures.numerals import read_number
    from labelkit.rules import market
    from labelkit.rules.figures import colour
    from labelkit.rules.findings import law_lines

    reading = read_number(pfund.strip().removesuffix("mm").strip(), context.locale)
    found = colour.of(reading, market(place, context.day), bulk=bulk)
    name = f"{found.name} / {found.french}" if found.french else found.name
    return Answer({"class": found.name}, "\n".join([name, "", law_lines(found.laws)]))
