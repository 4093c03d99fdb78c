"""``labelkit drain``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import MASS, PERCENT, SOURCE, because_option, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.weigh import as_document, listing
from labelkit.measures import show_both

if TYPE_CHECKING:
    from labelkit.lots.bucket import Source


@click.command()
@click.option("--bucket", metavar="ID", required=True, help="The bucket it was added to.")
@click.option("--net", type=MASS, help="The honey that drained, alone.")
@click.option("--gross", type=MASS, help="The full pot on the scale, with --tare.")
@click.option("--tare", type=MASS, help="The empty pot.")
@click.option("--moisture", type=PERCENT, help="Its moisture, if you measured it.")
@click.option(
    "--nothing", is_flag=True, help="No honey came from this extraction: end the reminder of all its buckets."
)
@click.option("--yard", "yards", type=SOURCE, multiple=True, help="Where the cappings came from.")
@because_option
@once_option
@answering
def command(
    context: CommandContext, bucket: str, nothing: bool, once: str | None, yards: tuple[Source, ...], **said: Any
) -> Answer:
    """Add honey drained from cappings to a bucket.

    It is booked as an event of its own day.

    Example:  labelkit --day 2026-07-15 drain --bucket B1 --net "2 lb 4 oz"
    """
    from labelkit.lots.intake import Intake
    from labelkit.season.drain import drain
    from labelkit.season.note import nothing_drained

    if nothing:
        with context.work(once) as work:
            ended = nothing_drained(work, bucket, context.day, said["because"])
        lots = ", ".join(ended.note.lots)
        document = {"event": ended.event, "lots": list(ended.note.lots), "note": ended.note.note}
        return Answer(document, f"Noted (event {ended.event}): nothing drained for {lots}. You are not reminded again.")
    with context.work(once) as work:
        done = drain(work, Intake(bucket, sources=tuple(filter(None, yards)), **said), context.day, context.reader)
    reader = context.reader
    return Answer(
        as_document(done.bucket),
        f"{show_both(done.added, reader)} added to {bucket}.\n\n{listing([done.bucket], reader)}",
    )
