"""``labelkit recall hold``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--lot", "lots", multiple=True, required=True, metavar="LOT", help="A jar lot or bucket (may be repeated)."
)
@click.option("--because", required=True, metavar="WORDS", help="Why.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, lots: tuple[str, ...], because: str, once: str | None) -> Answer:
    """Put lots on hold: they can be neither sold, given, loaded nor bottled until released.

    Example:  labelkit recall hold --lot L26195AXR --because "waiting for the laboratory"
    """
    from labelkit.cli.recall import traced
    from labelkit.trace.recall import hold_for

    with context.work(once) as work:
        if not work.booked_before:
            trace, _ = traced(work, lots)
            work.add(hold_for(context.day, because, trace, trace.start.lots))
        booked = work.commit()[0]
    held = sum(line.count for line in (*booked.event.jars, *booked.event.at_stall))
    return Answer(
        {"event": booked.seq, "lots": list(booked.event.lots), "jars_held": held, "because": because},
        f"{', '.join(booked.event.lots)} on hold (event {booked.seq}): {held} jars set apart.",
    )
