"""``labelkit reckon settle``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--temperature", required=True, metavar="T", help="Of the honey in the tank, “35 C” or “95 F”.")
@click.option("--depth", default="30 cm", show_default=True, metavar="L", help="How deep the honey stands.")
@click.option("--size", default="0.2 mm", show_default=True, metavar="L", help="Of the bubbles or specks of wax.")
@answering
def command(context: CommandContext, moisture: str, temperature: str, depth: str, size: str) -> Answer:
    """How long foam and wax take to rise out of honey in a tank.

    Example:  labelkit reckon settle --moisture 17.5 --temperature "35 C" --depth "40 cm"
    """
    from labelkit.honey.settling import AIR, WAX, rise
    from labelkit.measures import Length, read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, significant

    water, warmth = read_number(moisture, context.locale), read_temperature(temperature, context.locale)
    deep, small = Length.read(depth, context.locale).mm / 1000, Length.read(size, context.locale).mm
    air, wax = (rise(small, deep, water, warmth, inside) for inside in (AIR, WAX))
    hours = {name: significant(found.hours, 2, HALF_UP) for name, found in (("bubbles", air), ("wax", wax))}
    document = {
        "hours_bubbles": hours["bubbles"],
        "hours_wax": hours["wax"],
        "viscosity_pa_s": significant(air.viscosity, 2, HALF_UP),
        "sure": air.sure,
        "notes": list(air.notes),
    }
    lines = [
        f"Bubbles of {size} rise {depth} in about {_time(hours['bubbles'], show_number, context.locale)}, "
        f"specks of wax in about {_time(hours['wax'], show_number, context.locale)}.",
        *(f"  {note}" for note in air.notes),
    ]
    return Answer(document, "\n".join(lines))


def _time(hours: Decimal, show_number, locale: str) -> str:
    """Hours under two days, days from there on.

    >>> from labelkit.measures.locales import show_number
    >>> _time(Decimal("4.9"), show_number, "en_US"), _time(Decimal(120), show_number, "en_US")
    ('4.9 hours', '5 days')
    """
    if hours < 48:
        return f"{show_number(hours, locale)} hours"
    return f"{show_number(round(hours / 24), locale)} days"
