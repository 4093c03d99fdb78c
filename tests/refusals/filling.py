"""Cases of filling day."""

from datetime import date
from decimal import Decimal

from labelkit.errors.filling import (
    LotHasNoSuchJars,
    LotSizeUnclear,
    LotTestUnknown,
    MarginFarTooLarge,
    MarketMissing,
    MoreWeightsThanJars,
    NoPastRuns,
    NoWeights,
    SpreadUnclear,
    TareImpossible,
    UnitUnclear,
    WeightFarFromLabel,
    WeightsInMixedUnits,
    WeightsKeptAlready,
    WeightUnclear,
)
from labelkit.measures import Declared, Mass
from labelkit.reading.weight_list import of_options
from labelkit.reading.weights import read_tare, read_weights
from labelkit.rules import market
from labelkit.run.check_weighing.margin import Habit, habit_of, margin_for
from labelkit.run.fill_test import terms
from labelkit.run.weighed import CheckWeighed, refuse_twice
from tests.run.judging import fill_test

UK = market("uk", date(2026, 11, 25))
JAR = Mass.read("340 g", "en_US")


def read(*weights):
    return lambda: read_weights(of_options(weights), JAR, "en_US")


def surely():
    margin_for(
        terms(Declared.read("340 g", "en_US"), UK, 24), Habit(Decimal(0), Decimal(2), Decimal(0), 9, 1), Decimal(1)
    )


def kept_twice():
    check = CheckWeighed(date(2026, 7, 14), "L26195AXR", "jar", Declared.read("340 g", "en_US"), (JAR, JAR, JAR))
    refuse_twice(check, [check])


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (NoWeights, lambda: fill_test(Declared.read("340 g", "en_US"), UK, 24, ()), "This lot needs 24."),
    (WeightUnclear, read("abc"), "its digits are not one number"),
    (
        WeightsInMixedUnits,
        read("340 g", "12 oz"),
        "Weigh all jars of the test on one scale in one unit, and type what it shows.",
    ),
    (WeightFarFromLabel, read("341", "3.4"), "Was 340 g meant?"),
    (UnitUnclear, read("77"), "“77” does not match 340 g in g, kg, oz or lb."),
    (TareImpossible, lambda: read_tare("-5 g", JAR, "en_US"), "an empty jar weighs more than nothing"),
    (
        MoreWeightsThanJars,
        lambda: fill_test(Declared.read("340 g", "en_US"), UK, 1, of_options(["340 g"] * 2)),
        "a lot of 1 jars",
    ),
    (LotSizeUnclear, lambda: terms(Declared.read("340 g", "en_US"), UK, 0), "labelkit cannot test a lot of 0 jars."),
    (LotTestUnknown, lambda: terms(Declared.read("340 g", "en_US"), UK, 24, system="AQS"), "average, minimum"),
    (SpreadUnclear, surely, "the chance that a lot passes"),
    (NoPastRuns, lambda: habit_of([]), "Your past runs have 0 weighed jars of this size."),
    (WeightsKeptAlready, kept_twice, "3 weights of jar, lot L26195AXR"),
    (LotHasNoSuchJars, say(LotHasNoSuchJars("L26195AXR", "quart", "57 × one pound")), "has no quart jars"),
    (MarketMissing, say(MarketMissing()), "labelkit start --market us"),
    (
        MarginFarTooLarge,
        say(MarginFarTooLarge("jar", "300 g", "340 g")),
        "Give only the amount above the fill target, for example 1.5 g.",
    ),
]
