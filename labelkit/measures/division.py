"""The step a scale counts in, in the unit it shows; and readings of such a scale, exact.

A tenth of an ounce is 2.8349523125 g: no whole number of milligrams, so readings are counted in steps and become a mass
only where they are kept.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.measures import UnitUnknown
from labelkit.measures.locales import show_number
from labelkit.measures.mass import GRAMS_PER_OUNCE, GRAMS_PER_POUND, Mass
from labelkit.measures.rounding import DOWN, HALF_UP, UP, plain, to_step
from labelkit.measures.units import MASS, read_quantity

UNITS = {"g": Decimal(1), "kg": Decimal(1000), "oz": GRAMS_PER_OUNCE, "lb": GRAMS_PER_POUND, "lb oz": GRAMS_PER_OUNCE}
_NAMED = (("lb", r"lbs?|pounds?|#"), ("oz", r"ozs?|ounces?"), ("kg", r"kg|kilo\w*"), ("g", r"g|gram\w*"))


@dataclass(frozen=True, slots=True)
class Division:
    """A step of ``unit``: ``g``, ``kg``, ``oz``, ``lb``, or ``lb oz`` for a scale that shows pounds and ounces.

    >>> tenth = Division.read("0.1 oz", "en_US")
    >>> tenth.g, tenth.up(Mass.read("24.31 oz", "en_US")).show("en_US")
    (Decimal('2.8349523125'), '24.4 oz')
    >>> Division.read("0 lb 0.1 oz", "en_US").up(Mass.read("24.3 oz", "en_US")).show("en_US")
    '1 lb 8.3 oz'
    """

    step: Decimal
    unit: str = "g"

    @classmethod
    def read(cls, text: str, locale: str) -> Division:
        """From what is typed; pounds named beside ounces mean a scale that shows both.

        Raises what :func:`~labelkit.measures.units.read_quantity` raises.
        """
        grams = read_quantity(text, MASS, locale)
        named = [unit for unit, spelt in _NAMED if re.search(rf"(?<![a-z])(?:{spelt})(?![a-z])", text, re.IGNORECASE)]
        unit = "lb oz" if named[:2] == ["lb", "oz"] else named[0] if named else ""
        if not unit:
            raise UnitUnknown(text, text, MASS.name, "g, kg, oz, lb")
        return cls(Decimal(plain(grams / UNITS[unit])), unit)

    @classmethod
    def of(cls, step: Mass) -> Division:
        """A step in grams, as it was kept before units were."""
        return cls(Decimal(plain(step.g)))

    def __str__(self) -> str:
        """As :meth:`read` takes it in en_US."""
        return f"0 lb {plain(self.step)} oz" if self.unit == "lb oz" else f"{plain(self.step)} {self.unit}"

    @property
    def g(self) -> Decimal:
        """The step in grams, exactly."""
        return self.step * UNITS[self.unit]

    @property
    def customary(self) -> bool:
        """Whether the scale shows ounces or pounds."""
        return self.unit not in ("g", "kg")

    def up(self, mass: Mass) -> ScaleReading:
        """The next reading that is no less than a mass.

        >>> Division(Decimal("0.5")).up(Mass.of_grams("666.292")).g
        Decimal('666.5')
        """
        return ScaleReading(int(to_step(mass.g / self.g, Decimal(1), UP)), self)

    def show(self, mass: Mass | Decimal, locale: str, rule: str = HALF_UP) -> str:
        """A mass (or grams) in the scale's unit, to a tenth of its step: for means, margins and tares.

        >>> Division(Decimal("0.1"), "oz").show(Mass.of_grams(5), "en_US"), Division(Decimal(1)).show(Mass(212_700), "en_US")
        ('0.18 oz', '212.7 g')
        """
        grams = mass.g if isinstance(mass, Mass) else mass
        fine = Decimal(1).scaleb(self.step.normalize().adjusted() - 1)
        return self._spelt(to_step(grams / UNITS[self.unit], fine, rule), locale)

    def can_show(self, mass: Mass) -> bool:
        """Whether a mass, as it is kept, is a reading of this scale.

        >>> [TENTH_OZ.can_show(Mass.read(text, "en_US")) for text in ("13.1 oz", "13.15 oz", "371 g")]
        [True, False, False]
        """
        return ScaleReading(int(to_step(mass.g / self.g, Decimal(1), HALF_UP)), self).mass == mass

    def finer(self) -> Division:
        """A scale of the same unit ten times as fine."""
        return Division(self.step / 10, self.unit)

    def in_unit(self, grams: Decimal) -> Decimal:
        """Grams as a number of the scale's unit."""
        return grams / UNITS[self.unit]

    def _spelt(self, amount: Decimal, locale: str) -> str:
        amount = Decimal(plain(amount))
        if self.unit != "lb oz" or abs(amount) < 16:
            return f"{show_number(amount, locale)} {self.unit[-2:].strip()}"
        pounds = to_step(abs(amount) / 16, Decimal(1), DOWN)
        rest = Decimal(plain(abs(amount) - 16 * pounds))
        sign = "-" if amount < 0 else ""
        return f"{sign}{int(pounds)} lb {show_number(rest, locale)} oz" if rest else f"{sign}{int(pounds)} lb"


GRAM, TENTH_OZ = Division(Decimal(1)), Division(Decimal("0.1"), "oz")


@dataclass(frozen=True, slots=True)
class ScaleReading:
    """What a scale shows: a whole count of its steps."""

    count: int
    division: Division

    @property
    def g(self) -> Decimal:
        """Grams, exactly."""
        return Decimal(plain(self.count * self.division.g))

    @property
    def mass(self) -> Mass:
        """The mass that is kept of it, down to the milligram as everything weighed is."""
        return Mass.of_grams(self.g)

    def show(self, locale: str) -> str:
        """As the scale shows it."""
        return self.division._spelt(self.count * self.division.step, locale)

    def steps_up(self, count: int) -> ScaleReading:
        """The reading so many steps above."""
        return ScaleReading(self.count + count, self.division)
