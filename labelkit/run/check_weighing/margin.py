"""The fill margin: how far above the label to fill, learnt from your own past runs, and what each gram costs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.filling import NoPastRuns, SpreadUnclear
from labelkit.measures import Mass, Money
from labelkit.measures.rounding import HALF_UP, UP, to_step
from labelkit.run.check_weighing.chance import Chance, chance_of_passing
from labelkit.run.check_weighing.lot_test import LotTest

STEP = Decimal("0.1")
_FEW_RUNS = 10
_FEW_JARS = 30  # below this many the spread itself is known only to a quarter or so


@dataclass(frozen=True, slots=True)
class PastRun:
    """What the jars of one past run weighed: mean above the fill target, spread, and how many were weighed (grams).

    ``above_target`` is ``None`` where nobody wrote down what the run was filled to: its spread still counts.
    """

    above_target: Decimal | None
    stdev: Decimal
    jars: int


@dataclass(frozen=True, slots=True)
class Habit:
    """How this producer fills: habitually above or below the target, spread from jar to jar and from run to run."""

    above_target: Decimal
    spread: Decimal
    between_runs: Decimal
    jars: int
    runs: int
    aimed: int | None = None  # how many of the runs say what they were filled to; all, unless given

    @property
    def to_come(self) -> Decimal:
        """How far the next run's mean may stray from the habit (standard deviation, grams).

        The runs differ from one another, and the habit itself is only as well known as the jars behind it: the
        variance of a prediction is that of a run plus that of the mean of the past ones.

        >>> round(Habit(Decimal(0), Decimal(2), Decimal("0.6"), 72, 6).to_come, 3)
        Decimal('0.690')
        """
        known = self.runs if self.aimed is None else self.aimed
        if not self.jars or not known:
            return self.between_runs
        between = self.between_runs**2
        return (between + between / known + self.spread**2 / self.jars).sqrt()

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know before trusting it."""
        if not self.jars:
            return ("The spread is the one that was given, not one that was weighed.",)
        found = []
        if self.jars < _FEW_JARS:
            found.append(f"Only {self.jars} jars were weighed so far: take the margin as a first guess and weigh more.")
        known = self.runs if self.aimed is None else self.aimed
        if not known:
            found.append(
                "What those runs were filled to is not known; you are taken to fill neither over nor under it."
            )
        if known < 3:
            found.append("How much one run differs from the next is not known from fewer than three runs.")
        elif known < _FEW_RUNS:
            found.append("From so few runs the chance of passing is itself only known to a few in a hundred.")
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Margin:
    """How far above the label to aim, the chance of passing there, and where the scale should stand."""

    above_label: Decimal
    aim: Decimal  # net grams to fill to, habit taken into account
    chance: Chance
    habit: Habit
    wanted: Decimal
    notes: tuple[str, ...] = ()


def habit_of(runs: Iterable[PastRun]) -> Habit:
    """Pool past runs: the within-run spread by degrees of freedom, the between-run spread by analysis of variance.

    Source: one-way random effects, NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.3 (pooled within-group mean
    square, between-group mean square). Raises :class:`~labelkit.errors.filling.NoPastRuns`.

    >>> habit = habit_of([PastRun(Decimal("1.0"), Decimal("2.0"), 12), PastRun(Decimal("2.0"), Decimal("2.0"), 12)])
    >>> habit.above_target, habit.spread, round(habit.between_runs, 3)
    (Decimal('1.5'), Decimal('2.0'), Decimal('0.408'))
    """
    known = [run for run in runs if run.jars >= 1]
    jars = sum(run.jars for run in known)
    freedom = sum(run.jars - 1 for run in known)
    if freedom < 1:
        raise NoPastRuns(jars)
    within = sum((run.stdev**2 * (run.jars - 1) for run in known), Decimal(0)) / freedom
    aimed = [(run.above_target, run.jars) for run in known if run.above_target is not None]
    mean, between = _between(aimed, within)
    return Habit(mean, within.sqrt(), between.sqrt(), jars, len(known), len(aimed))


def _between(aimed: Sequence[tuple[Decimal, int]], within: Decimal) -> tuple[Decimal, Decimal]:
    """The mean above the target, and the variance of that from run to run."""
    if not aimed:
        return Decimal(0), Decimal(0)
    jars = sum(count for _, count in aimed)
    mean = sum((above * count for above, count in aimed), Decimal(0)) / jars
    if len(aimed) == 1:
        return mean, Decimal(0)
    square = sum((count * (above - mean) ** 2 for above, count in aimed), Decimal(0)) / (len(aimed) - 1)
    usual = (jars - Decimal(sum(count**2 for _, count in aimed)) / jars) / (len(aimed) - 1)
    return mean, max((square - within) / usual, Decimal(0))


def margin_for(test: LotTest, habit: Habit, wanted: Decimal, *, never_below: Decimal = Decimal(0)) -> Margin:
    """The smallest margin, in tenths of a gram, with which a lot passes with at least the wanted chance.

    ``wanted`` lies between 0 and 1; ``never_below`` is a least margin (honest dealing asks for a mean that is not
    below the label, whatever a test would let pass). Raises :class:`~labelkit.errors.filling.SpreadUnclear`.

    >>> from labelkit.run.check_weighing.lot_test import Stage
    >>> lot = LotTest("x", "average", "x", Decimal(340), 24, 24, 24, Decimal(0), (Stage(24, 1, 2),), Decimal("10.2"))
    >>> margin_for(lot, Habit(Decimal("0.5"), Decimal(2), Decimal(0), 60, 5), Decimal("0.95")).above_label
    Decimal('0.8')
    """
    if not 0 < wanted < 1:
        raise SpreadUnclear("the chance that a lot passes", str(wanted), "0.95 or 0.99")
    if habit.spread < 0 or not habit.spread.is_finite():
        raise SpreadUnclear("the spread of a filling", str(habit.spread), "1.2 g")

    def chance(tenths: int) -> Chance:
        return chance_of_passing(test, tenths / 10, float(habit.spread), float(habit.to_come))

    low = math.floor(never_below * 10)
    high = max(low, 1)
    reach = int(20 * (habit.spread + habit.between_runs + test.tolerance) * 10) + 100
    while chance(high).at_least < wanted and high < reach:
        high *= 2
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if chance(middle).at_least >= wanted else (middle + 1, high)
    above = Decimal(low) / 10
    aim = to_step(test.label + above - habit.above_target, STEP, UP)
    return Margin(above, aim, chance(low), habit, wanted, habit.notes)


def cost_of_a_gram(jars: int, price_per_kg: Money) -> Money:
    """What one more gram in every jar of a run costs, in honey that could have been sold.

    >>> cost_of_a_gram(120, Money.of("24.00", "USD"))
    Money(minor=288, currency='USD')
    """
    return Money(int(to_step(Decimal(price_per_kg.minor) * jars / 1000, Decimal(1), HALF_UP)), price_per_kg.currency)


def given_away(above_label: Decimal, jars: int) -> Mass:
    """Honey given away above the label over a run.

    >>> given_away(Decimal("2.5"), 120).g
    Decimal('300')
    """
    return Mass.of_grams(above_label * jars)
