"""``labelkit bucket warm``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._options import NUMBER, TEMPERATURE
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step

CAUTION = "Warm honey loses quality by heat and time: no hotter than 40 °C for long (common practice, no source)."


@bucket_step
@click.option(
    "--highest", type=TEMPERATURE, required=True, help="The warmest the honey was, for example 40 C or 104 F."
)
@click.option("--hours", type=NUMBER, required=True, help="For how many hours it was warm.")
def command(
    context: CommandContext, bucket: str, highest: Decimal, hours: Decimal, because: str, once: str | None
) -> Answer:
    """Record that the honey was warmed.

    Every lot from the bucket remembers how hot and how long.

    Example:  labelkit bucket warm B1 --highest "40 C" --hours 24
    """
    from labelkit.season.treat import Warming, warm

    return booked(context, once, warm, Warming(bucket, highest, hours, because), CAUTION)
