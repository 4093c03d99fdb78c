"""``labelkit bucket weigh-again``."""

from __future__ import annotations

from typing import Any

from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import booked, bucket_step, weight_options


@bucket_step
@weight_options
def command(context: CommandContext, bucket: str, because: str, once: str | None, **weights: Any) -> Answer:
    """Record a new weight of a bucket.

    The difference to the record stays visible in an account of its own.

    Example:  labelkit bucket weigh-again B1 --gross "61 lb 2 oz" --tare "2 lb 7 oz"
    """
    from labelkit.season.measure import Measuring, Weighed, measure

    return booked(context, once, measure, Measuring(bucket, Weighed(**weights), because=because))
