"""``labelkit reckon humidity``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--humidity", metavar="PERCENT", help="Relative humidity of the room, for example 58.")
@click.option("--moisture", metavar="W", help="Instead: moisture of the honey in percent, for example 17.6.")
@answering
def command(context: CommandContext, humidity: str | None, moisture: str | None) -> Answer:
    """What moisture open honey comes to in a room's air, or in how damp a room it begins to take up water.

    \b
    Example:  labelkit reckon humidity --humidity 58
              labelkit reckon humidity --moisture 17.6
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.honey.humidity import NOTES, SOURCE, humidity_for, moisture_in_air
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_percent
    from labelkit.measures.rounding import HALF_UP, to_step

    if (humidity is None) == (moisture is None):
        raise UsageUnclear(
            "Give either --humidity of the air or --moisture of the honey.", "labelkit reckon humidity --help"
        )
    if humidity is not None:
        air = read_percent(humidity, context.locale)
        water = to_step(moisture_in_air(air), Decimal("0.1"), HALF_UP)
        says = "Open honey comes to {water} % water in air of {air} % relative humidity."
    else:
        water = read_percent(moisture or "", context.locale)
        air = to_step(humidity_for(water), Decimal(1), HALF_UP)
        says = "Open honey of {water} % water takes up more in air damper than {air} % relative humidity."
    document: dict[str, Any] = {
        "moisture_percent": water,
        "humidity_percent": air,
        "sure": SOURCE.sure,
        "source": SOURCE.title,
        "notes": [SOURCE.caution, *NOTES],
    }
    says = says.format(water=show_number(water, context.locale), air=show_number(air, context.locale))
    return Answer(document, "\n".join([says, *(f"  {note}" for note in document["notes"])]))
