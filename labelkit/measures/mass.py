"""Mass as whole milligrams."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures.locales import customary_first, one_system, show_number
from labelkit.measures.rounding import DOWN, HALF_UP, down_to_milligram, to_step

GRAMS_PER_POUND = Decimal("453.59237")
GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16


@dataclass(frozen=True, order=True, slots=True)
class Mass:
    """A mass, or a difference of two masses, in whole milligrams.

    >>> Mass.of_grams("453.59237").mg
    453592
    >>> (Mass.of_grams(500) - Mass.of_grams(20)).g
    Decimal('480')
    >>> Mass.of_grams(1000) // Mass.of_grams(340)
    2
    """

    mg: int

    @classmethod
    def of_grams(cls, grams: Decimal | int | str) -> Mass:
        """From grams, by :func:`~labelkit.measures.rounding.down_to_milligram`."""
        return cls(down_to_milligram(Decimal(grams)))

    @classmethod
    def read(cls, text: str, locale: str, *, nought: bool = False) -> Mass:
        """From what a producer types; see :func:`labelkit.measures.units.read_quantity`.

        >>> Mass.read("62 lb 3 oz", "en_US"), Mass.read("0 g", "en_US", nought=True)
        (Mass(mg=28207775), Mass(mg=0))
        """
        from labelkit.measures.units import MASS, read_quantity

        return cls(down_to_milligram(read_quantity(text, MASS, locale, nought=nought)))

    @property
    def g(self) -> Decimal:
        """Grams, exactly."""
        return Decimal(self.mg) / 1000

    @property
    def kg(self) -> Decimal:
        """Kilograms, exactly."""
        return Decimal(self.mg) / 1_000_000

    @property
    def lb(self) -> Decimal:
        """Avoirdupois pounds, to the precision of the decimal context."""
        return self.g / GRAMS_PER_POUND

    @property
    def oz(self) -> Decimal:
        """Avoirdupois ounces, to the precision of the decimal context."""
        return self.g / GRAMS_PER_OUNCE

    def __add__(self, other: Mass) -> Mass:
        return Mass(self.mg + other.mg)

    def __sub__(self, other: Mass) -> Mass:
        return Mass(self.mg - other.mg)

    def __neg__(self) -> Mass:
        return Mass(-self.mg)

    def __mul__(self, count: int) -> Mass:
        return Mass(self.mg * count)

    __rmul__ = __mul__

    def __floordiv__(self, other: Mass) -> int:
        return self.mg // other.mg

    def __bool__(self) -> bool:
        return self.mg != 0

    def times(self, factor: Decimal) -> Mass:
        """A share of this mass, down to the milligram."""
        return Mass.of_grams(self.g * factor)


NOTHING = Mass(0)


def total(masses: Iterable[Mass]) -> Mass:
    """The sum of any number of masses.

    >>> total([Mass(1), Mass(2)])
    Mass(mg=3)
    """
    return Mass(sum(m.mg for m in masses))


def show_metric(mass: Mass, locale: str) -> str:
    """Grams under a kilogram, kilograms from there on, for the reader's eye (never for a label).

    >>> show_metric(Mass.of_grams(27300), "en_US"), show_metric(Mass.of_grams("226.796"), "de_DE")
    ('27.3 kg', '226,8 g')
    """
    if abs(mass.mg) >= 1_000_000:
        return f"{show_number(to_step(mass.kg, Decimal('0.001'), HALF_UP), locale)} kg"
    return f"{show_number(to_step(mass.g, Decimal('0.1'), HALF_UP), locale)} g"


def show_customary(mass: Mass, locale: str) -> str:
    """Pounds and ounces to a tenth of an ounce, for the reader's eye (never for a label).

    >>> show_customary(Mass.of_grams(27300), "en_US"), show_customary(Mass.of_grams("226.796185"), "en_US")
    ('60 lb 3 oz', '8 oz')
    """
    tenths = to_step(Mass(abs(mass.mg)).oz, Decimal("0.1"), HALF_UP)
    pounds = int(to_step(tenths / 16, Decimal(1), DOWN))
    ounces = tenths - 16 * pounds
    sign = "-" if mass.mg < 0 else ""
    shown = [f"{pounds} lb"] if pounds else []
    if ounces or not pounds:
        shown.append(f"{show_number(ounces.normalize() if ounces % 1 else int(ounces), locale)} oz")
    return sign + " ".join(shown)


def show_first(mass: Mass, locale: str) -> str:
    """A mass in the units that come first for this reader."""
    return show_customary(mass, locale) if customary_first(locale) else show_metric(mass, locale)


def show_second(mass: Mass, locale: str) -> str:
    """A mass in the other units; nothing where this reader never wants them.

    >>> show_second(Mass.of_grams(27300), "en_US"), show_second(Mass.of_grams(27300), "en_US-u-ms-metric-x-only")
    ('60 lb 3 oz', '')
    """
    if one_system(locale):
        return ""
    return show_metric(mass, locale) if customary_first(locale) else show_customary(mass, locale)


def show_both(mass: Mass, locale: str) -> str:
    """A mass in both systems, that of the reader first, or in that alone (:func:`labelkit.measures.locales.in_units`).

    >>> show_both(Mass.of_grams(27300), "en_US"), show_both(Mass.of_grams(27300), "en_US-u-ms-ussystem")
    ('27.3 kg (60 lb 3 oz)', '60 lb 3 oz (27.3 kg)')
    >>> show_both(Mass.of_grams(27300), "en_US-u-ms-metric-x-only")
    '27.3 kg'
    """
    second = show_second(mass, locale)
    return f"{show_first(mass, locale)} ({second})" if second else show_first(mass, locale)
