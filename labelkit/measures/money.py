"""Money as whole minor units of one currency."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.measures import CurrenciesMixed, MoneyUnclear, NumberUnclear
from labelkit.measures.locales import currency_digits, currency_sign, show_money
from labelkit.measures.numerals import fold, read_number
from labelkit.measures.rounding import HALF_UP, to_step


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in whole minor units (cents, pence, millimes) and the currency it is in.

    >>> Money.of("12.00", "USD") - Money.of("1.35", "USD")
    Money(minor=1065, currency='USD')
    >>> 3 * Money.of("10.65", "USD")
    Money(minor=3195, currency='USD')
    """

    minor: int
    currency: str

    @classmethod
    def of(cls, amount: Decimal | int | str, currency: str) -> Money:
        """From an exact amount; more decimals than the currency has are refused.

        >>> Money.of("12", "JPY").minor, Money.of("1.250", "TND").minor
        (12, 1250)
        """
        scaled = Decimal(amount).scaleb(currency_digits(currency))
        if scaled != scaled.to_integral_value():
            raise MoneyUnclear(
                str(amount),
                currency,
                f"it has more decimals than the {currency_digits(currency)} the currency has",
                str(cls(1250, currency).amount),
            )
        return cls(int(scaled), currency)

    @classmethod
    def read(cls, text: str, currency: str, locale: str) -> Money:
        """From what a producer types, with or without the currency's code or sign.

        >>> Money.read("12.00", "USD", "en_US"), Money.read("1,35 €", "EUR", "de_DE").minor
        (Money(minor=1200, currency='USD'), 135)
        """
        digits, negative = fold(text), False
        for mark in ("-", currency, currency_sign(currency, locale), currency_sign(currency, "en_US"), "-"):
            bare = digits.removesuffix(fold(mark)).removeprefix(fold(mark)).strip()
            negative |= mark == "-" and bare != digits
            digits = bare
        try:
            amount = read_number(digits, locale, text=text)
        except NumberUnclear as unclear:
            raise MoneyUnclear(text, currency, "the digits do not make one number", "12.00") from unclear
        return cls.of(-amount if negative else amount, currency)

    @classmethod
    def rounded(cls, amount: Decimal, currency: str, rule: str = HALF_UP) -> Money:
        """From a reckoned amount, rounded to the minor unit by a named rule.

        >>> Money.rounded(Decimal("26.455"), "USD").minor
        2646
        """
        return cls(int(to_step(amount.scaleb(currency_digits(currency)), Decimal(1), rule)), currency)

    @property
    def amount(self) -> Decimal:
        """The amount in major units, with the currency's decimals."""
        return Decimal(self.minor).scaleb(-currency_digits(self.currency))

    def __add__(self, other: Money) -> Money:
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> Money:
        return Money(-self.minor, self.currency)

    def __mul__(self, count: int) -> Money:
        return Money(self.minor * count, self.currency)

    __rmul__ = __mul__

    def __lt__(self, other: Money) -> bool:
        return self.minor < self._same(other)

    def __le__(self, other: Money) -> bool:
        return self.minor <= self._same(other)

    def __str__(self) -> str:
        """In plain digits, for lists that name no reader.

        >>> str(Money.of("8.50", "EUR"))
        '8.50 EUR'
        """
        return f"{self.amount:f} {self.currency}"

    def show(self, locale: str) -> str:
        """As the reader's country prints it.

        >>> Money.of("8.50", "EUR").show("de_DE")
        '8,50\\xa0€'
        """
        return show_money(self.amount, self.currency, locale)

    def _same(self, other: Money) -> int:
        if other.currency != self.currency:
            raise CurrenciesMixed(self.currency, other.currency)
        return other.minor
