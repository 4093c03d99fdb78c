"""``labelkit bucket skim``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import MASS
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step, weight_options

if TYPE_CHECKING:
    from labelkit.measures import Mass


@bucket_step
@click.option("--removed", type=MASS, help="What was skimmed off: foam and wax.")
@weight_options
def command(
    context: CommandContext, bucket: str, removed: Mass | None, because: str, once: str | None, **weights: Any
) -> Answer:
    """Record foam and wax taken off.

    By their weight, or by what the bucket weighs now.

    Example:  labelkit bucket skim B1 --removed "6 oz"
    """
    from labelkit.season.measure import Weighed
    from labelkit.season.treat import Skimming, skim

    return booked(context, once, skim, Skimming(bucket, removed, Weighed(**weights), because))
