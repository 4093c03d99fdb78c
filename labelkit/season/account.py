"""Accounts: what customers owe and pay, what they get back, and whom to remind."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from labelkit.errors import unless_said
from labelkit.errors.sale import CustomerHasNoDeliveries, NothingToRemind, RefundAboveCredit
from labelkit.measures import Money
from labelkit.sale.account_events import Delivery, Payment, Refund, Reminder
from labelkit.sale.apportion import together
from labelkit.sale.balances import CustomerAccount, DeliveryAccount, accounts
from labelkit.season.once import booked_once
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

_KINDS = (Delivery.kind, "return", Payment.kind, Refund.kind)
#: Days a reminder gives to pay, where nothing else is said: common practice, no source.
USUAL_GRACE = 14


@dataclass(frozen=True, slots=True)
class Paying:
    """What a customer paid, how, and for which delivery."""

    customer: str
    amount: Money
    how: str = ""
    number: str = ""


@dataclass(frozen=True, slots=True)
class GivingBack:
    """Money given back to a customer; ``because`` where it is more than the credit."""

    customer: str
    amount: Money
    how: str = ""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Reminded:
    """The reminder as it was booked, with the deliveries it is about as they stood."""

    reminder: Reminder
    deliveries: tuple[DeliveryAccount, ...]
    address: tuple[str, ...]


def balances(state: Reading, period: Period | None = None) -> tuple[CustomerAccount, ...]:
    """What every customer got, brought back, paid, got back, and still owes; in a year, with what was owed before it."""
    then = state.as_of(period.last if period else None)
    standing = (each.event for each in then.events(_KINDS) if each.stands)
    season = settings_of(state)
    return accounts(standing, season.currency, period, days_to_pay=season.days_to_pay)


def pay(work: Work, asked: Paying, day: date) -> tuple[CustomerAccount, ...]:
    """Book what a customer paid; every customer's balance then.

    Raises :class:`~labelkit.errors.sale.CustomerHasNoDeliveries`.
    """
    if not work.booked_before:
        account = account_of(work, asked.customer)
        known = [each.delivery.number for each in account.deliveries]
        if asked.number and asked.number not in known:
            raise CustomerHasNoDeliveries(f"{asked.customer}, {asked.number}", ", ".join(known))
        work.add(Payment(day, asked.customer, asked.amount, asked.how, asked.number))
    return balances(work)


def refund(work: Work, asked: GivingBack, day: date) -> tuple[CustomerAccount, ...]:
    """Book money given back to a customer; every customer's balance then.

    Raises :class:`~labelkit.errors.sale.CustomerHasNoDeliveries`, and
    :class:`~labelkit.errors.sale.RefundAboveCredit` unless a person says why.
    """
    if not work.booked_before:
        credit = account_of(work, asked.customer).credit
        if asked.amount.minor > credit.minor:
            unless_said(asked.because, RefundAboveCredit(asked.customer, str(asked.amount), str(credit)))
        work.add(Refund(day, asked.customer, asked.amount, asked.how, asked.because.strip()))
    return balances(work)


def remind(work: Work, customer: str, day: date, *, days: int = USUAL_GRACE) -> Reminded:
    """Book a written reminder of everything a customer is late with, to be paid within so many days.

    Raises :class:`~labelkit.errors.sale.CustomerHasNoDeliveries` and :class:`~labelkit.errors.sale.NothingToRemind`.
    """
    account = account_of(work, customer)
    if before := booked_once(work, Reminder.kind):
        return _reminded(before.event, account)
    late = account.late(day)
    if not late:
        due = min((each.late_from for each in account.deliveries if each.open.minor > 0), default=None)
        raise NothingToRemind(customer, due.isoformat() if due and account.open.minor > 0 else "")
    numbers = tuple(each.delivery.number for each in late)
    amount = together((each.open for each in late), account.open.currency)
    reminder = Reminder(day, customer, numbers, amount, day + timedelta(days=days))
    work.add(reminder)
    return _reminded(reminder, account)


def last_reminder(state: Reading, customer: str) -> Reminded | None:
    """The last reminder a customer got, with the deliveries as they stood on its day; nothing where there is none."""
    sent = [each.event for each in state.events((Reminder.kind,)) if each.stands and each.event.customer == customer]
    if not sent:
        return None
    account = account_of(state.as_of(sent[-1].day), customer)
    return _reminded(sent[-1], account)


def _reminded(reminder: Reminder, account: CustomerAccount) -> Reminded:
    address = next((a for each in reversed(account.deliveries) if (a := each.delivery.address)), ())
    return Reminded(reminder, tuple(e for e in account.deliveries if e.delivery.number in reminder.numbers), address)


def account_of(state: Reading, customer: str) -> CustomerAccount:
    """One customer's account. Raises :class:`~labelkit.errors.sale.CustomerHasNoDeliveries`."""
    every = {each.customer: each for each in balances(state)}
    if customer not in every:
        raise CustomerHasNoDeliveries(customer, ", ".join(every) or "nobody yet")
    return every[customer]
