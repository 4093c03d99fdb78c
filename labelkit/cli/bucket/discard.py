"""``labelkit bucket discard``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import MASS
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step

if TYPE_CHECKING:
    from labelkit.measures import Mass


@bucket_step
@click.option("--part", type=MASS, help="How much; all of it unless given.")
def command(context: CommandContext, bucket: str, part: Mass | None, because: str, once: str | None) -> Answer:
    """Record honey spilled, fermented or thrown away.

    It needs --because. What is on hold may be discarded.

    Example:  labelkit bucket discard B1 --part "2 lb" --because "spilled at the strainer"
    """
    from labelkit.lots.bucket_life import DISCARDED
    from labelkit.season.take_out import TakingOut, take_out

    return booked(context, once, take_out, TakingOut(bucket, DISCARDED, part, because=because))
