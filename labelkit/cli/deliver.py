"""``labelkit deliver``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import commit_with, message_beside, no_message, write_whole
from labelkit.cli._options import (
    ADDRESS,
    JAR_AMOUNT,
    JAR_COUNT,
    LIMIT,
    because_option,
    by_size,
    once_option,
    paper_options,
)
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import phone_missing, table

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.rules.market import Market
    from labelkit.season.deliver import Delivered


@click.command()
@click.option("--customer", metavar="NAME", required=True, help="The business that receives the jars.")
@click.option("--jar", "jars", type=JAR_COUNT, multiple=True, required=True, help="How many of which size.")
@click.option("--lot", metavar="CODE", help="The lot of the jars; the oldest in stock unless given.")
@click.option(
    "--price", "prices", type=JAR_AMOUNT, multiple=True, help="What this customer pays for a jar; remembered."
)
@click.option("--address", type=ADDRESS, help="Where it is; remembered.")
@click.option("--phone", metavar="NUMBER", default="", help="Its phone number; a recall calls it. Remembered.")
@click.option("--carrier", metavar="NAME", default="", help="Who takes it there, if not you.")
@click.option("--to", default="shop", show_default=True, metavar="CHANNEL", help="shop, restaurant, wholesale …")
@click.option("--number", metavar="NUMBER", help="The note's number; the next of the year unless given.")
@click.option("--out", metavar="FILE.pdf", help="Where the delivery note goes; named after its number unless given.")
@click.option("--no-prices", is_flag=True, help="A note without prices.")
@click.option("--days-to-pay", type=LIMIT, help="Days until it is to be paid; remembered for this customer.")
@because_option
@once_option
@paper_options
@answering
def command(
    context: CommandContext,
    customer: str,
    jars: tuple[tuple[str, int], ...],
    lot: str | None,
    prices: tuple[tuple[str, Money], ...],
    address: tuple[str, ...] | None,
    phone: str,
    carrier: str,
    to: str,
    number: str | None,
    out: str | None,
    no_prices: bool,
    days_to_pay: int | None,
    because: str,
    once: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Record a delivery and print the delivery note.

    The note carries the lots. Beside it lies a message to the customer (.eml) to look at and send; labelkit sends nothing.

    \b
    Example:  labelkit deliver --customer "Corner shop" --address "1 Made-up Row; Sampleton"
                  --jar "one pound=24" --price "one pound=8.40"
    """
    from labelkit.season.deliver import JarsForCustomer, deliver, note_paper
    from labelkit.season.letters import delivery_letter, language_for
    from labelkit.season.papers import paper_words

    asked = JarsForCustomer(
        customer,
        by_size(jars, "--jar"),
        lot,
        by_size(prices, "--price"),
        address or (),
        carrier,
        to,
        number,
        phone,
        because,
        days_to_pay,
    )
    with context.work(once) as work:
        delivered = deliver(work, asked, context.day, context.reader)
        delivery, season = delivered.delivery, delivered.season
        settings = work.settings()
        words, locale = paper_words(language_for(settings, customer, language), context.locale)
        made = note_paper(delivery, season, words, locale, page=page, prices=not no_prices)
        # The note is written first: a delivery without a note would be repeated, and then stand twice.
        written = write_whole(out or f"delivery-{delivery.number}.pdf", made, private=True)
        message = message_beside(written, delivery_letter(settings, delivery, made, words, locale), context.now)
        commit_with(work, written, *message)
    return _answer(delivered, [str(written), *map(str, message)], context.locale, _law(season.places(context.day)))


def _law(markets: list[Market]) -> list[str]:
    """Where the note's fields are asked for, what the markets want of whoever sells to shops, and for how long."""
    from labelkit.rules.findings import CHECK_LOCAL, law_line
    from labelkit.sale.delivery import note_laws
    from labelkit.sale.selling_rules import duties, kept_for

    said = [f"The note holds what is asked for by {law_line(law.cite, law.sure)}." for law in note_laws(markets)]
    return [*said, *duties(markets, {"sells_to": ["shop"]}, "records", asking=False), *kept_for(markets), CHECK_LOCAL]


def _answer(delivered: Delivered, written: list[str], locale: str, law: list[str]) -> Answer:
    event = delivered.delivery
    rows = [(x.size, x.lot, str(x.count), x.price.show(locale), x.amount.show(locale)) for x in event.lines if x.price]
    due = f", due {event.due}" if event.due else ""
    text = [
        f"Delivery {event.number} to {event.customer}, {event.day}",
        "",
        table(("size", "lot", "jars", "price", "amount"), rows, right=[2, 3, 4]),
        "",
        f'Owed: {event.owed.show(locale)}{due}. When it is paid: labelkit pay --customer "{event.customer}" --amount …',
        *(f"Written: {name}" for name in written),
        *([no_message(event.customer)] if len(written) == 1 else []),
        *([phone_missing(event.customer).strip()] if delivered.phone_missing else []),
        "",
        *law,
    ]
    document = {
        "number": event.number,
        "customer": event.customer,
        "day": event.day,
        "owed": str(event.owed.amount),
        "due": event.due,
        "phone_missing": delivered.phone_missing,
        "file": written[0],
        "message": written[1] if len(written) > 1 else None,
        "lines": [
            {"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount)}
            for x in event.lines
            if x.price
        ],
    }
    return Answer(document, "\n".join(text))
