"""``labelkit reckon tolerance``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--declare", required=True, metavar="WEIGHT", help="What the label declares, for example “340 g”.")
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@answering
def command(context: CommandContext, declare: str, place: str) -> Answer:
    """How much less than it declares one jar may hold.

    The average of the lot must still not be less than declared.

    Example:  labelkit reckon tolerance --declare "340 g" --market eu
    """
    from labelkit.measures import Declared
    from labelkit.measures.rounding import plain
    from labelkit.rules import market
    from labelkit.rules.figures import tolerance
    from labelkit.rules.findings import law_lines

    found = tolerance.of(Declared.read(declare, context.locale), market(place, context.day))
    error = plain(found.error_g)
    if found.is_variation:
        document: dict[str, Any] = {"mav_g": found.error_g}
        lines = [f"One jar may hold up to {error} g less (maximum allowable variation)."]
    elif found.first_limit_g is None or found.second_limit_g is None:
        document = {"tolerance_g": found.error_g}
        lines = [f"One jar may hold up to {error} g less (tolerance)."]
    else:
        document = {"tolerance_g": found.error_g, "t1_g": found.first_limit_g, "t2_g": found.second_limit_g}
        lines = [
            f"Tolerable error {error} g.",
            f"Only few jars may hold less than {plain(found.first_limit_g)} g.",
            f"No jar may hold less than {plain(found.second_limit_g)} g.",
        ]
    lines += ["The average of the lot must not be less than the label.", "", law_lines(found.laws)]
    return Answer(document, "\n".join(lines))
