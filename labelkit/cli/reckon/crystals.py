"""``labelkit reckon crystals``."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--glucose", required=True, metavar="G", help="Glucose in g/100 g, from a laboratory.")
@click.option("--moisture", required=True, metavar="W", help="Moisture in percent, for example 17.6.")
@click.option("--fructose", metavar="F", help="Fructose in g/100 g; adds two more indices.")
@answering
def command(context: CommandContext, glucose: str, moisture: str, fructose: str | None) -> Answer:
    """Whether honey will set soon, by its sugars.

    Example:  labelkit reckon crystals --glucose 31.3 --fructose 38.2 --moisture 17.2
    """
    from labelkit.cli._show import table
    from labelkit.honey.crystals import FASTEST_C, NOTES, setting
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    found = setting(
        read_number(glucose, context.locale),
        read_number(moisture, context.locale),
        read_number(fructose, context.locale) if fructose is not None else None,
    )
    rows: list[dict[str, Any]] = [
        {"index": row.index, "value": to_step(row.value, Decimal("0.01"), HALF_UP), "says": row.says, "sure": row.sure}
        for row in found
    ]
    shown: list[tuple[str, ...]] = [
        (row["index"], show_number(row["value"], context.locale, digits=2), row["says"], row["sure"]) for row in rows
    ]
    document: dict[str, Any] = {
        "says": found[0].says,
        "indices": rows,
        "fastest_c": FASTEST_C,
        "sure": found[0].sure,
        "notes": list(NOTES),
    }
    return Answer(
        document,
        "\n".join([table(("index", "value", "says", "how sure"), shown, right=[1]), *(f"  {note}" for note in NOTES)]),
    )
