"""Tax on the cash basis: what of a payment on account is tax."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labelkit.measures import Money
from labelkit.measures.rounding import HALF_UP
from labelkit.sale.apportion import nothing
from labelkit.sale.balances import Settled
from labelkit.sale.tax import Tax

#: SI 1995/2518, regulation 57(a), and Directive 2006/112/EC, Article 65 (both read as published): the day counts on which
#: payment is received, also before the goods are supplied. What was paid too much may be no price at all: ask.
ADVANCE_ASKS = (
    "Money that customers paid in advance is taxed here when it was received, at the rate of their channel (SI 1995/2518"
    " reg. 57(a); Directive 2006/112/EC Art. 65). Ask your tax office whether this holds for you, and for what was paid too"
    " much. Check your local rules."
)


@dataclass(frozen=True, slots=True)
class TaxedPart:
    """A payment or (below nothing) a refund, as far as it is for one delivery or return, and the tax in it."""

    part: Settled
    tax: Money


def taxed_part(part: Settled, whole: Iterable[tuple[Money, Money | None]], in_advance: Tax | None = None) -> TaxedPart:
    """Return the part with its tax: of a part payment the share the tax has in the ``whole``, line by line (money, tax).

    Parts of one whole add up to its tax to the last cent. What was paid before there was anything to pay for is taxed
    ``in_advance``, see :data:`ADVANCE_ASKS`. The share: a fair and reasonable one, as HM Revenue & Customs, Notice 731, asks for (from a summary, not read).

    >>> from datetime import date
    >>> from decimal import Decimal
    >>> def usd(text): return Money.of(text, "USD")
    >>> delivery = [(usd("90.00"), usd("15.00")), (usd("10.00"), None)]
    >>> first = taxed_part(Settled("Corner shop", date(2026, 9, 1), usd("33.33"), usd("0"), "a delivery"), delivery)
    >>> rest = taxed_part(Settled("Corner shop", date(2026, 9, 9), usd("66.67"), usd("33.33"), "a delivery"), delivery)
    >>> first.tax.amount, rest.tax.amount
    (Decimal('5.00'), Decimal('10.00'))
    >>> before = Settled("Corner shop", date(2026, 8, 1), usd("12.00"), usd("0"))
    >>> taxed_part(before, (), Tax("included", Decimal(20))).tax.amount
    Decimal('2.00')
    """
    currency = part.amount.currency
    if part.of is None:
        return TaxedPart(part, in_advance.split(part.amount)[1] if in_advance else nothing(currency))
    lines = list(whole)
    money = sum(abs(amount.minor) for amount, _ in lines)
    tax = sum(abs(of_it.minor) for _, of_it in lines if of_it)
    if not money:
        return TaxedPart(part, nothing(currency))
    after = part.before.minor + abs(part.amount.minor)
    here = _share(tax, after, money, currency) - _share(tax, part.before.minor, money, currency)
    return TaxedPart(part, here if part.amount.minor > 0 else -here)


def _share(tax: int, paid: int, whole: int, currency: str) -> Money:
    return Money.rounded(Money(tax, currency).amount * paid / whole, currency, HALF_UP)
