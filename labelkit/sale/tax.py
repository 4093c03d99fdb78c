"""Tax on the price: none, included, added, or another's to pay, as the producer states it; never assumed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.measures import Money
from labelkit.measures.rounding import HALF_UP

INCLUDED, ADDED, EXEMPT, REVERSE_CHARGE = "included", "added", "exempt", "reverse-charge"
WAYS = ("none", INCLUDED, ADDED, EXEMPT, REVERSE_CHARGE)
#: What nobody but a tax office can say, of the ways that set no tax aside.
_ASKS = {
    EXEMPT: "You set no tax aside as an exempt seller. Ask your tax office whether you still are, and what your papers "
    "must say. Check your local rules.",
    REVERSE_CHARGE: "You set no tax aside because the buyer accounts for it (reverse charge). Ask your tax office "
    "whether that holds for these sales, and what the invoice must say. Check your local rules.",
}
_SETTING = "tax"


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

    def __str__(self) -> str:
        """As the season keeps it.

        >>> str(Tax("added", Decimal("5.30"))), str(Tax("exempt"))
        ('added 5.3 %', 'exempt')
        """
        return f"{self.how} {self.percent.normalize():f} %" if self.how in (INCLUDED, ADDED) else self.how

    @property
    def factor(self) -> Decimal:
        """The price with tax over the price without."""
        return 1 + self.percent / 100

    def net_of(self, price: Money) -> Decimal:
        """What is left of a shown price once the tax in it is set aside; exact."""
        return price.amount / self.factor if self.how == INCLUDED else price.amount

    def paid_for(self, price: Money) -> Money:
        """What the buyer pays for a shown price, tax and all, half up to the minor unit.

        >>> Tax("added", Decimal("5.3")).paid_for(Money.of("12.00", "USD")).amount
        Decimal('12.64')
        """
        if self.how != ADDED:
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
        said = {EXEMPT: "no tax, exempt seller", REVERSE_CHARGE: "no tax, reverse charge"}
        if self.how in (INCLUDED, ADDED):
            return f"tax of {self.percent.normalize():f} % {self.how}"
        return said.get(self.how, "no tax")

    @property
    def asks(self) -> str:
        """What to ask the tax office where a way rests on a relief; nothing else."""
        return _ASKS.get(self.how, "")


@dataclass(frozen=True, slots=True)
class Rate:
    """A tax from a day on: of everything, or of one product, one channel, or one product in one channel."""

    since: date
    tax: Tax
    product: str = ""
    channel: str = ""

    @classmethod
    def of_setting(cls, since: date, value: Any) -> Rate:
        """From what the season keeps: a text for everything, a table where it is of less."""
        if isinstance(value, str):
            return cls(since, Tax.of_setting(value))
        return cls(since, Tax.of_setting(value["tax"]), value.get("product", ""), value.get("channel", ""))

    @property
    def setting(self) -> tuple[str, Any]:
        """The name and the value the season keeps it under.

        >>> Rate(date(2026, 1, 1), Tax("none"), channel="shop").setting
        ('tax | shop', {'tax': 'none', 'channel': 'shop'})
        """
        scope = {name: text for name in ("product", "channel") if (text := getattr(self, name))}
        if not scope:
            return _SETTING, str(self.tax)
        return f"{_SETTING} {self.product}| {self.channel}", {"tax": str(self.tax), **scope}

    @property
    def scope(self) -> str:
        """What it is of, for the reader.

        >>> Rate(date(2026, 1, 1), Tax(), "Candles", "shop").scope
        'Candles, sold to shop'
        """
        return ", ".join(filter(None, (self.product, self.channel and f"sold to {self.channel}"))) or "everything"


def is_tax(setting: str) -> bool:
    """Whether a setting of this name holds a tax."""
    return setting == _SETTING or setting.startswith(f"{_SETTING} ")


@dataclass(frozen=True, slots=True)
class Taxes:
    """Which tax is in the price of a product in a channel on a day; a new rate changes nothing that was sold before.

    A rate of one channel goes before one of a product: who buys (a reseller, a business abroad) decides whether there is
    tax at all. HM Revenue & Customs, VAT guide (Notice 700), 30.7: the rate in force at the tax point is the one that
    counts (from memory, not read at the source).

    >>> usual, later = Rate(date(2026, 1, 1), Tax("included", Decimal(7))), Rate(date(2027, 1, 1), Tax("included", Decimal(9)))
    >>> taxes = Taxes((usual, later, Rate(date(2026, 6, 1), Tax("none"), channel="shop")))
    >>> [taxes.on(day).percent for day in (date(2026, 12, 31), date(2027, 1, 1), date(2025, 5, 1))]
    [Decimal('7'), Decimal('9'), Decimal('7')]
    >>> [taxes.on(day, channel="shop").how for day in (date(2026, 5, 31), date(2026, 6, 1))]
    ['included', 'none']
    """

    rates: tuple[Rate, ...] = ()

    def on(self, day: date, product: str = "", channel: str = "") -> Tax | None:
        """The tax of a day. The rate of everything holds before its first day too; nothing where nobody ever said."""
        for scope in dict.fromkeys(((product, channel), ("", channel), (product, ""))):
            if any(scope) and (found := [rate for rate in self._of(*scope) if rate.since <= day]):
                return found[-1].tax
        whole = self._of()
        found = [rate for rate in whole if rate.since <= day] or whole[:1]
        return found[-1].tax if found else None

    def _of(self, product: str = "", channel: str = "") -> list[Rate]:
        """The rates of just this, the earliest day first."""
        wanted = product, channel.casefold()
        mine = (rate for rate in self.rates if (rate.product, rate.channel.casefold()) == wanted)
        return sorted(mine, key=lambda rate: rate.since)


NOT_SAID = Taxes()
