"""``labelkit pay``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import CustomerHasNoDeliveries
from labelkit.season.settings import settings_of


@click.command()
@click.option("--customer", metavar="NAME", help="Who paid.")
@click.option("--amount", metavar="AMOUNT", help="How much.")
@click.option("--how", metavar="WORDS", default="", help="cash, transfer, card …")
@click.option("--for", "number", metavar="NUMBER", default="", help="The delivery it is for.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext, customer: str | None, amount: str | None, how: str, number: str, once: str | None
) -> Answer:
    """Book what a customer paid; without a customer, show who owes what.

    \b
    Example:  labelkit pay --customer "Corner shop" --amount 201.60 --how transfer
              labelkit pay
    """
    from labelkit.measures import Money
    from labelkit.sale.balances import accounts
    from labelkit.sale.stall_events import Delivery, Payment

    if bool(customer) != bool(amount):
        raise UsageUnclear("A payment needs --customer and --amount.", "labelkit pay --help")
    with context.work(once) as work:
        currency = settings_of(work).currency
        standing = [b.event for b in work.events(("deliver", "return", "pay")) if b.stands]
        if customer and not work.booked_before:
            known = sorted({e.customer for e in standing if isinstance(e, Delivery)})
            if customer not in known:
                raise CustomerHasNoDeliveries(customer, ", ".join(known) or "nobody yet")
            paid = Payment(context.day, customer, Money.read(amount, currency, context.locale), how, number)
            work.add(paid)
            work.commit()
            standing.append(paid)
    every = accounts(standing, currency)
    rows = [
        (
            a.customer,
            a.delivered.show(context.locale),
            a.returned.show(context.locale),
            a.paid.show(context.locale),
            a.open.show(context.locale),
        )
        for a in every
    ]
    heads = ("customer", "delivered", "brought back", "paid", "open")
    text = table(heads, rows, right=range(1, 5)) if rows else "Nothing was delivered to anybody yet."
    document = {
        "customers": [
            {
                "customer": a.customer,
                "delivered": str(a.delivered.amount),
                "returned": str(a.returned.amount),
                "paid": str(a.paid.amount),
                "open": str(a.open.amount),
            }
            for a in every
        ]
    }
    return Answer(document, text)
