"""Printer dots: a bar is a whole number of them, or it is not the bar it was meant to be.

A bar set 0.330 mm wide is 3.9 dots of a 300 dpi printer, so some of its bars come out 3 dots wide and some 4, and a
scanner sees a symbol nobody made. "Ensure software matches module widths to integer number of pixels after all
adjustments" is how GS1 General Specifications put it; this module is where that happens.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.labels import ModuleOutOfRange
from labelkit.measures import Length

INCH_UM = 25_400


@dataclass(frozen=True, slots=True)
class Module:
    """The narrowest bar or the side of one square: a whole number of dots of one printer.

    >>> Module(4, 300).mm
    Decimal('0.3387')
    """

    dots: int
    dpi: int

    @property
    def mm(self) -> Decimal:
        """Millimetres, to a tenth of a micrometre; for showing."""
        return self.times(1).quantize(Decimal("0.0001"))

    def times(self, modules: int) -> Decimal:
        """The width of so many modules in millimetres."""
        return Decimal(modules * self.dots * INCH_UM) / self.dpi / 1000

    def um(self, modules: int) -> int:
        """The room so many modules take, in whole micrometres, rounded up."""
        return -(-modules * self.dots * INCH_UM // self.dpi)

    def points(self, modules: float) -> float:
        """The width of so many modules in PostScript points, for drawing."""
        return modules * self.dots * 72 / self.dpi


def snapped(wanted: Length, dpi: int, least: Length, most: Length | None = None, what: str = "The symbol") -> Module:
    """The whole number of dots nearest to ``wanted``, but never under ``least`` nor over ``most``.

    Raises :class:`~labelkit.errors.labels.ModuleOutOfRange` when no whole number of dots lies between the two.

    At 300, 600 and 1200 dpi a bar of 0.330 mm lands on the same 0.3387 mm:

    >>> [snapped(Length.of_mm("0.330"), dpi, Length.of_mm("0.264")).dots for dpi in (203, 300, 600, 1200)]
    [3, 4, 8, 16]
    """
    dots = max(1, (2 * wanted.um * dpi + INCH_UM) // (2 * INCH_UM))
    while dots * INCH_UM < least.um * dpi:
        dots += 1
    while most is not None and dots > 1 and dots * INCH_UM > most.um * dpi:
        dots -= 1
    if dots * INCH_UM < least.um * dpi or (most is not None and dots * INCH_UM > most.um * dpi):
        raise ModuleOutOfRange(what, str(wanted.mm), str(least.mm), str(most.mm if most else "—"), dpi)
    return Module(dots, dpi)


def on_grid(um: int, dpi: int) -> int:
    """The dot a place falls on, as a count of dots from the page's edge (nearest)."""
    return (2 * um * dpi + INCH_UM) // (2 * INCH_UM)
