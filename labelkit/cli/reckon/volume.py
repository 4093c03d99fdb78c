"""``labelkit reckon volume``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--weight", required=True, metavar="Q", help="How much honey, “60 lb”, “500 g”.")
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--temperature", default="20 C", show_default=True, metavar="T", help="Of the honey, “35 C” or “95 F”.")
@answering
def command(context: CommandContext, weight: str, moisture: str, temperature: str) -> Answer:
    """How much room a weight of honey takes: which pail, which jar.

    Example:  labelkit reckon volume --weight "60 lb" --moisture 18.0
    """
    from labelkit.honey.density import ML_PER_US_FLUID_OUNCE, ML_PER_US_GALLON, density
    from labelkit.honey.volume import volume_of
    from labelkit.measures import Mass, read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    mass, water = Mass.read(weight, context.locale), read_number(moisture, context.locale)
    warmth = read_temperature(temperature, context.locale)
    room, honey = volume_of(mass, water, warmth), density(water, warmth)
    step = Decimal("0.001")
    document: dict[str, Any] = {
        "ml": to_step(room, Decimal("0.1"), HALF_UP),
        "us_gal": to_step(room / ML_PER_US_GALLON, step, HALF_UP),
        "us_fl_oz": to_step(room / ML_PER_US_FLUID_OUNCE, step, HALF_UP),
        "plus_minus_ml": to_step(room * honey.uncertainty, Decimal("0.1"), HALF_UP),
        "sure": honey.sure,
        "notes": [*honey.notes, "Leave headspace in a jar, and fill by the scale: a volume is never a legal weight."],
    }

    def show(value: Decimal, digits: int) -> str:
        return show_number(value, context.locale, digits=digits)

    litres = f"{show(room / 1000, 3)} litres" if room >= 1000 else f"{show(room, 1)} ml"
    head = (
        f"{litres} ({show(document['us_gal'], 3)} US gal, {show(document['us_fl_oz'], 2)} US fl oz), "
        f"give or take {show(document['plus_minus_ml'], 1)} ml"
    )
    return Answer(document, "\n".join([head, *(f"  {note}" for note in document["notes"])]))
