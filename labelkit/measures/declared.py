"""A weight that a label declares: what it means exactly, and how it was typed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors import Refused
from labelkit.errors.measures import NotPositive
from labelkit.measures.locales import show_number
from labelkit.measures.mass import GRAMS_PER_OUNCE, Mass
from labelkit.measures.units import MASS, read_quantity

_CUSTOMARY = re.compile(r"(?<![a-z])(lbs?|pounds?|ozs?|ounces?)(?![a-z])|#", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Declared:
    """A weight read once, where it was typed; nothing behind the rim reads ``text`` again.

    ``grams`` is exact, since legal figures are cut from it and not from the milligram. ``customary`` says whether
    ounces or pounds were typed, because such a weight has its own forms of words and its own tolerances.

    >>> Declared.read("1 lb", "en_US")
    Declared(text='1 lb', grams=Decimal('453.59237'), customary=True)
    """

    text: str
    grams: Decimal
    customary: bool

    @classmethod
    def read(cls, text: str, locale: str) -> Declared:
        """From what a producer types. Raises what :func:`~labelkit.measures.units.read_quantity` raises.

        >>> Declared.read("12.500 g", "de_DE").grams
        Decimal('12500')
        """
        return cls(text.strip(), read_quantity(text, MASS, locale), _CUSTOMARY.search(text) is not None)

    @classmethod
    def of_grams(cls, grams: Decimal) -> Declared:
        """A metric weight that nobody typed.

        >>> str(Declared.of_grams(Decimal("454.0")))
        '454 g'
        """
        return cls(f"{show_number(grams, 'en_US')} g", grams, customary=False)

    @property
    def mass(self) -> Mass:
        """The weight in whole milligrams. Raises :class:`~labelkit.errors.measures.NotPositive`."""
        if self.grams <= 0:
            raise NotPositive(self.text, MASS.name)
        return Mass.of_grams(self.grams)

    def show(self, locale: str) -> str:
        """As it was typed where this reader reads the same from it, otherwise as this reader writes the weight.

        >>> typed = Declared.read("1.250,5 g", "de_DE")
        >>> typed.show("de_DE"), typed.show("en_US")
        ('1.250,5 g', '1,250.5 g')
        """
        try:
            if Declared.read(self.text, locale) == self:
                return self.text
        except Refused:
            pass
        if self.customary:
            return f"{show_number(self.grams / GRAMS_PER_OUNCE, locale)} oz"
        return f"{show_number(self.grams, locale)} g"

    def __str__(self) -> str:
        return self.text
