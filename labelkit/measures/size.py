"""Lengths in whole micrometres, areas in square millimetres, volumes in millilitres, temperatures in Celsius."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.measures import NumberUnclear
from labelkit.measures.locales import show_number
from labelkit.measures.numerals import fold, read_number
from labelkit.measures.rounding import HALF_EVEN, to_step
from labelkit.measures.units import AREA, LENGTH, VOLUME, read_quantity


@dataclass(frozen=True, order=True, slots=True)
class Length:
    """A length in whole micrometres.

    >>> Length.read("2.5 in", "en_US").um, Length.of_mm("1.5875").um
    (63500, 1588)
    """

    um: int

    @classmethod
    def of_mm(cls, mm: Decimal | int | str) -> Length:
        """From millimetres, to the nearest micrometre (half to even)."""
        return cls(int(to_step(Decimal(mm) * 1000, Decimal(1), HALF_EVEN)))

    @classmethod
    def read(cls, text: str, locale: str) -> Length:
        """From what a producer types."""
        return cls(int(to_step(read_quantity(text, LENGTH, locale), Decimal(1), HALF_EVEN)))

    @classmethod
    def read_signed(cls, text: str, locale: str) -> Length:
        """From what a producer types where a length may be nothing or go the other way.

        >>> Length.read_signed("0 mm", "en_US").um, Length.read_signed("-0,5 mm", "de_DE").um
        (0, -500)
        """
        bare = fold(text)
        if re.fullmatch(r"-?0([.,]0*)?\s*[a-z]*", bare):
            return cls(0)
        return cls.read(bare.removeprefix("-"), locale) * (-1 if bare.startswith("-") else 1)

    def show(self, locale: str) -> str:
        """Millimetres for the reader's eye.

        >>> Length(63500).show("de_DE")
        '63,5 mm'
        """
        return f"{show_number(self.mm, locale)} mm"

    @property
    def mm(self) -> Decimal:
        """Millimetres, exactly."""
        return Decimal(self.um) / 1000

    @property
    def points(self) -> float:
        """PostScript points, for drawing only."""
        return self.um * 72 / 25400

    def __add__(self, other: Length) -> Length:
        return Length(self.um + other.um)

    def __sub__(self, other: Length) -> Length:
        return Length(self.um - other.um)

    def __mul__(self, count: int) -> Length:
        return Length(self.um * count)

    __rmul__ = __mul__


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume in millilitres, exactly, and the text it was typed as.

    >>> str(Volume.read("5 gal", "en_US")), Volume.read("1 l", "en_US").ml
    ('5 gal', Decimal('1000'))
    """

    text: str
    ml: Decimal

    @classmethod
    def read(cls, text: str, locale: str) -> Volume:
        """From what a producer types; US measures unless marked "imp"."""
        return cls(text.strip(), read_volume(text, locale))

    def __str__(self) -> str:
        return self.text


def read_area(text: str, locale: str) -> Decimal:
    """Square millimetres from what a producer types.

    >>> read_area("80 cm^2", "en_US"), read_area("13 sq in", "en_US")
    (Decimal('8000'), Decimal('8387.08'))
    """
    return read_quantity(text, AREA, locale)


def read_volume(text: str, locale: str) -> Decimal:
    """Millilitres from what a producer types; US measures unless marked "imp".

    >>> read_volume("5 gal", "en_US"), read_volume("1 imp gal", "en_US")
    (Decimal('18927.058920'), Decimal('4546.09'))
    """
    return read_quantity(text, VOLUME, locale)


_TEMPERATURE = re.compile(r"(?P<number>[+\-]?[\d.,٫]+) ?(?:°|deg(?:rees)?)? ?(?P<scale>[CcFf])?")


def read_temperature(text: str, locale: str) -> Decimal:
    """Degrees Celsius; a bare number is Celsius, ``95 F`` is not.

    >>> read_temperature("20", "en_US"), read_temperature("95 F", "en_US"), read_temperature("-4 °F", "en_US")
    (Decimal('20'), Decimal('35'), Decimal('-20'))
    """
    found = _TEMPERATURE.fullmatch(fold(text))
    if not found:
        raise NumberUnclear(text, text, locale, do="Write it like “20 C” or “68 F”.")
    degrees = read_number(found["number"], locale, text=text)
    if (found["scale"] or "C") in "Ff":
        degrees = (degrees - 32) * 5 / 9
    return degrees
