"""The terms on which a lot is judged, whatever the market: a mean, and jars that are short.

Every market's test has the same bones. The mean of the sample may lie below the label by a factor times the spread.
Only so many jars may be short by more than a tolerance, in one stage of sampling or in two. Hardly any, or none, may
be short by more than twice that. What differs is the numbers, and those come from the packs.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any


@dataclass(frozen=True, slots=True)
class Stage:
    """After so many jars, at most ``allowed`` short ones pass the lot and ``reject`` or more fail it."""

    sample: int
    allowed: int
    reject: int


@dataclass(frozen=True, slots=True)
class LotTest:
    """The terms for one lot: label and tolerances in grams, jars as counts.

    ``factor`` is ``None`` where the mean is not judged at all (a lot of one), ``deep`` where no jar is looked at
    twice. ``stricter`` is the factor the same plan has for as many jars as were weighed, where those are more than it
    asks for; the law does not use it, a careful packer does. ``planned`` is false where the law prints no plan for so
    small a lot: then nothing can be passed by it, only failed or asked about.
    """

    market: str
    system: str
    name: str
    label: Decimal
    lot: int
    sample: int
    mean_sample: int
    factor: Decimal | None
    stages: tuple[Stage, ...]
    tolerance: Decimal
    deep: Decimal | None = None
    deep_allowed: int = 0
    step_share: Fraction | None = None
    stricter: Decimal | None = None
    planned: bool = True
    choice: str = ""  # what a packer may choose between here, where nobody has chosen
    laws: tuple[Any, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def shortest(self) -> Decimal:
        """A jar below this many grams counts as short."""
        return self.label - self.tolerance

    @property
    def deepest(self) -> Decimal | None:
        """A jar below this many grams may not be sold, where the market has such a limit."""
        return None if self.deep is None else self.label - self.deep

    def stage(self, weighed: int) -> Stage | None:
        """The stage that so many weighed jars have reached."""
        reached = [stage for stage in self.stages if stage.sample <= weighed]
        return reached[-1] if reached else None

    def coarsest_step(self) -> Decimal | None:
        """The coarsest scale division (grams) this test bears, where the market says."""
        if self.step_share is None or not self.tolerance:
            return None
        return self.tolerance * self.step_share.numerator / self.step_share.denominator
