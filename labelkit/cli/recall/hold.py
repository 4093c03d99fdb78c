"""``labelkit recall hold``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--lot", "lots", multiple=True, required=True, metavar="LOT", help="A jar lot or bucket (may be repeated)."
)
@click.option("--because", required=True, metavar="WORDS", help="Why.")
@once_option
@answering
def command(context: CommandContext, lots: tuple[str, ...], because: str, once: str | None) -> Answer:
    """Put lots on hold.

    They can be neither sold, given, loaded nor bottled until released.

    Example:  labelkit recall hold --lot L26195AXR --because "waiting for the laboratory"
    """
    from labelkit.season.recall import hold

    with context.work(once) as work:
        done = hold(work, lots, because, context.day)
    return Answer(
        {"event": done.event, "lots": list(done.lots), "jars_held": done.jars, "because": because},
        f"{', '.join(done.lots)} on hold (event {done.event}): {done.jars} jars set apart.",
    )
