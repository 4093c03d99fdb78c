"""Owed and paid, customer by customer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from labelkit.measures import Money
from labelkit.measures.period import Period
from labelkit.sale.apportion import nothing, together
from labelkit.sale.events import Return
from labelkit.sale.stall_events import Delivery, Payment


@dataclass(frozen=True, slots=True)
class CustomerAccount:
    """What one customer was delivered, brought back, and paid, and what was owed before that."""

    customer: str
    delivered: Money
    returned: Money
    paid: Money
    carried: Money

    @property
    def open(self) -> Money:
        """What is still owed; below nothing where too much was paid."""
        return self.carried + self.delivered - self.returned - self.paid


def accounts(events: Iterable[Any], currency: str, period: Period | None = None) -> tuple[CustomerAccount, ...]:
    """The account of every customer something was delivered to, by name; ``period`` carries in what was owed before it.

    The events are those up to the last evening of the period.

    >>> from datetime import date
    >>> from labelkit.measures import Mass
    >>> from labelkit.sale.events import SaleLine
    >>> line = SaleLine("L26195AXR", "pound", 12, Mass(453592), Money.of("8.40", "USD"))
    >>> sent = Delivery(date(2026, 8, 1), "D2026-001", "Corner shop", (line,))
    >>> account, = accounts([sent, Payment(date(2026, 8, 9), "Corner shop", Money.of("60.00", "USD"))], "USD")
    >>> account.open.amount
    Decimal('40.80')
    >>> from labelkit.measures.period import Period
    >>> after = Period(date(2026, 8, 5), date(2026, 12, 31))
    >>> account, = accounts([sent], "USD", after)
    >>> account.carried.amount, account.delivered.amount, account.open.amount
    (Decimal('100.80'), Decimal('0.00'), Decimal('100.80'))
    """
    every = tuple(events)
    names = sorted({e.customer for e in every if isinstance(e, Delivery)})
    before = [e for e in every if period and e.day < period.first]
    within = [e for e in every if not period or e.day in period]
    return tuple(
        _account(name, within, _account(name, before, nothing(currency)).open if before else nothing(currency))
        for name in names
    )


def _account(name: str, events: Iterable[Any], carried: Money) -> CustomerAccount:
    currency, mine = carried.currency, [e for e in events if getattr(e, "customer", None) == name]
    return CustomerAccount(
        name,
        together((e.owed for e in mine if isinstance(e, Delivery)), currency),
        together((_worth(e, currency) for e in mine if isinstance(e, Return)), currency),
        together((e.amount for e in mine if isinstance(e, Payment)), currency),
        carried,
    )


def _worth(back: Return, currency: str) -> Money:
    return (
        together((line.count * line.price for line in back.lines if line.price), currency)
        if back.lines
        else nothing(currency)
    )
