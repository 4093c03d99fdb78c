"""The customary half of a declared weight: ounces and pounds, decimals and common fractions, never rounded up."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from labelkit.measures.mass import GRAMS_PER_OUNCE
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

OUNCES = 16  # in a pound, by definition
# A weight given in grams that lies less than this above a whole ounce is also shown as the whole ounce. House style.
_TIDY = Fraction(1, 20)
# Where no law says how ounces and pounds are written: two decimals, and pounds from a pound on. House style.
_OWN_DECIMALS = 2
_DECIMALS, _DENOMINATORS = "decimals of a customary weight", "denominators of a common fraction"


class Choice(NamedTuple):
    """One customary figure: every lawful way to print it, the best first, and what it says in grams."""

    forms: tuple[str, ...]
    grams: Decimal


class _Allowed(NamedTuple):
    decimals: int
    denominators: tuple[int, ...]


def choices(ounces: Fraction, market: Market, grams: Decimal, laws: list[Value], *, tidy: bool) -> list[Choice]:
    """The customary figures for a weight of so many ounces, the best first; none when it rounds down to nothing.

    ``tidy`` offers the whole ounce as well when the weight, given in grams, lies just above it. The values it rests on
    are added to ``laws``.
    """
    held = {name: market.value(name) for name in (_DECIMALS, _DENOMINATORS) if market.holds(name)}
    laws.extend(held.values())
    allowed = _Allowed(
        held[_DECIMALS].value if _DECIMALS in held else _OWN_DECIMALS,
        held[_DENOMINATORS].value if _DENOMINATORS in held else (),
    )
    wanted = [Fraction(ounces.__floor__()), ounces] if tidy and 0 < ounces % 1 < _TIDY else [ounces]
    return [choice for amount in wanted if (choice := _choice(amount, market, grams, allowed, laws)) is not None]


def _choice(ounces: Fraction, market: Market, grams: Decimal, allowed: _Allowed, laws: list[Value]) -> Choice | None:
    shown = _declarable(ounces, allowed)
    if not shown:
        return None
    names = ["form of the customary weight", "other forms of the customary weight"]
    values = [market.value(name, declared=grams) for name in names if market.holds(name, declared=grams)]
    laws.extend(values)
    own = "ounces" if shown < OUNCES else "pounds"
    styles = [values[0].value if values else own, *(values[1].value if len(values) > 1 else ())]
    forms = [form for style in styles for form in _STYLES[style](shown, allowed)]
    return Choice(tuple(dict.fromkeys(forms)), _grams(shown))


def _declarable(ounces: Fraction, allowed: _Allowed) -> Fraction:
    """The amount itself when it can be printed exactly, otherwise cut to the decimals allowed."""
    if any((ounces * below).denominator == 1 for below in (10**allowed.decimals, *allowed.denominators)):
        return ounces
    return _cut(ounces, allowed.decimals)


def _cut(amount: Fraction, decimals: int) -> Fraction:
    return Fraction((amount * 10**decimals).__floor__(), 10**decimals)


def spelt(amount: Fraction, decimals: int, denominators: tuple[int, ...]) -> list[str]:
    """An amount as decimals and as a common fraction, as far as each can say it exactly; else cut to the decimals.

    >>> spelt(Fraction(3, 2), 2, (2, 4, 8)), spelt(Fraction(97, 8), 2, (2, 4, 8)), spelt(Fraction(16, 3), 2, (2, 4))
    (['1.5', '1 1/2'], ['12 1/8'], ['5.33'])
    """
    found = []
    if (amount * 10**decimals).denominator == 1:
        found.append(_decimal(amount))
    if amount.denominator in denominators:
        whole, rest = divmod(amount, 1)
        found.append(f"{whole} {rest}" if whole else str(rest))
    return found or [_decimal(_cut(amount, decimals))]


def _decimal(amount: Fraction) -> str:
    return plain(Decimal(amount.numerator) / Decimal(amount.denominator))


def _grams(ounces: Fraction) -> Decimal:
    return Decimal(ounces.numerator) * GRAMS_PER_OUNCE / Decimal(ounces.denominator)


def _ounces(ounces: Fraction, allowed: _Allowed) -> list[str]:
    return [f"{amount} oz" for amount in spelt(ounces, *allowed)]


def _pounds(ounces: Fraction, allowed: _Allowed) -> list[str]:
    """Pounds with the remainder in ounces first, then pounds with a decimal or common fraction."""
    whole, rest = divmod(ounces, OUNCES)
    if not rest:
        return [f"{whole} lb"]
    mixed = f"{whole} lb {spelt(rest, *allowed)[0]} oz" if whole else f"{spelt(rest, *allowed)[0]} oz"
    # A fraction of a pound that is cut back to whole pounds would hide the ounces beside it.
    return [mixed, *(f"{amount} lb" for amount in spelt(ounces / OUNCES, *allowed) if amount != str(whole))]


def _ounces_pounds(ounces: Fraction, allowed: _Allowed) -> list[str]:
    total = _ounces(ounces, allowed)[0]
    return [f"{total} ({pounds})" for pounds in _pounds(ounces, allowed)]


_STYLES = {"ounces": _ounces, "pounds": _pounds, "ounces (pounds)": _ounces_pounds}
