"""``labelkit reckon warmth``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._options import NUMBER, BySize
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--step",
    "steps",
    type=BySize(NUMBER, "45 C=12"),
    multiple=True,
    required=True,
    metavar="T=HOURS",
    help="“45 C=12” is twelve hours at 45 °C; as often as needed.",
)
@answering
def command(context: CommandContext, steps: tuple[tuple[str, Decimal], ...]) -> Answer:
    """What warming costs: an estimate of the HMF it adds, with its wide spread.

    Example:  labelkit reckon warmth --step "40 C=48" --step "50 C=2"
    """
    from labelkit.honey.warmth import SOURCE, Warming, hmf_added
    from labelkit.measures import read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, significant

    found = hmf_added(Warming(read_temperature(warmth, context.locale), hours) for warmth, hours in steps)
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
