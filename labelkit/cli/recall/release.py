"""``labelkit recall release``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--lot", "lots", multiple=True, required=True, metavar="LOT", help="A lot on hold (may be repeated).")
@click.option("--because", required=True, metavar="WORDS", help="Why it may go again, and who decided.")
@once_option
@answering
def command(context: CommandContext, lots: tuple[str, ...], because: str, once: str | None) -> Answer:
    """Release lots from hold.

    Their jars are in stock again. Where an authority ordered the hold, it decides.

    Example:  labelkit recall release --lot L26195AXR --because "laboratory: clean"
    """
    from labelkit.season.recall import release

    with context.work(once) as work:
        done = release(work, lots, because, context.day)
    return Answer(
        {"event": done.event, "lots": list(done.lots), "jars_released": done.jars, "because": because},
        f"{', '.join(done.lots)} released (event {done.event}): {done.jars} jars in stock again.",
    )
