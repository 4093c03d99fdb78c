"""``labelkit reckon density``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--temperature", default="20 C", show_default=True, metavar="T", help="“35 C” or “95 F”.")
@answering
def command(context: CommandContext, moisture: str, temperature: str) -> Answer:
    """How heavy honey is by its moisture and temperature.

    Example:  labelkit reckon density --moisture 17.6 --temperature "35 C"
    """
    from labelkit.honey.density import density
    from labelkit.measures import read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    found = density(read_number(moisture, context.locale), read_temperature(temperature, context.locale))
    litre = to_step(found.kg_per_l, Decimal("0.0001"), HALF_UP)
    gallon = to_step(found.lb_per_us_gal, Decimal("0.001"), HALF_UP)
    ounces = to_step(found.us_fl_oz_per_lb, Decimal("0.001"), HALF_UP)
    document = {
        "kg_per_l": litre,
        "lb_per_us_gal": gallon,
        "us_fl_oz_per_lb": ounces,
        "uncertainty_percent": found.uncertainty * 100,
        "sure": found.sure,
        "notes": list(found.notes),
    }
    lines = [
        f"{show_number(litre, context.locale, digits=3)} kg per litre, {show_number(gallon, context.locale, digits=2)} lb per US gallon",
        f"  one pound takes {show_number(ounces, context.locale, digits=2)} US fl oz; "
        f"good to {show_number(found.uncertainty * 100, context.locale)} %",
    ]
    return Answer(document, "\n".join([*lines, *(f"  {note}" for note in found.notes)]))
