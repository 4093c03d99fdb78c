"""``labelkit bucket feed``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import MASS
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step

if TYPE_CHECKING:
    from labelkit.measures import Mass

CAUTION = (
    "Honey can carry the spores of foulbrood: feed it only to the colonies it came from, never to others (common "
    "practice, no source). Check your local rules."
)


@bucket_step
@click.option("--part", type=MASS, help="How much; all of it unless given.")
def command(context: CommandContext, bucket: str, part: Mass | None, because: str, once: str | None) -> Answer:
    """Record honey fed back to the bees.

    All of a bucket, or a part. Say with --because to which bees.

    Example:  labelkit bucket feed B1 --part "5 lb" --because "to H1 and H2"
    """
    from labelkit.lots.bucket_life import FED
    from labelkit.season.take_out import TakingOut, take_out

    return booked(context, once, take_out, TakingOut(bucket, FED, part, because=because), CAUTION)
