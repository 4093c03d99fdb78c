"""How to fill next, learnt from one's own past runs: what to aim at, what a jar will really take, what a gram costs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.sentence import Sentence
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.locales import show_percent
from labelkit.measures.rounding import DOWN, UP, to_step
from labelkit.run.check_weighing.chance import chance_of_passing
from labelkit.run.check_weighing.lot_test import LotTest
from labelkit.run.check_weighing.margin import STEP, Habit, PastRun, habit_of, margin_for
from labelkit.run.outcome import worth_of

USUAL_CHANCE = Decimal("0.95")


@dataclass(frozen=True, slots=True)
class NextFill:
    """How the next lots of one size are filled so that each passes with the wished chance.

    ``aim`` is the net weight to fill to on the scale, never below what the jar owes; ``takes`` is what a jar will
    really hold on average, and what a plan has to reckon with. They differ by the habit: who always runs over fills
    to less. ``chance`` is the smallest over all lot sizes and markets looked at, where the jars hold ``takes``.
    """

    size: str
    declares: Declared
    owes: Mass
    aim: Mass
    takes: Mass
    habit: Habit
    wanted: Decimal
    chance: float
    lots: tuple[int, ...]
    tests: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def margin(self) -> Mass:
        """How far above what it owes to aim."""
        return self.aim - self.owes

    @property
    def above(self) -> Mass:
        """How far above what it owes a jar will hold on average."""
        return self.takes - self.owes

    def passes(self, tests: Sequence[LotTest]) -> float:
        """The chance that a lot passes these tests, where its jars hold what ``takes`` says on average."""
        return min((_chance(test, self.takes, self.habit) for test in tests), default=0.0)

    def each_gram(self, jars: int, brings: Money) -> Money:
        """What one further gram in each of so many jars costs: honey that would have brought money in jars."""
        return worth_of(Mass.of_grams(jars), self.owes, brings)


def next_fill(
    size: str,
    declares: Declared,
    owes: Mass,
    runs: Iterable[PastRun],
    tests: Callable[[int], Sequence[LotTest]],
    lots: Iterable[int],
    wanted: Decimal = USUAL_CHANCE,
) -> NextFill:
    """How to fill a size next.

    ``owes`` is what the label makes a jar owe, ``tests`` gives the tests (one for each market) a lot of so many jars
    has to pass, ``lots`` are the lot sizes to be safe for. Raises
    :class:`~labelkit.errors.filling.NoPastRuns` and :class:`~labelkit.errors.filling.SpreadUnclear`.

    >>> from labelkit.run.check_weighing.lot_test import Stage
    >>> def whole(n): return [LotTest("x", "average", "x", Decimal(340), n, n, n, Decimal(0), (Stage(n, 1, 2),), Decimal("10.2"))]
    >>> past = [PastRun(Decimal("0.5"), Decimal(2), 24)]
    >>> found = next_fill("jar", "340 g", Mass.of_grams(340), past, whole, [24])
    >>> found.aim.g, found.takes.g, found.chance >= 0.95
    (Decimal('340.5'), Decimal('341'), True)
    """
    habit = habit_of(runs)
    lots = tuple(sorted({lot for lot in lots if lot > 0}))
    to_pass = [test for lot in lots for test in tests(lot)]
    above = max(
        (test.label + margin_for(test, habit, wanted).above_label - owes.g for test in to_pass), default=Decimal(0)
    )
    above = max(above, Decimal(0))
    aim = max(owes, Mass.of_grams(to_step(owes.g + above - habit.above_target, STEP, UP)))
    # A habit beyond the margin cannot be taken off: nobody is told to aim below the label.
    takes = max(aim + Mass.of_grams(habit.above_target), owes + Mass.of_grams(above))
    chance = min((_chance(test, takes, habit) for test in to_pass), default=0.0)
    notes = list(habit.notes)
    unplanned = sorted({test.name for test in to_pass if not test.planned})
    notes += [
        f"{name} prints no plan for lots as small as some of these; weigh every jar of such a lot."
        for name in unplanned
    ]
    if chance < wanted:
        notes.append(
            "No margin gives the wished chance: your jars differ too much from one another. Fill more evenly first."
        )
    names = tuple(dict.fromkeys(test.name for test in to_pass))
    return NextFill(size, declares, owes, aim, takes, habit, wanted, chance, lots, names, tuple(notes))


def _chance(test: LotTest, takes: Mass, habit: Habit) -> float:
    above = float(takes.g - test.label)
    return chance_of_passing(test, above, float(habit.spread), float(habit.to_come)).at_least


def odds(chance: float, locale: str) -> Sentence:
    """A chance of passing in words, never rounded up to certainty.

    >>> odds(0.9561, "en_US"), odds(0.99999, "en_US")
    ('at least 95.6%', 'more than 99.9%')
    """
    percent = to_step(Decimal(repr(chance)) * 100, Decimal("0.1"), DOWN)
    if percent >= Decimal("99.9"):
        return Sentence("more than {percent}", percent=show_percent(Decimal("99.9"), locale))
    return Sentence("at least {percent}", percent=show_percent(percent, locale))
