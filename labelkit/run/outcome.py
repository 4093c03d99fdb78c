"""What became of a run once its jars were weighed: held on average, given away, and how much of the unexplained it was.

A run is booked with the weight its jars were meant to hold. Check weights say what they really hold; the difference
times the jars is honey that was booked as unexplained (or as left in the bucket) and is in the jars.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures import NOTHING, Declared, Mass, Money, total
from labelkit.measures.rounding import HALF_UP
from labelkit.run.bottling import Run
from labelkit.run.weighed import Weighed


@dataclass(frozen=True, slots=True)
class Filling:
    """One size of a run: how many jars, what each owes by its label, and what was weighed.

    ``brings`` is what one jar brings over its cost, where it is known; it prices the honey given away.
    """

    size: str
    declares: Declared
    jars: int
    label: Mass
    booked: Mass  # what each was booked to hold
    weighed: Weighed | None = None
    brings: Money | None = None

    @property
    def above(self) -> Decimal | None:
        """Grams a jar holds above its label on average; negative below it.

        By check weights, else by the mean that was said when the run was booked; ``None`` where nothing but the label's own
        weight is known.
        """
        if self.weighed is not None:
            return self.weighed.above(self.label.g)
        return (self.booked - self.label).g if self.booked != self.label else None

    @property
    def given_away(self) -> Mass:
        """Honey above the label in all of them; nothing where they hold less, or nothing is known."""
        return Mass.of_grams(max(self.above or Decimal(0), Decimal(0)) * self.jars)

    @property
    def more_than_booked(self) -> Mass:
        """What all of them hold beyond what was booked; negative where it is less."""
        if self.weighed is None:
            return NOTHING
        return Mass.of_grams((self.weighed.jars.mean - self.booked.g) * self.jars)

    @property
    def worth(self) -> Money | None:
        """What the honey given away would have brought in further jars of this size; ``None`` where nobody can say."""
        return None if self.brings is None or self.above is None else worth_of(self.given_away, self.label, self.brings)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A run and its fillings, and how many hives its honey came from (0 where nobody named them)."""

    run: Run
    fillings: tuple[Filling, ...]
    hives: int = 0

    @property
    def given_away(self) -> Mass:
        """Over all sizes."""
        return total(filling.given_away for filling in self.fillings)

    @property
    def found_in_jars(self) -> Mass:
        """What the check weights find in the jars beyond what was booked."""
        return total(filling.more_than_booked for filling in self.fillings)

    @property
    def still_unexplained(self) -> Mass:
        """The unexplained difference less what was found in the jars.

        Only where the rest was weighed: a rest that was reckoned has no unexplained difference, and is itself off by
        what was found.
        """
        return self.run.unexplained - self.found_in_jars if self.run.left_was_weighed else NOTHING

    @property
    def per_hive(self) -> Mass | None:
        """What the run took, by hive."""
        return Mass(self.run.taken.mg // self.hives) if self.hives else None


def outcome(
    run: Run,
    weighed: Mapping[tuple[str, str], Weighed],
    labels: Mapping[str, Mass],
    brings: Mapping[str, Money],
    hives: int = 0,
) -> Outcome:
    """The outcome of a run: ``weighed`` by lot and size, ``labels`` what each size owes, ``brings`` price less cost.

    >>> from datetime import date
    >>> from labelkit.run.bottling import Filled
    >>> from labelkit.run.check_weighing.sample import Sample
    >>> pound = Filled("pound", "1 lb", 10, Mass.of_grams(454))
    >>> run = Run("L1", date(2026, 7, 14), "B1", Mass.of_grams(5000), (pound,), left=Mass.of_grams(430), left_was_weighed=True)
    >>> jars = Weighed("L1", "pound", "1 lb", Sample((Mass.of_grams(456), Mass.of_grams(457))), None)
    >>> found = outcome(run, {("L1", "pound"): jars}, {"pound": Mass.of_grams(454)}, {"pound": Money.of("9.08", "USD")})
    >>> found.given_away.g, found.fillings[0].worth.amount, run.unexplained.g, found.still_unexplained.g
    (Decimal('25'), Decimal('0.50'), Decimal('30'), Decimal('5'))
    """
    fillings = tuple(
        Filling(
            f.size,
            f.declares,
            f.count,
            labels.get(f.size, f.fill),
            f.fill,
            weighed.get((run.lot, f.size)),
            brings.get(f.size),
        )
        for f in run.jars
    )
    return Outcome(run, fillings, hives)


def worth_of(honey: Mass, jar: Mass, brings: Money) -> Money:
    """What so much honey would have brought in jars that take ``jar`` and bring ``brings`` each, to the nearest cent.

    >>> worth_of(Mass.of_grams(100), Mass.of_grams(500), Money.of("10.65", "USD")).amount
    Decimal('2.13')
    """
    return Money.rounded(brings.amount * honey.mg / jar.mg, brings.currency, HALF_UP)
