"""Owed and paid, customer by customer and delivery by delivery: part payments, credits, refunds, and what is late."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from labelkit.measures import Money
from labelkit.measures.period import Period
from labelkit.sale.account_events import Delivery, Payment, Refund
from labelkit.sale.apportion import nothing, together
from labelkit.sale.events import Return


def usual_days(day: date) -> int:
    """Days after a delivery until its payment is late, where none were agreed and no law was read: house style, no source."""
    return 30


@dataclass(frozen=True, slots=True)
class Settled:
    """So much of a customer's delivery paid on a day, or (below nothing) of jars that came back refunded; ``before`` was paid of it.

    ``of`` is the delivery or the return; nothing where more was paid than is owed.
    """

    customer: str
    day: date
    amount: Money
    before: Money
    of: Delivery | Return | None = None


@dataclass(slots=True)
class DeliveryAccount:
    """One delivery: what was set against it (jars that came back, a credit from before) and what was paid."""

    delivery: Delivery
    credited: Money
    paid: Money
    due: date  # as agreed, else by law or usage

    @property
    def open(self) -> Money:
        """What of it is still owed."""
        return self.delivery.owed - self.credited - self.paid

    @property
    def late_from(self) -> date:
        """The first day on which it is late."""
        return self.due + timedelta(days=1)

    def late(self, day: date) -> int:
        """For how many days it has been late; 0 where nothing is owed or it is not due yet."""
        return max(0, (day - self.late_from).days + 1) if self.open.minor > 0 else 0


@dataclass(frozen=True, slots=True)
class CustomerAccount:
    """What one customer was delivered, brought back, paid and got back, and what was owed before that.

    ``deliveries`` say what of each is still owed. A payment goes to the delivery it names, else to the earliest that is
    owed; so does what came back. In that order UK law attributes a payment too: SI 1991/371, regulation 7 (read in an
    excerpt).
    """

    customer: str
    delivered: Money
    returned: Money
    paid: Money
    refunded: Money
    carried: Money
    deliveries: tuple[DeliveryAccount, ...] = ()
    settled: tuple[Settled, ...] = field(default=(), repr=False)

    @property
    def open(self) -> Money:
        """What is still owed; below nothing where the customer has a credit."""
        return self.carried + self.delivered - self.returned - self.paid + self.refunded

    @property
    def credit(self) -> Money:
        """What the customer may take back or have set against the next delivery."""
        return Money(max(0, -self.open.minor), self.open.currency)

    def late(self, day: date) -> tuple[DeliveryAccount, ...]:
        """The deliveries that are late on a day, the earliest first."""
        return tuple(each for each in self.deliveries if each.late(day))


def accounts(
    events: Iterable[Any],
    currency: str,
    period: Period | None = None,
    *,
    days_to_pay: Callable[[date], int] = usual_days,
) -> tuple[CustomerAccount, ...]:
    """The account of every customer something was delivered to, by name; ``period`` carries in what was owed before it.

    ``days_to_pay`` says for a delivery of a day how many there are where none were agreed. The events are those up to the last evening of the period.

    >>> from labelkit.measures import Mass
    >>> from labelkit.sale.events import SaleLine
    >>> line = SaleLine("L26195AXR", "pound", 12, Mass(453592), Money.of("8.40", "USD"))
    >>> sent = Delivery(date(2026, 8, 1), "D2026-001", "Corner shop", (line,))
    >>> account, = accounts([sent, Payment(date(2026, 8, 9), "Corner shop", Money.of("60.00", "USD"))], "USD")
    >>> account.open.amount, account.late(date(2026, 8, 31)), account.late(date(2026, 9, 2))[0].late(date(2026, 9, 2))
    (Decimal('40.80'), (), 2)
    >>> from labelkit.measures.period import Period
    >>> after = Period(date(2026, 8, 5), date(2026, 12, 31))
    >>> account, = accounts([sent], "USD", after)
    >>> account.carried.amount, account.delivered.amount, account.open.amount
    (Decimal('100.80'), Decimal('0.00'), Decimal('100.80'))
    """
    mine: dict[str, list[Any]] = {}
    for event in events:
        if isinstance(event, Delivery | Payment | Refund | Return) and event.customer:
            mine.setdefault(event.customer, []).append(event)
    owing = sorted(name for name, story in mine.items() if any(isinstance(e, Delivery) for e in story))
    stories = ((name, sorted(mine[name], key=lambda e: e.day)) for name in owing)
    return tuple(_account(name, story, currency, period, days_to_pay) for name, story in stories)


def _account(
    name: str, story: list[Any], currency: str, period: Period | None, days_to_pay: Callable[[date], int]
) -> CustomerAccount:
    carried = _open([e for e in story if period and e.day < period.first], currency)
    delivered, returned, paid, refunded = _sums([e for e in story if not period or e.day in period], currency)
    deliveries, settled = _settle(story, currency, days_to_pay)
    # What came back or was paid before there was anything to set it against.
    rest = together((each.open for each in deliveries), currency) - _open(story, currency)
    for each in deliveries:
        part = Money(min(max(0, rest.minor), max(0, each.open.minor)), currency)
        each.credited, rest = each.credited + part, rest - part
    # Money given back beyond the credit is owed again, on what was paid last.
    for each in reversed(deliveries):
        part = Money(min(max(0, -rest.minor), each.paid.minor), currency)
        each.paid, rest = each.paid - part, rest + part
    return CustomerAccount(name, delivered, returned, paid, refunded, carried, tuple(deliveries), tuple(settled))


def _sums(story: list[Any], currency: str) -> tuple[Money, Money, Money, Money]:
    def summed(kind: type) -> Money:
        return together((_worth(e, currency) for e in story if isinstance(e, kind)), currency)

    return summed(Delivery), summed(Return), summed(Payment), summed(Refund)


def _open(story: list[Any], currency: str) -> Money:
    delivered, returned, paid, refunded = _sums(story, currency)
    return delivered - returned - paid + refunded


def _settle(
    story: list[Any], currency: str, days_to_pay: Callable[[date], int]
) -> tuple[list[DeliveryAccount], list[Settled]]:
    """What of each delivery was set off and paid, event by event, and what each payment and refund was for."""
    none = nothing(currency)
    deliveries = [
        DeliveryAccount(e, none, none, e.due or e.day + timedelta(days=days_to_pay(e.day)))
        for e in story
        if isinstance(e, Delivery)
    ]
    settled: list[Settled] = []
    for event in story:
        if isinstance(event, Return):
            _set_against(deliveries, event, _worth(event, currency))
        elif isinstance(event, Payment):
            settled += _paid(deliveries, event)
    return deliveries, [*settled, *_given_back(story, currency)]


def _worth(event: Any, currency: str) -> Money:
    if isinstance(event, Return):
        return together((line.count * line.price for line in event.lines if line.price), currency)
    return event.owed if isinstance(event, Delivery) else event.amount


def _set_against(deliveries: list[DeliveryAccount], back: Return, worth: Money) -> None:
    """What came back is taken off the delivery it came with, where it says so, then off the earliest that is owed."""
    days = {line.sold.day for line in back.lines if line.sold}
    for each in sorted(deliveries, key=lambda one: one.delivery.day not in days):
        part = Money(min(worth.minor, max(0, each.open.minor)), worth.currency)
        each.credited, worth = each.credited + part, worth - part


def _paid(deliveries: list[DeliveryAccount], payment: Payment) -> Iterable[Settled]:
    rest = payment.amount
    for each in sorted(deliveries, key=lambda one: one.delivery.number != payment.number or not payment.number):
        part = Money(min(rest.minor, max(0, each.open.minor)), rest.currency)
        if part.minor:
            yield Settled(payment.customer, payment.day, part, each.paid, each.delivery)
            each.paid, rest = each.paid + part, rest - part
    if rest.minor:
        yield Settled(payment.customer, payment.day, rest, nothing(rest.currency))


def _given_back(story: list[Any], currency: str) -> Iterable[Settled]:
    """Refunds, set against what came back, the earliest first; the rest was paid too much before."""
    back = [each for each in story if isinstance(each, Return)]
    given = [nothing(currency) for _ in back]
    for refund in (each for each in story if isinstance(each, Refund)):
        rest = refund.amount
        for n, one in enumerate(back):
            part = Money(min(rest.minor, _worth(one, currency).minor - given[n].minor), currency)
            if part.minor > 0:
                yield Settled(refund.customer, refund.day, -part, given[n], one)
                given[n], rest = given[n] + part, rest - part
        if rest.minor:
            yield Settled(refund.customer, refund.day, -rest, nothing(currency))
