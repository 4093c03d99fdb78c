"""What a sample of weighed jars says: mean, spread, and which jars are how short."""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from labelkit.measures import Mass


@dataclass(frozen=True)
class Sample:
    """Net weights in the order they were weighed.

    >>> jars = Sample((Mass.of_grams("340.5"), Mass.of_grams("339.5"), Mass.of_grams("341.0")))
    >>> round(jars.mean, 4), round(jars.stdev, 4)
    (Decimal('340.3333'), Decimal('0.7638'))
    """

    weights: tuple[Mass, ...]

    def __len__(self) -> int:
        return len(self.weights)

    @cached_property
    def mean(self) -> Decimal:
        """The mean net weight in grams."""
        return statistics.mean(weight.g for weight in self.weights)

    @cached_property
    def stdev(self) -> Decimal:
        """The sample standard deviation in grams (over n − 1); zero for a single jar."""
        return statistics.stdev(weight.g for weight in self.weights) if len(self) > 1 else Decimal(0)

    def below(self, limit: Decimal) -> tuple[int, ...]:
        """The places (from 1) of the jars that hold less than ``limit`` grams."""
        return tuple(place for place, weight in enumerate(self.weights, 1) if weight.g < limit)

    def at(self, place: int) -> Mass:
        """The weight of the jar at a place (from 1)."""
        return self.weights[place - 1]
