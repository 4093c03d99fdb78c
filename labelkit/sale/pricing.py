"""Finding prices: from a margin, from a price per kilogram, or from what others ask; rounded, and laddered.

A wanted price is exact. It is then rounded up to a step of the place's money, and the ladder is set so that no bigger
jar is dearer by weight than a smaller one: where it would be, the *smaller* jar is raised, because raising never eats
the margin that was asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from itertools import groupby

from labelkit.errors.sale import CostsMissing, MarginImpossible, NothingToCompare
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.rounding import DOWN, UP, to_step
from labelkit.sale.cost import Basis, card_fee, jar_cost
from labelkit.sale.tax import Tax


@dataclass(frozen=True, slots=True)
class Size:
    """A jar size to be priced: what the label declares, what is really filled."""

    size: str
    declares: Declared
    fill: Mass


@dataclass(frozen=True, slots=True)
class Found:
    """A price found for a size: what was wanted exactly, and what stands on the card after rounding and laddering."""

    size: Size
    wanted: Decimal
    price: Money
    raised_for: str = ""  # the bigger size it was raised for

    @property
    def per_kg(self) -> Decimal:
        """The price of a kilogram at the declared weight; exact."""
        return self.price.amount * 1000 / self.size.declares.grams


def from_margin(sizes: Iterable[Size], basis: Basis, percent: Decimal, tax: Tax) -> dict[str, Decimal]:
    """The price at which so many per cent of it, tax set aside, are left after every cost that is known.

    The card fee is a share of what the buyer pays, so it is solved for and not added on. Raises
    :class:`~labelkit.errors.sale.MarginImpossible` where tax, card and margin leave nothing for the jar, and
    :class:`~labelkit.errors.sale.CostsMissing` where no cost is known at all.
    """
    by_price, by_sale = (part or Decimal(0) for part in card_fee(basis.costs))
    fee, a_day = basis.costs.market.get("stall_fee"), basis.costs.market.get("jars_a_day")
    stall = fee / a_day if fee and a_day else Decimal(0)
    found = {}
    for size in sizes:
        made = jar_cost(size.size, size.fill, basis)
        if not made.exact and made.asked:
            raise CostsMissing(size.size, made.asked[0])
        cost = made.exact + stall + by_sale
        # Of each unit of the shown price the producer keeps `own`; cards take their share of what is paid.
        own = 1 / tax.factor if tax.how == "included" else Decimal(1)
        paid = tax.factor if tax.how == "added" else Decimal(1)
        left = own * (1 - percent / 100) - paid * by_price
        if left <= 0 or percent >= 100:
            raise MarginImpossible(percent, by_price * 100)
        found[size.size] = cost / left
    return found


def from_per_kg(sizes: Iterable[Size], per_kg: Money) -> dict[str, Decimal]:
    """The price of each size at one price per kilogram of declared weight."""
    return {size.size: per_kg.amount * size.declares.grams / 1000 for size in sizes}


def from_others(sizes: Iterable[Size], asked: Mapping[str, Sequence[Money]]) -> dict[str, Decimal]:
    """The middle of what others ask for each size; for a size nobody sells, the nearest size's price by weight.

    Raises :class:`~labelkit.errors.sale.NothingToCompare` where nobody's price is known at all.
    """
    sizes = tuple(sizes)
    middles = {size.size: _middle(asked[size.size]) for size in sizes if asked.get(size.size)}
    if not middles:
        raise NothingToCompare()
    known = [size for size in sizes if size.size in middles]

    def price(size: Size) -> Decimal:
        near = min(known, key=lambda other: abs(other.declares.grams - size.declares.grams))
        return middles[near.size] * size.declares.grams / near.declares.grams

    return {size.size: price(size) for size in sizes}


def _middle(prices: Sequence[Money]) -> Decimal:
    ordered = sorted(price.amount for price in prices)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def laddered(sizes: Iterable[Size], wanted: Mapping[str, Decimal], currency: str, step: Decimal) -> tuple[Found, ...]:
    """Prices on the money's steps, never below what was wanted, no bigger jar dearer by weight than a smaller one.

    Each price is the lowest that meets all three. Jars of one weight (another honey, comb) do not bind each other.

    >>> pound, two = Size("pound", Declared.read("1 lb", "en_US"), Mass(453592)), Size("two", Declared.read("2 lb", "en_US"), Mass(907184))
    >>> found = laddered([pound, two], {"pound": Decimal("11.10"), "two": Decimal("23.90")}, "USD", Decimal("0.50"))
    >>> [(f.size.size, f.price.amount, f.raised_for) for f in found]
    [('pound', Decimal('12.00'), 'two'), ('two', Decimal('24.00'), '')]
    """
    bound: Found | None = None  # of all strictly bigger jars, the dearest by weight
    found: list[Found] = []
    for _, same in groupby(sorted(sizes, key=lambda s: (-s.declares.grams, s.size)), key=lambda s: s.declares.grams):
        made = [_on_ladder(size, wanted[size.size], currency, step, bound) for size in same]
        found += made
        bound = max(
            (*made, bound) if bound else made, key=lambda f: Fraction(f.price.minor) / Fraction(f.size.declares.grams)
        )
    return tuple(sorted(found, key=lambda f: (f.size.declares.grams, f.size.size)))


def _on_ladder(size: Size, wanted: Decimal, currency: str, step: Decimal, bound: Found | None) -> Found:
    price = to_step(wanted, step, UP)
    # Money per kilogram must not rise with size: price / g >= bound's price / bound's g, held in whole products.
    least = to_step(bound.price.amount * size.declares.grams / bound.size.declares.grams, step, UP) if bound else price
    while bound and least * bound.size.declares.grams < bound.price.amount * size.declares.grams:
        least += step  # the quotient was cut off at the context's last digit
    raised = bound.size.size if bound and least > price else ""
    return Found(size, wanted, Money.of(max(price, least), currency), raised)


def wholesale(found: Iterable[Found], shop_margin: Decimal, tax: Tax, step: Decimal) -> tuple[Found, ...]:
    """What a shop may pay that sells at your own price: that price without tax, less the shop's share of it.

    Rounded to the step, down, so that the shop's share is never less than it was promised.

    >>> pound = Size("pound", Declared.read("1 lb", "en_US"), Mass(453592))
    >>> wholesale([Found(pound, Decimal(12), Money.of("12.00", "USD"))], Decimal(30), Tax(), Decimal("0.05"))[0].price.amount
    Decimal('8.40')
    """
    every = tuple(found)
    rows = []
    for one in every:
        exact = tax.net_of(one.price) * (1 - shop_margin / 100)
        rows.append(
            replace(one, wanted=exact, price=Money.of(to_step(exact, step, DOWN), one.price.currency), raised_for="")
        )
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class PerBucket:
    """What a bucket brings when all of it goes into one size."""

    size: str
    jars: int
    takings: Money
    leaves: Money
    rest: Mass


def per_bucket(
    money: Mapping[str, tuple[Money, Money]], fills: Mapping[str, Mass], usable: Mass
) -> tuple[PerBucket, ...]:
    """The money in a bucket for each choice of size, best first: jars, takings, what is left after costs, honey over.

    ``money`` is, for each size, what a buyer pays for a jar and what a jar leaves.

    >>> pound = {"pound": (Money.of("12.00", "USD"), Money.of("6.35", "USD"))}
    >>> bucket, = per_bucket(pound, {"pound": Mass.read("1 lb", "en_US")}, Mass.read("60 lb", "en_US"))
    >>> bucket.jars, bucket.takings.amount, bucket.leaves.amount
    (60, Decimal('720.00'), Decimal('381.00'))
    """
    made = []
    for size, (price, leaves) in money.items():
        jars = usable // fills[size]
        made.append(PerBucket(size, jars, jars * price, jars * leaves, usable - jars * fills[size]))
    return tuple(sorted(made, key=lambda b: (-b.leaves.minor, b.size)))


def break_even(fee: Money, left_of_a_jar: Money) -> int | None:
    """How many jars pay the stall fee; None where a jar leaves nothing.

    ``left_of_a_jar`` is what a jar leaves before the stall fee.

    >>> break_even(Money.of("35.00", "USD"), Money.of("6.35", "USD"))
    6
    """
    if left_of_a_jar.minor <= 0:
        return None
    return -(-fee.minor // left_of_a_jar.minor)


def unsold_worth(cost: Money, would_bring: Money) -> Money:
    """What an unsold jar counts for: its cost, or what it would bring if that is less, and never less than nothing.

    Source: IAS 2 Inventories, paragraph 9, "lower of cost and net realisable value" (from memory); what your own books
    must show is your tax adviser's to say.

    >>> unsold_worth(Money.of("5.65", "USD"), Money.of("4.00", "USD")).amount
    Decimal('4.00')
    """
    lower = would_bring if would_bring < cost else cost
    return lower if lower.minor > 0 else Money(0, cost.currency)
