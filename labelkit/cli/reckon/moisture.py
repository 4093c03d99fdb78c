"""``labelkit reckon moisture``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--refractive-index", metavar="N", help="The refractive index the instrument shows, for example 1.4915.")
@click.option("--brix", metavar="B", help="A reading on a sucrose (Brix) scale, for example 80.3.")
@click.option(
    "--temperature",
    metavar="T",
    help="Temperature of the reading, “15 C” or “68 F”; not for self-correcting instruments.",
)
@answering
def command(context: CommandContext, refractive_index: str | None, brix: str | None, temperature: str | None) -> Answer:
    """The moisture of honey from a refractometer reading.

    Example:  labelkit reckon moisture --refractive-index 1.4915 --temperature "24 C"
    """
    from labelkit.errors.honey import ReadingMissing
    from labelkit.honey.moisture import from_brix, from_index
    from labelkit.measures import read_temperature
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number

    if (refractive_index is None) == (brix is None):
        raise ReadingMissing("Both readings are" if brix is not None else "No reading is")
    warmth = read_temperature(temperature, context.locale) if temperature is not None else None
    if brix is not None:
        found = from_brix(read_number(brix, context.locale), warmth)
    else:
        found = from_index(read_number(refractive_index or "", context.locale), warmth)
    document = {
        "moisture_percent": f"{found.percent:.1f}",  # one decimal always: it says how fine the figure is
        "moisture_unrounded": found.unrounded,
        "method": found.method,
        "refractive_index_20c": found.index_20c,
        "sure": found.sure,
        "notes": list(found.notes),
    }
    lines = [f"{show_number(found.percent, context.locale, digits=1)} % water", f"  by {found.method}"]
    return Answer(document, "\n".join([*lines, *(f"  {note}" for note in found.notes)]))
