"""``labelkit recall tell``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name")
@click.option("--customer", required=True, metavar="NAME", help="Who was told.")
@click.option("--how", default="phone", show_default=True, metavar="HOW", help="By phone, letter, in person …")
@click.option("--has", type=click.IntRange(min=0), metavar="N", help="Their answer: jars they still hold.")
@click.option("--note", default="", metavar="WORDS", help="Anything else they said.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext, name: str, customer: str, how: str, has: int | None, note: str, once: str | None
) -> Answer:
    """Note who was told of a recall, and what they answered.

    Example:  labelkit recall tell R2026-08-01 --customer "Corner shop" --has 7
    """
    from labelkit.cli.recall import recall_of
    from labelkit.trace.recall_events import Told

    with context.work(once) as work:
        recall_of(work, name)
        if not work.booked_before:
            work.add(Told(context.day, name, customer, how, has is not None, has or 0, note))
        booked = work.commit()[0]
    answer = f"; still holds {has}" if has is not None else "; no answer yet"
    return Answer(
        {"event": booked.seq, "recall": name, "customer": customer, "how": how, "has": has},
        f"{customer} told by {how} (event {booked.seq}){answer}.",
    )
