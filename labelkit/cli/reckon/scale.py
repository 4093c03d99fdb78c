"""``labelkit reckon scale``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--market", "place", default="us", show_default=True, metavar="MARKET", help="Whose handbook.")
@click.option("--capacity", required=True, metavar="Q", help="The most the scale weighs, “5 kg”.")
@click.option("--division", required=True, metavar="Q", help="The step it counts in, “0.1 g”.")
@click.option("--load", required=True, metavar="Q", help="What is on it: a known weight, or a full jar.")
@click.option("--error", metavar="Q", help="An error in weight to spell in the scale's units of measure, “0.016 lb”.")
@answering
def command(context: CommandContext, place: str, capacity: str, division: str, load: str, error: str | None) -> Answer:
    """What a scale of this size may be off at a load, and its accuracy class.

    Example:  labelkit reckon scale --capacity "5 kg" --division "0.1 g" --load "1500 g"
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.measures import Mass, show_metric
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, plain, significant
    from labelkit.rules import market
    from labelkit.rules.findings import law_lines
    from labelkit.run.check_weighing.gross import dimensionless
    from labelkit.run.check_weighing.scale import scale_error

    here = market(place, context.day)
    most, step, put = (_grams(text, context.locale) for text in (capacity, division, load))
    if put > most:
        raise UsageUnclear(
            f"A load of {load} is more than the scale weighs ({capacity}).", "labelkit reckon scale --help"
        )
    found = scale_error(here, most, step, put)
    document: dict[str, Any] = {
        "class": found.accuracy_class,
        "divisions": found.divisions,
        "may_be_off_g": found.tolerance,
        "notes": [
            "For a newly approved scale; in use twice that is commonly allowed (from memory).",
            "Legal for trade is what your weights and measures office has approved and sealed, not what a table says.",
        ],
    }
    lines = [
        f"Class {found.accuracy_class}, {show_number(found.divisions, context.locale)} divisions: "
        f"at {show_metric(Mass.of_grams(put), context.locale)} it may be off by {plain(significant(found.tolerance, 2, HALF_UP))} g."
    ]
    if error is not None:
        # In the unit the division was typed in, since the unit of measure is a power of ten of that.
        document["error_units"] = dimensionless(*_alike(error, division, context.locale))
        lines.append(f"  An error of {error} is {plain(document['error_units'])} units of measure.")
    lines += [f"  {note}" for note in document["notes"]]
    law = here.value("tolerances of the scale")
    return Answer(document, "\n".join([*lines, *(f"  {line}" for line in law_lines((law,)).splitlines())]))


def _grams(text: str, locale: str):
    from labelkit.measures.units import MASS, read_quantity

    return read_quantity(text, MASS, locale)


def _alike(error: str, division: str, locale: str):
    """Error and division in the division's own unit."""
    from labelkit.measures.numerals import read_number
    from labelkit.reading.weight_list import SPELT, UNIT_WORD

    unit = UNIT_WORD.search(division)
    one = _grams(f"1 {SPELT[unit[1].lower()]}", locale) if unit else 1
    sign = -1 if error.strip().startswith(("-", "−")) else 1
    wrong = sign * _grams(error.strip().lstrip("+-−"), locale)
    step = read_number(division[: unit.start()], locale) if unit else _grams(division, locale)
    return wrong / one, step
