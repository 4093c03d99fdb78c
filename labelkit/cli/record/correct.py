"""``labelkit record correct``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("event", type=int)
@click.option("--because", metavar="WORDS", required=True, help="Why it was wrong.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, event: int, because: str, once: str | None) -> Answer:
    """Strike a wrong event, by its number. It stays visible; book what is right afterwards.

    Example:  labelkit record correct 12 --because "weighed with the lid on"
    """
    from labelkit.season.correct import void

    with context.work(once) as work:
        done = void(work, event, because, context.day)
    return Answer(
        {"event": done.event, "corrects": event, "because": because},
        f"Event {event} is struck by event {done.event}: {because}.\nBook what is right now; both stay in the record.",
    )
