"""``labelkit reckon refractive-index``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, 13 to 25.")
@answering
def command(context: CommandContext, moisture: str) -> Answer:
    """What a refractometer must show at 20 °C for honey of a known moisture: to set or to check the instrument.

    Example:  labelkit reckon refractive-index --moisture 18.6
    """
    from labelkit.honey.moisture import brix_at, index_at
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_percent
    from labelkit.measures.rounding import HALF_UP, to_step

    water = read_percent(moisture, context.locale)
    index = to_step(index_at(water), Decimal("0.0001"), HALF_UP)
    brix = to_step(brix_at(water), Decimal("0.01"), HALF_UP)
    document: dict[str, Any] = {
        "refractive_index_20c": index,
        "brix": brix,
        "solids_percent": 100 - water,
        "sure": "seen",
        "source": "the table of AOAC 969.38 after Chataway, in Bogdanov, Book of Honey, ch. 4; Brix by the ICUMSA scale of 1974",
        "notes": [
            "Solids are 100 less the moisture; a Brix reading is not solids, and 100 − Brix is not the moisture.",
            "Set an instrument at 20 °C, and with the liquid its maker names: honey of a known moisture is hard to come by.",
        ],
    }
    head = (
        f"Refractive index {show_number(index, context.locale, digits=4)} at 20 °C, "
        f"{show_number(brix, context.locale, digits=2)} °Brix on a sucrose scale."
    )
    return Answer(document, "\n".join([head, f"  {document['source']}", *(f"  {note}" for note in document["notes"])]))
