"""``labelkit reckon weight``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--volume", required=True, metavar="V", help="“5 gal”, “375 ml”, “9 fl oz” (US measures unless marked imp)."
)
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--temperature", default="20 C", show_default=True, metavar="T", help="Of the honey in that volume.")
@click.option("--holds", metavar="NET", help="Ask whether a jar of that brimful volume takes this net weight.")
@click.option(
    "--headspace", default="7", show_default=True, metavar="PERCENT", help="Kept free in the jar, with --holds."
)
@answering
def command(
    context: CommandContext, volume: str, moisture: str, temperature: str, holds: str | None, headspace: str
) -> Answer:
    """What a volume of honey weighs, and whether a jar takes a net weight at bottling temperature.

    \b
    Example:  labelkit reckon weight --volume "5 gal" --moisture 18.0
              labelkit reckon weight --volume "12 fl oz" --moisture 17.6 --temperature "40 C" --holds "1 lb"
    """
    from labelkit.honey.volume import weight_of
    from labelkit.measures import read_temperature, read_volume, show_customary, show_metric
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    room, water = read_volume(volume, context.locale), read_number(moisture, context.locale)
    warmth = read_temperature(temperature, context.locale)
    found = weight_of(room, water, warmth)
    document: dict[str, Any] = {
        "g": to_step(found.mass.g, Decimal("0.1"), HALF_UP),
        "oz": to_step(found.mass.oz, Decimal("0.01"), HALF_UP),
        "lb": to_step(found.mass.lb, Decimal("0.001"), HALF_UP),
        "plus_minus_g": to_step(found.plus_minus.g, Decimal("0.1"), HALF_UP),
        "sure": found.density.sure,
        "notes": [*found.density.notes, "A volume is never a legal weight: sell by the scale."],
    }
    lines = [
        f"{show_metric(found.mass, context.locale)} ({show_customary(found.mass, context.locale)}), "
        f"give or take {show_metric(found.plus_minus, context.locale)}"
    ]
    if holds is not None:
        fits, line = _jar(context, holds, room, water, warmth, headspace)
        document["jar"] = fits
        lines.append(line)
    return Answer(document, "\n".join([*lines, *(f"  {note}" for note in document["notes"])]))


def _jar(
    context: CommandContext, holds: str, room: Decimal, water: Decimal, warmth: Decimal, headspace: str
) -> tuple[dict, str]:
    from labelkit.honey.volume import fit
    from labelkit.measures import Mass, show_customary, show_metric
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    net = Mass.read(holds, context.locale)
    found = fit(net, room, water, warmth, read_number(headspace, context.locale))
    tenth = Decimal("0.1")
    document: dict[str, Any] = {
        "fits": found.fits,
        "brimful_ml": to_step(found.brimful_ml, tenth, HALF_UP),
        "brimful_needed_ml": to_step(found.jar_needs_ml, tenth, HALF_UP),
        "most_g": to_step(found.most.g, tenth, HALF_UP),
        "headspace_left_percent": to_step(found.headspace_left, tenth, HALF_UP),
    }
    says = "fits" if found.fits else "does not fit"
    return document, (
        f"  {holds} {says}: it needs a jar of {show_number(document['brimful_needed_ml'], context.locale)} ml to the brim, "
        f"this one has {show_number(document['brimful_ml'], context.locale)} ml and takes "
        f"{show_metric(found.most, context.locale)} ({show_customary(found.most, context.locale)})"
    )
