"""``labelkit bucket give``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import MASS
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step

if TYPE_CHECKING:
    from labelkit.measures import Mass


@bucket_step
@click.option("--to", "customer", metavar="NAME", help="Who got it.")
@click.option("--part", type=MASS, help="How much; all of it unless given.")
def command(
    context: CommandContext, bucket: str, customer: str | None, part: Mass | None, because: str, once: str | None
) -> Answer:
    """Record honey given away from a bucket.

    All of it, or a part.

    Example:  labelkit bucket give B1 --to "Robin Invented" --part "5 lb"
    """
    from labelkit.lots.bucket_life import GIVEN
    from labelkit.season.take_out import TakingOut, take_out

    return booked(context, once, take_out, TakingOut(bucket, GIVEN, part, customer=customer, because=because))
