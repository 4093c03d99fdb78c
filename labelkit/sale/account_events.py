"""What is on account: deliveries to businesses, what they pay, what they get back, and reminders."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.measures import Money
from labelkit.sale.events import SaleLine


@dataclass(frozen=True, slots=True)
class Delivery(Event):
    """Jars delivered to a business that sells or uses them on; owed until paid."""

    kind: ClassVar[str] = "deliver"
    title: ClassVar[str] = "delivered"
    preposition: ClassVar[str] = "to"
    day: date
    number: str
    customer: str
    lines: tuple[SaleLine, ...]
    address: tuple[str, ...] = ()
    carrier: str = ""  # who took them there; empty: the producer
    consignor: str = ""  # who owns the jars while they go out, where that is not the producer
    consignee: str = ""  # who owns them on arrival, where that is not the customer
    to: str = "shop"
    because: str = ""  # said by a person where the jars were asked about
    due: date | None = None  # the day by which it is to be paid, where one was agreed

    def movements(self) -> tuple[Movement, ...]:
        """Out of stock, sold."""
        return tuple(m for line in self.lines for m in line.moved(Account.JARS, Account.SOLD))

    @property
    def owed(self) -> Money:
        """What the delivery comes to."""
        first, *rest = [line.amount for line in self.lines]
        for amount in rest:
            first = first + amount
        return first


@dataclass(frozen=True, slots=True)
class Payment(Event):
    """Money a customer paid."""

    kind: ClassVar[str] = "pay"
    title: ClassVar[str] = "paid"
    voidable: ClassVar[bool] = True
    day: date
    customer: str
    amount: Money
    how: str = ""
    number: str = ""  # the delivery it is for, where it is for one

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.customer} {self.amount.show(locale)}"


@dataclass(frozen=True, slots=True)
class Refund(Event):
    """Money given back to a customer: for jars that came back, or paid too much before."""

    kind: ClassVar[str] = "refund"
    title: ClassVar[str] = "refunded"
    voidable: ClassVar[bool] = True
    day: date
    customer: str
    amount: Money
    how: str = ""
    because: str = ""  # said by a person where more was given back than the customer's credit

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.customer} {self.amount.show(locale)}" + (f": {self.because}" if self.because else "")


@dataclass(frozen=True, slots=True)
class Reminder(Event):
    """A customer reminded in writing of deliveries that are not paid."""

    kind: ClassVar[str] = "remind"
    title: ClassVar[str] = "reminded"
    voidable: ClassVar[bool] = True
    day: date
    customer: str
    numbers: tuple[str, ...]  # of the deliveries
    amount: Money  # what of them was open
    pay_by: date

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.customer} {self.amount.show(locale)}, {', '.join(self.numbers)}"
