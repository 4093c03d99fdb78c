"""``labelkit pay``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import AMOUNT, once_option, year_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.measures.period import Period


@click.command()
@click.option("--customer", metavar="NAME", help="Who paid.")
@click.option("--amount", type=AMOUNT, help="How much.")
@click.option("--how", metavar="WORDS", default="", help="cash, transfer, card …")
@click.option("--for", "number", metavar="NUMBER", default="", help="The delivery it is for.")
@year_option
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    customer: str | None,
    amount: Money | None,
    how: str,
    number: str,
    period: Period | None,
    once: str | None,
) -> Answer:
    """Record a payment, or show who owes you.

    \b
    Example:  labelkit pay --customer "Corner shop" --amount 201.60 --how transfer
              labelkit pay
              labelkit pay --year 2026
    """
    from labelkit.season.deliver import Paying, balances, pay

    if bool(customer) != bool(amount):
        raise UsageUnclear("A payment needs --customer and --amount.", "labelkit pay --help")
    if customer and period:
        raise UsageUnclear("--year shows what was owed and paid; a payment is of --day.", "labelkit pay --help")
    if customer and amount:
        with context.work(once) as work:
            every = pay(work, Paying(customer, amount, how, number), context.day)
    else:
        with context.reading() as state:
            every = balances(state, period)
    rows = [
        (
            a.customer,
            *([a.carried.show(context.locale)] if period else []),
            a.delivered.show(context.locale),
            a.returned.show(context.locale),
            a.paid.show(context.locale),
            a.open.show(context.locale),
        )
        for a in every
    ]
    heads = ("customer", *(["owed before"] if period else []), "delivered", "brought back", "paid", "open")
    text = table(heads, rows, right=range(1, len(heads))) if rows else "Nothing was delivered to anybody yet."
    document = {
        "year": period and str(period),
        "customers": [
            {
                "customer": a.customer,
                "carried_in": str(a.carried.amount),
                "delivered": str(a.delivered.amount),
                "returned": str(a.returned.amount),
                "paid": str(a.paid.amount),
                "open": str(a.open.amount),
            }
            for a in every
        ],
    }
    return Answer(document, text)
