"""Owed and paid, customer by customer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from labelkit.measures import Money
from labelkit.sale.apportion import nothing, together
from labelkit.sale.events import Return
from labelkit.sale.stall_events import Delivery, Payment


@dataclass(frozen=True, slots=True)
class CustomerAccount:
    """What one customer was delivered, brought back, and paid."""

    customer: str
    delivered: Money
    returned: Money
    paid: Money

    @property
    def open(self) -> Money:
        """What is still owed; below nothing where too much was paid."""
        return self.delivered - self.returned - self.paid


def accounts(events: Iterable[Any], currency: str) -> tuple[CustomerAccount, ...]:
    """The account of every customer something was delivered to, by name.

    >>> from datetime import date
    >>> from labelkit.measures import Mass
    >>> from labelkit.sale.events import SaleLine
    >>> line = SaleLine("L26195AXR", "pound", 12, Mass(453592), Money.of("8.40", "USD"))
    >>> sent = Delivery(date(2026, 8, 1), "D2026-001", "Corner shop", (line,))
    >>> account, = accounts([sent, Payment(date(2026, 8, 9), "Corner shop", Money.of("60.00", "USD"))], "USD")
    >>> account.open.amount
    Decimal('40.80')
    """
    every = tuple(events)
    names = sorted({e.customer for e in every if isinstance(e, Delivery)})
    return tuple(
        CustomerAccount(
            name,
            together((e.owed for e in every if isinstance(e, Delivery) and e.customer == name), currency),
            together((_worth(e, currency) for e in every if isinstance(e, Return) and e.customer == name), currency),
            together((e.amount for e in every if isinstance(e, Payment) and e.customer == name), currency),
        )
        for name in names
    )


def _worth(back: Return, currency: str) -> Money:
    return (
        together((line.count * line.price for line in back.lines if line.price), currency)
        if back.lines
        else nothing(currency)
    )
