"""``labelkit record correct``."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import click

from labelkit.cli._options import DAY, JAR_LIMIT, MASS, PERCENT, by_size, once_option
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.measures import Mass


@click.command()
@click.argument("event", type=int)
@click.option("--because", metavar="WORDS", required=True, help="Why it was wrong.")
@click.option("--net", type=MASS, help="The honey alone, as it really was.")
@click.option("--gross", type=MASS, help="The full bucket, as it really was.")
@click.option("--tare", type=MASS, help="The empty bucket, as it really was.")
@click.option("--moisture", type=PERCENT, help="The moisture, as it really was.")
@click.option("--jar", "jars", type=JAR_LIMIT, multiple=True, help="Jars of this size, as they really were.")
@click.option("--left", type=MASS, help="What was left in the bucket.")
@click.option("--day", "on", type=DAY, help="The day it really happened.")
@once_option
@answering
def command(
    context: CommandContext,
    event: int,
    because: str,
    net: Mass | None,
    gross: Mass | None,
    tare: Mass | None,
    moisture: Decimal | None,
    jars: tuple[tuple[str, int], ...],
    left: Mass | None,
    on: date | None,
    once: str | None,
) -> Answer:
    """Correct or strike an event.

    Takes its number, and books what is right in its place. Both stay visible.

    What was booked on it since stays, with its lot codes, wherever the balance still closes. Without values the event is
    only struck.

    \b
    Example:  labelkit record correct 3 --because "30 typed for 20" --net "20 lb"
              labelkit record correct 12 --because "never happened"
    """
    from labelkit.season.correct import void
    from labelkit.season.put_right import Changes, put_right

    changes = Changes(net, gross, tare, moisture, by_size(jars, "--jar"), left, on)
    if not changes.given:
        with context.work(once) as work:
            voided = void(work, event, because, context.day)
        text = f"Event {event} is struck by event {voided.event}: {because}.\nBook what is right now; both stay in the record."
        return Answer(
            {
                "event": voided.event,
                "corrects": event,
                "because": because,
                "struck": event,
                "booked": None,
                "runs": [],
                "steps": [],
            },
            text,
        )
    with context.work(once) as work:
        done = put_right(work, event, because, changes, context.day)
    lines = [
        f"Event {event} is struck, and event {done.booked} stands instead: {done.event.describe(context.locale)}.",
        *(
            f"The run of lot {lot} is booked again as event {booked}; its jars keep their code."
            for _, booked, lot in done.runs
        ),
        *(
            f"What happened in the bucket later, event {struck}, follows as event {booked}."
            for struck, booked in done.steps
        ),
    ]
    document = {
        "event": done.booked - 1,
        "corrects": event,
        "because": because,
        "struck": event,
        "booked": done.booked,
        "runs": [{"struck": struck, "booked": booked, "lot": lot} for struck, booked, lot in done.runs],
        "steps": [{"struck": struck, "booked": booked} for struck, booked in done.steps],
    }
    return Answer(document, "\n".join(lines))
