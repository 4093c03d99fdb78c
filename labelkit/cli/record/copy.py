"""``labelkit record copy``."""

from __future__ import annotations

from pathlib import Path

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.season.progress import progress


@click.command()
@click.option("--to", "folder", metavar="FOLDER", required=True, help="Where to put it: best a stick or another disk.")
@click.option("--keep", type=click.IntRange(min=1), metavar="N", help="Keep only the last N copies there.")
@click.option("--rotate", is_flag=True, help="Keep there the last of each of 7 days, 5 weeks and 12 months.")
@answering
def command(context: CommandContext, folder: str, keep: int | None, rotate: bool) -> Answer:
    """Make a verified copy.

    Stations may go on working while the record is copied.

    Example:  labelkit --record season.labelkit record copy --to /media/stick --keep 10
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.record.last_copy import copy_to

    if keep and rotate:
        raise UsageUnclear("Either --keep N or --rotate says which copies stay.", "labelkit record copy --help")
    with context.season(to_read=True) as season:
        copied = copy_to(season.record, Path(folder), context.now, keep, progress, rotate=rotate)
    document = {
        "copy": str(copied.path),
        "events": copied.events,
        "head": copied.head,
        "removed": [str(each) for each in copied.removed],
    }
    text = f"{copied.path}: {copied.events} events, written and verified."
    if copied.removed:
        text += f"\nTaken away to keep {f'the last {keep}' if keep else '7 days, 5 weeks, 12 months'}: {', '.join(each.name for each in copied.removed)}"
    return Answer(document, text)
