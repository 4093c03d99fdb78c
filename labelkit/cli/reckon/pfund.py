"""``labelkit reckon pfund``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--absorbance", required=True, metavar="A", help="At 635 nm, 1 cm, of 50 g honey in 100 ml of solution.")
@click.option("--market", "place", metavar="MARKET", help="Name the colour class of us, ca or au as well.")
@answering
def command(context: CommandContext, absorbance: str, place: str | None) -> Answer:
    """Millimetres on the Pfund scale from a photometer's absorbance, for those without a grader.

    Example:  labelkit reckon pfund --absorbance 0.25 --market us
    """
    from labelkit.honey.colour import pfund_from_absorbance
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    found = pfund_from_absorbance(read_number(absorbance, context.locale))
    reading = to_step(found.mm, Decimal("0.1"), HALF_UP)
    notes = list(found.notes)
    if found.raw < 0:
        notes.append("The equation falls below the scale here; the honey is taken to be at its pale end.")
    document = {"pfund_mm": reading, "class": None, "sure": found.sure, "notes": notes}
    head = f"About {show_number(reading, context.locale)} mm Pfund"
    if place is not None:
        from labelkit.rules import market
        from labelkit.rules.figures import colour

        document["class"] = colour.of(reading, market(place, context.day)).name
        head += f": {document['class']}"
    return Answer(document, "\n".join([f"{head}.", *(f"  {note}" for note in notes)]))
