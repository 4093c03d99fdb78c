"""``labelkit bucket dry``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._options import MASS, NUMBER, PERCENT, TEMPERATURE
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step


@bucket_step
@click.option("--before", type=MASS, help="The honey before, if you weighed it.")
@click.option("--after", type=MASS, help="The honey afterwards, if you weighed it.")
@click.option("--moisture-before", type=PERCENT, help="Its moisture before, if you measured it now.")
@click.option("--moisture", "moisture_after", type=PERCENT, help="Its moisture afterwards.")
@click.option("--highest", "hottest_c", type=TEMPERATURE, help="The warmest it was, for example 38 C or 100 F.")
@click.option("--hours", type=NUMBER, help="How many hours it was warm.")
@click.option("--instrument", metavar="NAME", default="", help="Which refractometer.")
def command(context: CommandContext, bucket: str, because: str, once: str | None, **said: Any) -> Answer:
    """Record honey that was dried.

    The water that left has an account of its own.

    Give the weight afterwards, or the moisture, or both: then they are checked against each other.

    Example:  labelkit bucket dry B1 --moisture 17.8 --highest "35 C" --hours 20
    """
    from labelkit.season.treat import Drying, dry_out

    return booked(context, once, dry_out, Drying(bucket, because=because, **said))
