"""``labelkit drain``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.weigh import as_document, listing
from labelkit.measures import show_both


@click.command()
@click.option("--bucket", metavar="ID", required=True, help="The bucket it was added to.")
@click.option("--net", metavar="WEIGHT", help="The honey that drained, alone.")
@click.option("--gross", metavar="WEIGHT", help="The full pot on the scale, with --tare.")
@click.option("--tare", metavar="WEIGHT", help="The empty pot.")
@click.option("--moisture", metavar="PERCENT", help="Its moisture, if you measured it.")
@click.option("--yard", "yards", metavar="'YARD: HIVE, HIVE'", multiple=True, help="Where the cappings came from.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext, bucket: str, once: str | None, yards: tuple[str, ...], **typed: str | None
) -> Answer:
    """Add honey that drained from the cappings to a bucket, as an event of its own day.

    Example:  labelkit --day 2026-07-15 drain --bucket B1 --net "2 lb 4 oz"
    """
    from labelkit.lots.entry import Entry, drain

    entry = Entry(bucket, sources=yards, **{k: v or "" for k, v in typed.items()})
    with context.work(once) as work:
        event = drain(entry, context.day, context.locale, work.bucket(bucket).harvested)
        work.add(event)
        now = work.bucket(bucket)
        work.commit()
    return Answer(
        as_document(now),
        f"{show_both(event.net, context.locale)} added to {bucket}.\n\n{listing([now], context.locale)}",
    )
