"""Tax on the price: none, included, or added, as the producer states it; never assumed."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.measures import Money
from labelkit.measures.rounding import HALF_UP

WAYS = ("none", "included", "added")


@dataclass(frozen=True, slots=True)
class Tax:
    """How tax stands to the price on the card. ``percent`` is of the price without tax."""

    how: str = "none"
    percent: Decimal = Decimal(0)

    @classmethod
    def of_setting(cls, kept: str) -> Tax:
        """From the text the season keeps, which has plain digits.

        >>> Tax.of_setting("included 7 %"), Tax.of_setting("none")
        (Tax(how='included', percent=Decimal('7')), Tax(how='none', percent=Decimal('0')))
        """
        how, _, rate = kept.partition(" ")
        return cls(how, Decimal(rate.strip(" %") or 0))

    @property
    def factor(self) -> Decimal:
        """The price with tax over the price without."""
        return 1 + self.percent / 100

    def net_of(self, price: Money) -> Decimal:
        """What is left of a shown price once the tax in it is set aside; exact."""
        return price.amount / self.factor if self.how == "included" else price.amount

    def paid_for(self, price: Money) -> Money:
        """What the buyer pays for a shown price, tax and all, half up to the minor unit.

        >>> Tax("added", Decimal("5.3")).paid_for(Money.of("12.00", "USD")).amount
        Decimal('12.64')
        """
        if self.how != "added":
            return price
        return Money.rounded(price.amount * self.factor, price.currency, HALF_UP)

    def split(self, paid: Money) -> tuple[Money, Money]:
        """A sum that was paid, as what is the producer's and what is tax; the two are the whole.

        >>> [part.amount for part in Tax("included", Decimal(7)).split(Money.of("8.50", "EUR"))]
        [Decimal('7.94'), Decimal('0.56')]
        """
        own = Money.rounded(paid.amount / self.factor, paid.currency, HALF_UP)
        return own, paid - own

    @property
    def words(self) -> str:
        """For the reader."""
        return "no tax" if self.how == "none" else f"tax of {self.percent.normalize():f} % {self.how}"


@dataclass(frozen=True, slots=True)
class Taxes:
    """How tax stood to the prices from which day on, the earliest day first; a new rate changes nothing that was sold before.

    HM Revenue & Customs, VAT guide (Notice 700), 30.7: the rate in force at the tax point is the one that counts
    (from memory, not read at the source).

    >>> taxes = Taxes(((date(2026, 1, 1), Tax("included", Decimal(7))), (date(2027, 1, 1), Tax("included", Decimal(9)))))
    >>> [taxes.on(day).percent for day in (date(2026, 12, 31), date(2027, 1, 1), date(2025, 5, 1))]
    [Decimal('7'), Decimal('9'), Decimal('7')]
    """

    dated: tuple[tuple[date, Tax], ...] = ()

    def on(self, day: date) -> Tax | None:
        """The tax of a day; before the first it is the first, and nothing where nobody ever said."""
        if not self.dated:
            return None
        return self.dated[max(bisect_right(self.dated, day, key=lambda each: each[0]) - 1, 0)][1]


NOT_SAID = Taxes()
