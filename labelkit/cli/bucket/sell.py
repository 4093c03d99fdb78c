"""``labelkit bucket sell``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import commit_with, write_whole
from labelkit.cli._options import ADDRESS, AMOUNT, MASS, paper_options
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import bucket_step, document, said, weight_options

if TYPE_CHECKING:
    from labelkit.measures import Mass, Money


@bucket_step
@click.option("--to", "customer", metavar="NAME", help="Who buys it.")
@click.option("--address", type=ADDRESS, help="The buyer's address, for the declaration.")
@click.option("--price", "rate", type=AMOUNT, help="What one kilogram or pound costs.")
@click.option("--per", type=click.Choice(["kg", "lb"]), default="kg", show_default=True, help="The unit of the price.")
@click.option("--part", type=MASS, help="How much of it; all of it unless given.")
@weight_options
@click.option("--out", metavar="FILE.pdf", help="The declaration to the buyer; named after the bucket unless given.")
@paper_options
def command(
    context: CommandContext,
    bucket: str,
    customer: str | None,
    address: tuple[str, ...] | None,
    rate: Money | None,
    per: str,
    part: Mass | None,
    out: str | None,
    page: str | None,
    language: str | None,
    because: str,
    once: str | None,
    **weights: Any,
) -> Answer:
    """Record a bucket sold in bulk.

    Prints the declaration the buyer keeps: what it is, net weight, moisture, lot, origin.

    \b
    Example:  labelkit bucket sell B1 --to "Sample packers" --price 4.20 --per lb
                  --gross "61 lb 2 oz" --tare "2 lb 7 oz"
    """
    from labelkit.lots.bucket_life import SOLD
    from labelkit.measures import show_both
    from labelkit.season.measure import Weighed
    from labelkit.season.take_out import TakingOut, declaration, take_out

    asked = TakingOut(bucket, SOLD, part, Weighed(**weights), customer, address or (), rate, per, because)
    with context.work(once) as work:
        done = take_out(work, asked, context.day, context.reader)
        made = declaration(work, done, language, context.locale, page)
        # The paper is written first: a sale without one would be repeated, and then stand twice.
        written = write_whole(out or f"bucket-{bucket}.pdf", made, private=True)
        commit_with(work, written)
    price = done.step.price.show(context.locale) if done.step.price else "no price was given"
    return Answer(
        document(done)
        | {
            "customer": done.step.customer,
            "net_g": done.step.mass.g,
            "amount": str(done.step.price.amount) if done.step.price else None,
            "file": str(written),
        },
        said(
            done,
            context.reader,
            f"{show_both(done.step.mass, context.reader)}: {price}.",
            f"Written: {written}",
            "A buyer who packs it may need more from you. Check your local rules.",
        ),
    )
