"""The season's money as a bookkeeper takes it: day, document, account, amount, tax, customer.

Each account adds up to a figure of the result: income to what buyers paid or owe, fees, cash differences, honey bought
in. Payments stand in two accounts that cancel out, because a payment changes what is owed and no income.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from labelkit.measures import Money
from labelkit.sale.account_events import Payment, Refund
from labelkit.sale.result import Entry
from labelkit.sale.year_report import Year

INCOME, FEES, DIFFERENCES, BOUGHT = "income from honey", "stall fees", "cash differences", "honey bought in"
RECEIVED, RECEIVABLE = "payments received", "owed by customers"
_ACCOUNTS = {"stall fee": FEES, "cash difference": DIFFERENCES}


@dataclass(frozen=True, slots=True)
class Line:
    """One line: money in above nothing, out below; ``tax`` is what of it is tax, where the season says so."""

    day: date
    document: str
    account: str
    amount: Money
    tax: Money | None = None
    customer: str = ""


def ledger(year: Year) -> tuple[Line, ...]:
    """The lines of a result, in the order of the days."""
    moved = (line for some in (year.payments, year.refunds) for each in some for line in _paid(each))
    lines = [*_income(year), *_bought(year), *moved]
    return tuple(sorted(lines, key=lambda line: line.day))


def _income(year: Year) -> Iterator[Line]:
    for entry in year.entries:
        if entry.money.minor:
            account = _ACCOUNTS.get(entry.what, INCOME)
            yield Line(entry.day, _document(entry), account, entry.money, year.tax_of(entry), entry.customer)


def _document(entry: Entry) -> str:
    """What the entry was booked as; a customer stands in a column of its own."""
    market = "" if entry.customer else entry.market
    return " ".join(part for part in (entry.what, market, entry.lot, entry.size) if part)


def _bought(year: Year) -> Iterator[Line]:
    for each in year.bought:
        if each.paid is not None:
            yield Line(each.day, f"bought {each.bucket} {each.number}".rstrip(), BOUGHT, -each.paid)


def _paid(event: Payment | Refund) -> Iterator[Line]:
    words = ("payment", event.number, event.how) if isinstance(event, Payment) else ("refund", event.how)
    amount = event.amount if isinstance(event, Payment) else -event.amount
    document = " ".join(filter(None, words))
    yield Line(event.day, document, RECEIVED, amount, None, event.customer)
    yield Line(event.day, document, RECEIVABLE, -amount, None, event.customer)
