"""Whether a jar suits what it declares: how much honey it takes to its fill line, and how full the label leaves it.

That a jar below nine tenths of its fill line looks short to a buyer is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.honey.density import density
from labelkit.honey.volume import USUAL_HEADSPACE, headspace_checked
from labelkit.measures import Mass, show_both
from labelkit.measures.locales import show_percent

LOOKS_FULL = Decimal(90)
# The honey of a jar whose own is not known: as dense as ripe honey usually is, so that the line is not overrated.
USUAL_MOISTURE = Decimal(18)


@dataclass(frozen=True, slots=True)
class JarRoom:
    """A jar size: what its label makes it owe, and what it takes to the fill line."""

    size: str
    owes: Mass
    takes: Mass

    @property
    def percent(self) -> Decimal:
        """How full a jar is that holds what it owes, in per cent of its fill line."""
        return self.owes.g * 100 / self.takes.g

    def words(self, locale: str) -> str:
        """What is wrong with the jar, with the figures; nothing where it suits."""
        owes, takes = show_both(self.owes, locale), show_both(self.takes, locale)
        if self.owes > self.takes:
            return (
                f"A {self.size} jar takes {takes} to its fill line, and its label makes it owe {owes}: "
                "it would stand over the line. Take a larger jar, or declare less."
            )
        if self.percent < LOOKS_FULL:
            full = show_percent(self.percent, locale, digits=0)
            return (
                f"A {self.size} jar filled to its label ({owes}) is {full} full; it takes {takes} to its fill line, and "
                "that is what the plan and the run sheet reckon with. Declare what it holds, or take a smaller jar."
            )
        return ""


def to_the_line(brimful_ml: Decimal, moisture: Decimal = USUAL_MOISTURE, headspace: Decimal | None = None) -> Mass:
    """What a jar of this brimful volume takes to its fill line; ``headspace`` in per cent of the volume, 7 unless said.

    Raises :class:`~labelkit.errors.honey.HeadspaceUnclear` and what refuses a moisture.

    >>> to_the_line(Decimal(116), Decimal(18), Decimal(15)).g
    Decimal('139.475')
    """
    share = 1 - headspace_checked(USUAL_HEADSPACE if headspace is None else headspace) / 100
    return Mass.of_grams(brimful_ml * share * density(moisture).kg_per_l)
