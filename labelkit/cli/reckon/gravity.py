"""``labelkit reckon gravity``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--empty", metavar="Q", help="A specific-gravity bottle, empty and dry, “28.4773 g”.")
@click.option("--water", metavar="Q", help="The same bottle full of water.")
@click.option("--honey", metavar="Q", help="The same bottle full of honey, at the same temperature.")
@click.option("--weight", metavar="Q", help="Instead: the net weight of a known volume, with --volume.")
@click.option("--volume", metavar="V", help="That volume at 20 °C, “1 gal” (US measures unless marked imp) or “1 l”.")
@answering
def command(
    context: CommandContext,
    empty: str | None,
    water: str | None,
    honey: str | None,
    weight: str | None,
    volume: str | None,
) -> Answer:
    """Specific gravity of honey by a bottle, or its density from a weight and a volume, and what moisture that means.

    \b
    Example:  labelkit reckon gravity --empty "28.4773 g" --water "54.8809 g" --honey "65.2718 g"
              labelkit reckon gravity --weight "12 lb" --volume "1 gal"
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.honey.density import WATER_KG_PER_L, gravity_by_bottle
    from labelkit.measures import read_volume
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, to_step
    from labelkit.measures.units import MASS, read_quantity

    bottle, measured = (empty, water, honey), (weight, volume)
    if all(bottle) and not any(measured):
        gravity = gravity_by_bottle(*(read_quantity(text or "", MASS, context.locale) for text in bottle))
    elif weight and volume and not any(bottle):
        gravity = read_quantity(weight, MASS, context.locale) / read_volume(volume, context.locale) / WATER_KG_PER_L
    else:
        raise UsageUnclear(
            "Give the bottle three times (--empty, --water, --honey), or a --weight with its --volume.",
            "labelkit reckon gravity --help",
        )
    density = gravity * WATER_KG_PER_L
    moisture, notes = _moisture(density)
    document: dict[str, Any] = {
        "specific_gravity": to_step(gravity, Decimal("0.0001"), HALF_UP),
        "kg_per_l": to_step(density, Decimal("0.0001"), HALF_UP),
        "moisture_percent": moisture,
        "sure": "memory",
        "notes": notes,
    }
    means = f", about {show_number(moisture, context.locale, digits=1)} % water" if moisture is not None else ""
    head = f"Specific gravity {show_number(document['specific_gravity'], context.locale, digits=4)}{means}."
    return Answer(document, "\n".join([head, *(f"  {note}" for note in notes)]))


def _moisture(density: Decimal) -> tuple[Decimal | None, list[str]]:
    """What the density means, where the table reaches so far, and what to know about it."""
    from labelkit.errors.honey import OutsideDensityTable
    from labelkit.honey.density import moisture_of

    notes = [
        "A density is a poor moisture meter: one part in 500 is half a percent of water. Use a refractometer to decide.",
        "Gravity is at the temperature of the weighings; the moisture takes it as weighed at 20 °C.",
        "The table behind it (White 1975) is recalled from memory between 13 and 21 %; both ends are confirmed.",
    ]
    try:
        return moisture_of(density), notes
    except OutsideDensityTable:
        return None, [
            *notes,
            "This density is none that the table has: lighter than 21 % water, heavier than 13 %, or a slip.",
        ]
