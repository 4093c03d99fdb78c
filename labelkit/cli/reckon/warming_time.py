"""``labelkit reckon warming-time``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--budget", required=True, metavar="MG", help="How much HMF the warming may add, in mg/kg, for example 5."
)
@click.option("--temperature", required=True, metavar="T", help="Of the honey, “45 C” or “113 F”.")
@answering
def command(context: CommandContext, budget: str, temperature: str) -> Answer:
    """How long honey may be kept warm until a budget of HMF is spent, reckoned on the careful side.

    Example:  labelkit reckon warming-time --budget 5 --temperature "45 C"
    """
    from labelkit.honey.warmth import CAUTIONS as cautions
    from labelkit.honey.warmth import SOURCE, hours_for
    from labelkit.measures import read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import DOWN, significant

    hours = significant(
        hours_for(read_number(budget, context.locale), read_temperature(temperature, context.locale)), 2, DOWN
    )
    document: dict[str, Any] = {
        "hours": hours,
        "sure": "reckoned",
        "source": SOURCE.title,
        "notes": [SOURCE.caution, "Reckoned with three times the middle of the published times.", *cautions],
    }
    shown = (
        f"{show_number(hours, context.locale)} hours"
        if hours < 72
        else f"{show_number(round(hours / 24), context.locale)} days"
    )
    return Answer(document, "\n".join([f"No longer than {shown}.", *(f"  {note}" for note in document["notes"])]))
