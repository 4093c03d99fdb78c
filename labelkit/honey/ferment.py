"""Whether honey will ferment within a year, by its moisture and yeast count.

Source: the table after A. G. Lochhead (1933) as printed in *A Practical Manual of Beekeeping*, table 2, and quoted
from USDA Agriculture Handbook 335, *Beekeeping in the United States*. Read: second-hand. The table prints 18.0 and
18.1, 19.0 and 19.1: the gap is closed by rounding the moisture to 0.1 % first.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.honey.moisture import checked
from labelkit.honey.source import SECOND_HAND
from labelkit.measures.rounding import HALF_UP, to_step

# (moisture up to and including, risk without a yeast count, keeps a year if the yeasts per gram are below)
_BANDS = (
    (Decimal("17.0"), "safe", None, "Safe for a year whatever the yeast count."),
    (Decimal("18.0"), "low", 1000, "Probably safe for a year; sure only with fewer than 1,000 yeasts per gram."),
    (Decimal("19.0"), "high", 10, "Act: safe for a year only with fewer than 10 yeasts per gram."),
    (Decimal("20.0"), "high", 1, "Act: safe for a year only with fewer than 1 yeast per gram."),
)
#: Wetter honey ferments whatever its yeast count.
KEEPS_TO = _BANDS[-1][0]
_BEYOND = (
    "certain",
    None,
    "In danger whatever the yeast count: it will ferment unless it is kept cold, dried or heated.",
)


@dataclass(frozen=True, slots=True)
class FermentRisk:
    """``risk`` is safe, low, high or certain; ``yeast_below_per_g`` is the count below which it keeps a year, if any."""

    risk: str
    yeast_below_per_g: int | None
    moisture: Decimal
    says: str
    sure: str = SECOND_HAND
    notes: tuple[str, ...] = ()


def ferment_risk(moisture: Decimal, *, crystallised: bool = False, blended: bool = False) -> FermentRisk:
    """The risk that honey of this moisture (percent) ferments within a year.

    Raises :class:`~labelkit.errors.honey.NotAMoisture` for a figure honey cannot have.

    >>> ferment_risk(Decimal("17.6")).risk, ferment_risk(Decimal("19.5")).yeast_below_per_g
    ('low', 1)
    >>> ferment_risk(Decimal("17.04")).risk, ferment_risk(Decimal("20.1")).risk
    ('safe', 'certain')
    """
    water = to_step(checked(moisture), Decimal("0.1"), HALF_UP)
    risk, below, says = next((row[1:] for row in _BANDS if water <= row[0]), _BEYOND)
    notes = ["A producer seldom knows the yeast count: counts from below 1 to 100,000 per gram have been found."]
    if crystallised:
        notes.append("Crystals leave the liquid between them wetter; the same honey ferments sooner once it has set.")
    if blended:
        notes.append("Blending does not lower the yeast count: the yeasts of the wet part are in the whole blend.")
    return FermentRisk(risk, below, water, says, notes=tuple(notes))
