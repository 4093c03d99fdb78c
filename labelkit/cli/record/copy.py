"""``labelkit record copy``."""

from __future__ import annotations

from pathlib import Path

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.season.progress import progress


@click.command()
@click.option("--to", "folder", metavar="FOLDER", required=True, help="Where to put it: best a stick or another disk.")
@click.option("--keep", type=click.IntRange(min=1), metavar="N", help="Keep only the last N copies there.")
@answering
def command(context: CommandContext, folder: str, keep: int | None) -> Answer:
    """Make a verified copy.

    Stations may go on working while the record is copied.

    Example:  labelkit --record season.labelkit record copy --to /media/stick --keep 10
    """
    from labelkit.record.copies import copy_record

    with context.season(to_read=True) as season:
        season.record.remember(Path(folder), "copies")
        copied = copy_record(season.record.path, Path(folder), context.now, keep, progress)
    document = {
        "copy": str(copied.path),
        "events": copied.events,
        "head": copied.head,
        "removed": [str(each) for each in copied.removed],
    }
    text = f"{copied.path}: {copied.events} events, written and verified."
    if copied.removed:
        text += f"\nTaken away to keep the last {keep}: {', '.join(each.name for each in copied.removed)}"
    return Answer(document, text)
