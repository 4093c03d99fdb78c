"""What a jar brings: margin, and the price per unit that lets a buyer compare jars."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby, pairwise

from labelkit.measures import Declared, Money
from labelkit.measures.mass import GRAMS_PER_OUNCE, GRAMS_PER_POUND
from labelkit.measures.rounding import HALF_UP

UNITS = {"kg": Decimal(1000), "100 g": Decimal(100), "lb": GRAMS_PER_POUND, "oz": GRAMS_PER_OUNCE}


def unit_price(price: Money, declared_g: Decimal, unit: str) -> Money:
    """The price of one unit at the jar's declared weight, half up to the minor unit.

    ``unit`` is one of ``kg``, ``100 g``, ``lb``, ``oz``. Which of them a market requires is its pack's affair. The
    worked rows of the tests are reckoned from the exact pound.

    >>> unit_price(Money.of("12.00", "USD"), GRAMS_PER_POUND, "lb").amount
    Decimal('12.00')
    >>> unit_price(Money.of("12.00", "USD"), GRAMS_PER_POUND, "kg").amount
    Decimal('26.46')
    """
    return Money.rounded(price.amount * UNITS[unit] / declared_g, price.currency, HALF_UP)


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One size on the price list; goods sold by the piece declare no weight."""

    size: str
    declares: Declared | None
    price: Money
    cost: Money
    product: str = ""
    called: str = ""  # the product and the size, as a list names them

    @property
    def grams(self) -> Decimal:
        """The declared weight in grams; none by the piece."""
        return self.declares.grams if self.declares else Decimal(0)

    @property
    def margin(self) -> Money:
        """What one jar leaves after its cost."""
        return self.price - self.cost

    @property
    def margin_percent(self) -> Decimal | None:
        """The margin in per cent of the price; nothing for a jar that is given away."""
        return Decimal(self.margin.minor) * 100 / self.price.minor if self.price.minor else None

    def per(self, unit: str) -> Money:
        """The price of one unit; see :func:`unit_price`. Only of what declares a weight."""
        return unit_price(self.price, self.grams, unit)


@dataclass(frozen=True, slots=True)
class Step:
    """A pair of sizes where the bigger jar is dearer by weight than the smaller."""

    smaller: PriceRow
    bigger: PriceRow


def ladder_faults(rows: Iterable[PriceRow]) -> tuple[Step, ...]:
    """Where a bigger jar costs more per kilogram than the next smaller one (of several of one weight, the dearest).

    Buyers expect the bigger jar to be the better buy; it is no law (common practice, no source), so it is told and
    not refused.

    >>> pound = PriceRow("pound", Declared.read("1 lb", "en_US"), Money.of("12.00", "USD"), Money.of("1.35", "USD"))
    >>> two = PriceRow("two pound", Declared.read("2 lb", "en_US"), Money.of("25.00", "USD"), Money.of("1.80", "USD"))
    >>> [(s.smaller.size, s.bigger.size) for s in ladder_faults([pound, two])]
    [('pound', 'two pound')]
    """
    by_weight = sorted((row for row in rows if row.declares), key=lambda row: (row.product, row.grams))
    groups = [list(same) for _, same in groupby(by_weight, key=lambda row: (row.product, row.grams))]
    return tuple(
        Step(small, big)
        for smaller, bigger in pairwise(groups)
        for small in (max(smaller, key=lambda row: row.price.minor),)
        for big in bigger
        if big.product == small.product and big.price.amount * small.grams > small.price.amount * big.grams
    )
