"""``labelkit reckon ferment``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--crystallised", is_flag=True, help="The honey has set.")
@click.option("--blended", is_flag=True, help="The honey is a blend.")
@answering
def command(context: CommandContext, moisture: str, crystallised: bool, blended: bool) -> Answer:
    """Whether honey of this moisture is likely to ferment within a year.

    Example:  labelkit reckon ferment --moisture 18.4
    """
    from labelkit.honey.ferment import ferment_risk
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number

    found = ferment_risk(read_number(moisture, context.locale), crystallised=crystallised, blended=blended)
    document = {
        "risk": found.risk,
        "yeast_below_per_g": found.yeast_below_per_g,
        "moisture_percent": found.moisture,
        "says": found.says,
        "source": "after Lochhead 1933, as printed in A Practical Manual of Beekeeping, table 2",
        "sure": found.sure,
        "notes": list(found.notes),
    }
    head = f"{show_number(found.moisture, context.locale, digits=1)} % water: risk {found.risk}. {found.says}"
    return Answer(
        document, "\n".join([head, f"  {document['source']} ({found.sure})", *(f"  {n}" for n in found.notes)])
    )
