"""``labelkit recall release``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--lot", "lots", multiple=True, required=True, metavar="LOT", help="A lot on hold (may be repeated).")
@click.option("--because", required=True, metavar="WORDS", help="Why it may go again, and who decided.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, lots: tuple[str, ...], because: str, once: str | None) -> Answer:
    """Release lots from hold; their jars are in stock again. Where an authority ordered the hold, it decides.

    Example:  labelkit recall release --lot L26195AXR --because "laboratory: clean"
    """
    from labelkit.cli.recall import traced
    from labelkit.trace.recall import release_for

    with context.work(once) as work:
        if not work.booked_before:
            trace, _ = traced(work, lots)
            work.add(release_for(context.day, because, trace, trace.start.lots))
        booked = work.commit()[0]
    freed = sum(line.count for line in booked.event.jars)
    return Answer(
        {"event": booked.seq, "lots": list(booked.event.lots), "jars_released": freed, "because": because},
        f"{', '.join(booked.event.lots)} released (event {booked.seq}): {freed} jars in stock again.",
    )
