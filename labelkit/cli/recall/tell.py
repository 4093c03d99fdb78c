"""``labelkit recall tell``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.argument("name", required=False, default="")
@click.option("--customer", required=True, metavar="NAME", help="Who was told.")
@click.option("--how", default="phone", show_default=True, metavar="HOW", help="By phone, letter, in person …")
@click.option("--has", type=click.IntRange(min=0), metavar="N", help="Their answer: jars they still hold.")
@click.option("--note", default="", metavar="WORDS", help="Anything else they said.")
@once_option
@late_option
@answering
def command(
    context: CommandContext, name: str, customer: str, how: str, has: int | None, note: str, once: str | None
) -> Answer:
    """Record who was notified.

    And what they answered. Without a name it is the only recall that is running.

    Example:  labelkit recall tell R2026-08-01 --customer "Corner shop" --has 7
    """
    from labelkit.season.recall import tell

    with context.work(once) as work:
        done = tell(work, name, customer, context.day, how=how, has=has, note=note)
    told = done.told
    answer = f"; still holds {told.has}" if told.answered else "; no answer yet"
    return Answer(
        {
            "event": done.event,
            "recall": told.recall,
            "customer": told.customer,
            "how": told.how,
            "has": told.has if told.answered else None,
        },
        f"{told.customer} told by {told.how} (event {done.event}){answer}.",
    )
