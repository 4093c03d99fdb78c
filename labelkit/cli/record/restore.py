"""``labelkit record restore``."""

from __future__ import annotations

from pathlib import Path

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("copy")
@click.option("--even-if-newer", is_flag=True, help="Also where the record standing there holds later events.")
@answering
def command(context: CommandContext, copy: str, even_if_newer: bool) -> Answer:
    """Restore a copy.

    The file that is there is set aside, never deleted.

    Example:  labelkit --record season.labelkit record restore /media/stick/season.2026-07-14-183000.copy
    """
    from labelkit.record.copies import restore
    from labelkit.record.location import record_file

    to = record_file(context.where, "record restore", "Use pg_restore on the server, or labelkit record import.")
    head, aside = restore(Path(copy), to, context.now, even_if_newer)
    text = f"{to}: {head.seq} events, restored from {copy} and verified."
    if aside:
        text += f"\nThe file that stood there is now {aside}."
    return Answer(
        {"record": str(to), "events": head.seq, "head": head.hash, "set_aside": str(aside) if aside else None}, text
    )
