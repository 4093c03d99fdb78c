"""``labelkit receive``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import AMOUNT, MASS, PERCENT, SHARE, VOLUME, because_option, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.weigh import as_document, listing

if TYPE_CHECKING:
    from decimal import Decimal

    from labelkit.measures import Money


@click.command()
@click.option("--bucket", metavar="ID", required=True, help="Your name for the bucket it is in, for example R1.")
@click.option("--supplier", metavar="NAME", default="", help="Who supplied it.")
@click.option("--their-lot", metavar="CODE", default="", help="The supplier's lot code.")
@click.option("--net", type=MASS, help="The honey alone, as you weighed it.")
@click.option("--gross", type=MASS, help="The full bucket on the scale, with --tare.")
@click.option("--tare", type=MASS, help="The empty bucket with its lid.")
@click.option("--division", type=MASS, help="The step your scale counts in, for example 20 g.")
@click.option("--container", "container_ml", type=VOLUME, help="What the bucket holds, for example 5 gal.")
@click.option("--origin", type=SHARE, multiple=True, help="A country and its percent: US=100; repeat for each country.")
@click.option("--moisture", type=PERCENT, help="The moisture, if you measured it, or with --moisture-stated.")
@click.option("--moisture-stated", is_flag=True, help="The moisture is what their papers state, not your own reading.")
@click.option("--delivery-note", "number", metavar="NUMBER", default="", help="The number of their delivery note.")
@click.option("--harvest", metavar="WORDS", default="", help="The harvest in the supplier's words: 'August 2026'.")
@click.option("--plant", metavar="NAME", default="", help="The plant source, if their papers state it.")
@click.option(
    "--states",
    type=click.Choice(["raw", "unfiltered", "organic", "local"]),
    multiple=True,
    help="What their papers state of it; may be repeated.",
)
@click.option("--price", "paid", type=AMOUNT, help="What you paid for all of it.")
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    once: str | None,
    supplier: str,
    their_lot: str,
    origin: tuple[tuple[str, Decimal], ...],
    number: str,
    harvest: str,
    states: tuple[str, ...],
    paid: Money | None,
    moisture_stated: bool,
    **weighed: Any,
) -> Answer:
    """Record honey you bought in.

    With its supplier, their lot and its origin.

    \b
    Example:  labelkit receive --bucket R1 --supplier "Brook apiary" --their-lot K7
                  --net "55 lb" --origin US=100 --delivery-note 214 --price 180
    """
    from labelkit.lots.intake import Intake, Receipt
    from labelkit.lots.received import OriginShare
    from labelkit.season.receive import receipt_read, receive

    shares = tuple(OriginShare(country, percent) for country, percent in origin)
    asked = Receipt(Intake(**weighed), supplier, their_lot, shares, number, harvest, states, paid, moisture_stated)
    receipt_read(asked, context.day, context.reader)
    with context.work(once) as work:
        bucket = receive(work, asked, context.day, context.reader)
    return Answer({"buckets": [as_document(bucket)]}, listing([bucket], context.reader))
