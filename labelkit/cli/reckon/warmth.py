"""``labelkit reckon warmth``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--step",
    "steps",
    multiple=True,
    required=True,
    metavar="T=HOURS",
    help="“45 C=12” is twelve hours at 45 °C; as often as needed.",
)
@answering
def command(context: CommandContext, steps: tuple[str, ...]) -> Answer:
    """What warming costs: an estimate of the HMF it adds, with its wide spread.

    Example:  labelkit reckon warmth --step "40 C=48" --step "50 C=2"
    """
    from labelkit.cli._season import pairs
    from labelkit.honey.warmth import SOURCE, Warming, hmf_added
    from labelkit.measures import read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, significant

    found = hmf_added(
        Warming(read_temperature(warmth, context.locale), read_number(hours, context.locale))
        for warmth, hours in pairs(steps, "--step", "45 C=12")
    )
    low, middle, high = (
        significant(value, 2, HALF_UP) if value else Decimal(0) for value in (found.low, found.middle, found.high)
    )
    document: dict[str, Any] = {
        "hmf_mg_per_kg": middle,
        "hmf_low": low,
        "hmf_high": high,
        "sure": found.sure,
        "source": SOURCE.title,
        "notes": [SOURCE.caution, *found.notes],
    }
    head = (
        f"About {show_number(middle, context.locale)} mg/kg of HMF added; "
        f"reckon with {show_number(low, context.locale)} to {show_number(high, context.locale)}."
    )
    return Answer(document, "\n".join([head, *(f"  {note}" for note in document["notes"])]))
