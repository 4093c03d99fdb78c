"""The price for one unit of weight, so that a buyer can compare jars of different sizes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.measures import NotPositive
from labelkit.measures import Declared, Money
from labelkit.measures.locales import DEFAULT_LOCALE, currency_digits, currency_sign, show_number
from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

# The steps in the packs are written for currencies of a hundred parts; others are moved by this many places.
_HUNDREDTHS = 2
_ROUNDING = "rounding of the unit price"


@dataclass(frozen=True, slots=True)
class UnitPrice:
    """``amount`` of the currency for ``per`` of weight, rounded as the market asks."""

    amount: Decimal
    currency: str
    per: str
    laws: tuple[Value, ...]

    def text(self, locale: str) -> str:
        """As a price card prints it for this reader."""
        digits = currency_digits(self.currency)
        if self.amount == to_step(self.amount, Decimal(1).scaleb(-digits), HALF_UP):
            return f"{Money.of(self.amount, self.currency).show(locale)} / {self.per}"
        shown = show_number(self.amount, locale, digits=digits + 1)
        return f"{currency_sign(self.currency, locale)}{shown} / {self.per}"


def of(price: Money, net_g: Decimal, market: Market, per: Declared | None = None) -> UnitPrice:
    """The price per unit of a jar of this net weight; ``per`` asks for another unit such as "100 g" or "oz".

    Reckoned from the exact weight and rounded half up once, at the end.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> of(Money.of("8.50", "USD"), Decimal("340.19427750"), market("us", date(2026, 11, 25))).amount
    Decimal('11.33')
    """
    if price.minor <= 0 or net_g <= 0:
        raise NotPositive(
            *((price.show(DEFAULT_LOCALE), "price") if price.minor <= 0 else (f"{plain(net_g)} g", "weight"))
        )
    laws: tuple[Value, ...] = ()
    if per is None:
        unit, name = market.value("unit of the unit price"), market.value("name of the unit")
        laws, weight, words = (unit, name), unit.value, name.value
    else:
        weight, words = per.grams, per.text.removeprefix("1 ")
    exact = price.amount * weight / net_g
    step, rounding = _step(exact, price.currency, market)
    return UnitPrice(to_step(exact, step, HALF_UP), price.currency, words, laws + rounding)


def _step(exact: Decimal, currency: str, market: Market) -> tuple[Decimal, tuple[Value, ...]]:
    """The step the market's law rounds to; where no law says one, the smallest unit of the currency (ISO 4217)."""
    digits = currency_digits(currency)
    if not market.holds(_ROUNDING):
        return Decimal(1).scaleb(-digits), ()
    rounding = market.value(_ROUNDING)
    places = _HUNDREDTHS - digits
    row = next(row for row in rounding.value if "under" not in row or exact < row["under"].scaleb(places))
    return row["step"].scaleb(places), (rounding,)
