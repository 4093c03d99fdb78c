"""``labelkit relabel``."""

from __future__ import annotations

import click

from labelkit.cli._options import JAR_COUNT, by_size, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.option("--lot", required=True, metavar="CODE", help="The code on the jars now.")
@click.option("--jar", "jars", type=JAR_COUNT, multiple=True, required=True, help="How many of which size.")
@click.option("--into", metavar="CODE", help="The code they get (else the next free one of the day).")
@click.option("--as", "size", metavar="SIZE", default="", help="The size whose label they get: what they really hold.")
@click.option("--reason", required=True, metavar="WORDS", help="Why.")
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    lot: str,
    jars: tuple[tuple[str, int], ...],
    into: str | None,
    size: str,
    reason: str,
    once: str | None,
) -> Answer:
    """Give jars in stock a new lot code.

    A trace of the new code still leads to the old one and its buckets.

    Jars that hold less than their label may get that of a smaller size with --as.

    \b
    Example:  labelkit relabel --lot L26195AXR --jar "one pound=12" --reason "label smudged"
              labelkit relabel --lot L26195AXR --jar "one pound=57" --as "15 oz" --reason "filled short"
    """
    from labelkit.season.correct import relabel

    with context.work(once) as work:
        done = relabel(work, lot, by_size(jars, "--jar"), reason, context.day, into, size)
    event = done.relabel
    return Answer(
        {"event": done.event, "lot": event.lines[0].lot, "into": event.into, "jars": done.jars, "reason": reason},
        f"{done.jars} jars of lot {event.lines[0].lot} are now lot {event.into} (event {done.event}). "
        "Print their labels next.",
    )
