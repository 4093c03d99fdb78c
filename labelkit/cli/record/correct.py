"""``labelkit record correct``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import (
    AMOUNT,
    BUCKET_PART,
    DAY,
    JAR_LIMIT,
    LEFT,
    MASS,
    NUMBER,
    PART_AS_IT_WAS,
    PERCENT,
    SOLD_AT,
    TALLIED,
    TEMPERATURE,
    by_size,
    once_option,
    tally_options,
)
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.measures import Mass, Money


@click.command()
@click.argument("event", type=int)
@click.option("--because", metavar="WORDS", required=True, help="Why it was wrong.")
@click.option("--net", type=MASS, help="The honey alone, as it really was.")
@click.option("--gross", type=MASS, help="The full bucket, as it really was.")
@click.option("--tare", type=MASS, help="The empty bucket, as it really was.")
@click.option("--moisture", type=PERCENT, help="The moisture, as it really was.")
@click.option("--jar", "jars", type=JAR_LIMIT, multiple=True, help="Jars of this size, as they really were.")
@click.option("--left", "--after", "left", type=LEFT, help="What was left in the bucket.")
@click.option("--removed", type=MASS, help="What was skimmed off.")
@click.option("--highest", "hottest_c", type=TEMPERATURE, help="The warmest the honey was.")
@click.option("--hours", type=NUMBER, help="For how many hours it was warm.")
@click.option("--part", "parts", type=PART_AS_IT_WAS, multiple=True, help="So much of this bucket went into the blend.")
@tally_options
@click.option("--change", type=AMOUNT, help="The change that was taken to the market.")
@click.option("--amount", type=AMOUNT, help="What was really paid, or given back.")
@click.option("--seed", type=BUCKET_PART, help="What was stirred in as seed, and how much of it.")
@click.option("--price", "prices", type=SOLD_AT, multiple=True, help="What a jar of this size, or one kg or lb, cost.")
@click.option("--customer", metavar="NAME", help="Who really bought it, got it or brought it back.")
@click.option("--day", type=DAY, help="The day it really happened.")
@once_option
@answering
def command(
    context: CommandContext,
    event: int,
    because: str,
    jars: tuple[tuple[str, int], ...],
    prices: tuple[tuple[str, Money], ...],
    parts: tuple[tuple[str, Mass | None], ...],
    seed: tuple[str, Mass | None] | None,
    once: str | None,
    **changed: Any,
) -> Answer:
    """Correct or strike an event.

    Takes its number, and books what is right in its place. Both stay visible.

    What was booked on it since stays, with its lot codes, wherever the balance still closes. Without values the event is
    only struck.

    \b
    Example:  labelkit record correct 3 --because "30 typed for 20" --net "20 lb"
              labelkit record correct 12 --because "never happened"
    """
    from labelkit.season.changes import Changes
    from labelkit.season.put_right import put_right

    paid = by_size(prices, "--price")
    rate = paid.pop("", None)
    name, mass = seed or (None, None)
    changed |= {way: by_size(changed[way], f"--{way}") for way in TALLIED}
    changed |= {"jars": by_size(jars, "--jar"), "prices": paid, "parts": by_size(parts, "--part")}
    changes = Changes(**changed, rate=rate, seed=name, seed_mass=mass)
    with context.work(once) as work:
        done = put_right(work, event, because, changes, context.day)
    document = {
        "event": done.correction,
        "corrects": event,
        "because": because,
        "struck": event,
        "booked": done.booked,
        "runs": [{"struck": struck, "booked": booked, "lot": lot} for struck, booked, lot in done.runs],
        "steps": [{"struck": struck, "booked": booked} for struck, booked in done.steps],
    }
    if done.booked is None:
        text = f"Event {event} is struck by event {done.correction}: {because}.\nBook what is right now; both stay in the record."
        return Answer(document, text)
    lines = [
        f"Event {event} is struck, and event {done.booked} stands instead: {done.event.describe(context.reader)}.",
        *(
            f"The run of lot {lot} is booked again as event {booked}; its jars keep their code."
            for _, booked, lot in done.runs
        ),
        *(
            f"What happened to the honey later, event {struck}, follows as event {booked}."
            for struck, booked in done.steps
        ),
    ]
    return Answer(document, "\n".join(lines))
