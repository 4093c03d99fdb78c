"""``labelkit bucket moisture``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._options import PERCENT
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step


@bucket_step
@click.argument("moisture", type=PERCENT)
@click.option("--instrument", metavar="NAME", default="", help="Which refractometer, or which laboratory.")
def command(
    context: CommandContext, bucket: str, moisture: Decimal, instrument: str, because: str, once: str | None
) -> Answer:
    """Record a bucket's moisture, measured now.

    It counts from this day on.

    Example:  labelkit bucket moisture B1 17.9 --instrument "refractometer 2"
    """
    from labelkit.season.measure import Measuring, measure

    return booked(context, once, measure, Measuring(bucket, moisture=moisture, instrument=instrument, because=because))
