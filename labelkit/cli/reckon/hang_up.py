"""``labelkit reckon hang-up``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--height", required=True, metavar="L", help="How high the honey stood in the pail, “36 cm” or “14 in”.")
@click.option("--diameter", required=True, metavar="L", help="Inside diameter of the pail.")
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--temperature", required=True, metavar="T", help="Of the honey, “25 C” or “77 F”.")
@click.option("--minutes", default="30", show_default=True, metavar="N", help="How long the pail is left to drain.")
@answering
def command(
    context: CommandContext, height: str, diameter: str, moisture: str, temperature: str, minutes: str
) -> Answer:
    """How much honey stays on the wall of an emptied pail; for a careful plan (labelkit plan --hang-up).

    Example:  labelkit reckon hang-up --height "36 cm" --diameter "29 cm" --moisture 17.5 --temperature "25 C"
    """
    from labelkit.honey.settling import hang_up
    from labelkit.measures import Length, Mass, read_temperature, show_customary, show_metric
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, significant

    high, wide = (Length.read(text, context.locale).mm / 1000 for text in (height, diameter))
    kept = hang_up(
        high,
        wide,
        read_number(moisture, context.locale),
        read_temperature(temperature, context.locale),
        read_number(minutes, context.locale),
    )
    mass = Mass.of_grams(significant(kept * 1000, 2, HALF_UP))
    document: dict[str, Any] = {
        "g": mass.g,
        "sure": "reckoned",
        "source": "the draining film of Jeffreys (from memory), over a viscosity fitted to published series",
        "notes": [
            "An estimate for the wall alone: foam, the bottom and the tap hold more. No published figure for pails was found.",
            "Weigh an emptied pail of your own once, and use that.",
            "Warmth makes it run: no hotter than 40 °C for long, and lift a full pail with two people.",
        ],
    }
    head = f"About {show_metric(mass, context.locale)} ({show_customary(mass, context.locale)}) stay on the wall."
    return Answer(document, "\n".join([head, f"  {document['source']}", *(f"  {note}" for note in document["notes"])]))
