"""``labelkit pay``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import AMOUNT, because_option, once_option, year_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from labelkit.measures import Money
    from labelkit.measures.period import Period
    from labelkit.sale.balances import CustomerAccount, DeliveryAccount


@click.command()
@click.option("--customer", metavar="NAME", help="Who paid, or got money back.")
@click.option("--amount", type=AMOUNT, help="How much they paid.")
@click.option("--refund", "back", type=AMOUNT, help="Instead: how much you gave back.")
@click.option("--how", metavar="WORDS", default="", help="cash, transfer, card …")
@click.option(
    "--for", "number", metavar="NUMBER", default="", help="The delivery it is for; the earliest open one unless given."
)
@year_option
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    customer: str | None,
    amount: Money | None,
    back: Money | None,
    how: str,
    number: str,
    period: Period | None,
    because: str,
    once: str | None,
) -> Answer:
    """Record a payment or a refund, or show who owes you.

    Jars that came back lower what a customer owes; a refund is the money you give back for them.

    \b
    Example:  labelkit pay --customer "Corner shop" --amount 201.60 --how transfer
              labelkit pay --customer "Corner shop" --refund 8.40
              labelkit pay
              labelkit pay --year 2026
    """
    from labelkit.season.account import GivingBack, Paying, balances, pay, refund

    if bool(customer) != bool(amount or back) or (amount and back):
        raise UsageUnclear("A payment needs --customer and --amount, a refund --customer and --refund.", HELP)
    if back and number:
        raise UsageUnclear("A refund is not for one delivery; leave out --for.", HELP)
    if customer and period:
        raise UsageUnclear("--year shows what was owed and paid; a payment is of --day.", HELP)
    if customer:
        with context.work(once) as work:
            if back:
                every = refund(work, GivingBack(customer, back, how, because), context.day)
            elif amount:
                every = pay(work, Paying(customer, amount, how, number), context.day)
    else:
        with context.reading() as state:
            every = balances(state, period)
    document = {"year": period and str(period), "customers": [_document(each, context.day) for each in every]}
    return Answer(document, _text(every, period, context.day, context.locale))


HELP = "labelkit pay --help"


def _document(one: CustomerAccount, day: date) -> dict[str, Any]:
    sums = ("delivered", "returned", "paid", "refunded", "open", "credit")
    return {
        "customer": one.customer,
        "carried_in": str(one.carried.amount),
        **{name: str(getattr(one, name).amount) for name in sums},
        "deliveries": [_delivery(each, day) for each in one.deliveries],
    }


def _delivery(one: DeliveryAccount, day: date) -> dict[str, Any]:
    return {
        "number": one.delivery.number,
        "day": one.delivery.day,
        "due": one.delivery.due,
        "owed": str(one.delivery.owed.amount),
        "credited": str(one.credited.amount),
        "paid": str(one.paid.amount),
        "open": str(one.open.amount),
        "late_days": one.late(day),
    }


def _text(every: Iterable[CustomerAccount], period: Period | None, day: date, locale: str) -> str:
    sums = (*(["carried"] if period else []), "delivered", "returned", "paid", "refunded", "open")
    rows = [(one.customer, *(getattr(one, name).show(locale) for name in sums)) for one in every]
    if not rows:
        return "Nothing was delivered to anybody yet."
    said = {"carried": "owed before", "returned": "brought back"}
    heads = ("customer", *(said.get(name, name) for name in sums))
    text = [table(heads, rows, right=range(1, len(heads)))]
    open_ones = [
        (
            one.customer,
            each.delivery.number,
            each.delivery.day.isoformat(),
            each.delivery.due.isoformat() if each.delivery.due else "not said",
            each.open.show(locale),
            f"{late} days" if (late := each.late(day)) else "",
        )
        for one in every
        for each in one.deliveries
        if each.open.minor > 0
    ]
    if open_ones:
        columns = ("still open", "delivery", "of", "due", "open", "late")
        text += ["", table(columns, open_ones, right=(4, 5))]
    text += [f"{one.customer} has a credit of {one.credit.show(locale)}." for one in every if one.credit.minor]
    return "\n".join(text)
