"""``labelkit record import``."""

from __future__ import annotations

from pathlib import Path

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.season.progress import progress


@click.command()
@click.argument("folder")
@answering
def command(context: CommandContext, folder: str) -> Answer:
    """Rebuild a record from an export.

    Refused unless every hash comes out equal.

    Example:  labelkit --record again.labelkit record import season-2026
    """
    from labelkit.record.export import import_whole

    where = context.where
    events, head = import_whole(Path(folder), where, progress)
    return Answer(
        {"record": context.shown, "events": events, "head": head},
        f"{context.shown}: {events} events, equal to the export hash for hash.",
    )
