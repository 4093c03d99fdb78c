"""Colour on the Pfund scale from an absorbance, for those without a grader.

Classes and their words are law and grade, and stand with the rules; here is only the conversion.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import FigureUnlikely
from labelkit.honey.source import MEMORY
from labelkit.measures.rounding import plain

# What a photometer reads well; beyond it a transmission in percent was typed. Our own limits.
_READABLE = (Decimal(0), Decimal(2))


@dataclass(frozen=True, slots=True)
class Pfund:
    """A colour in millimetres Pfund; ``raw`` may be below zero, where the scale has ended."""

    mm: Decimal
    raw: Decimal
    sure: str = MEMORY
    notes: tuple[str, ...] = (
        "The equation (White 1984) is recalled from memory; grade by a Pfund grader or its optical comparator.",
    )


def pfund_from_absorbance(absorbance: Decimal) -> Pfund:
    """Millimetres Pfund from the absorbance at 635 nm of a 50 % (weight in volume) honey solution, 1 cm.

    Raises :class:`~labelkit.errors.honey.FigureUnlikely`.

    >>> pfund_from_absorbance(Decimal("0.25")).mm, pfund_from_absorbance(Decimal("0.08")).mm
    (Decimal('54.1475'), Decimal('0'))
    """
    if not _READABLE[0] <= absorbance <= _READABLE[1]:
        raise FigureUnlikely("an absorbance", plain(absorbance), "0", "2")
    raw = Decimal("-38.70") + Decimal("371.39") * absorbance
    return Pfund(max(raw, Decimal(0)), raw)
