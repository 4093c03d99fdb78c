"""Cases of the plan room."""

import tempfile
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from labelkit.errors.plan import (
    AtLeastAboveAtMost,
    AtLeastAboveHoney,
    AtLeastAboveStock,
    CaseDoesNotFit,
    FilePlanNotKept,
    JarFitsNoBucket,
    KeepTooMuch,
    MixUnclear,
    NamedTwice,
    NoPlanInTime,
    NothingToKeep,
    NothingToPlan,
    NumberImpossible,
    PriceRises,
    RecountFailed,
    SizeNotHere,
    TogetherAboveHoney,
    UseFirstImpossible,
)
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money
from labelkit.plan import Goal, JarSize, Keep, PlanBucket, PlanRequest, Step, jar_plan
from labelkit.plan.verify_plan import verify_plan
from labelkit.plan.wishes import Planning
from labelkit.season import open_season
from labelkit.season.kept_plan import keep_plan
from labelkit.season.price import SizePrice, set_price
from labelkit.season.weigh import weigh


def usd(amount: str) -> Money:
    return Money.of(amount, "USD")


KILO = JarSize("kilo", Declared.read("1 kg", "en_US"), Mass.of_grams(1000), usd("20"), usd("2"))
HALF = JarSize("half kilo", Declared.read("500 g", "en_US"), Mass.of_grams(500), usd("11"), usd("1"))
BUCKETS = (PlanBucket("B1", Mass.of_grams(10_400)), PlanBucket("B2", Mass.of_grams(5_700)))
REQUEST = PlanRequest(BUCKETS, (KILO, HALF), "USD")


def asked(*sizes: JarSize, **more):
    return lambda: jar_plan(replace(REQUEST, sizes=sizes or REQUEST.sizes, **more))


def tampered():
    plan = jar_plan(REQUEST)
    return verify_plan(REQUEST, replace(plan, value=plan.value + usd("0.01")))


def kept_without_a_jar():
    with (
        tempfile.TemporaryDirectory() as folder,
        open_season(Path(folder) / "a.labelkit", create=True) as season,
        season.work() as work,
    ):
        day = date(2026, 7, 14)
        weigh(work, Intake("B1", net=Mass.of_grams(5_000)), day, "en_US")
        set_price(work, SizePrice("kilo", usd("20"), KILO.declares, usd("2")), day)
        keep_plan(work, Planning(at_most={"kilo": 0}), day)


def kept_of_a_file():
    raise FilePlanNotKept("season.toml")


def stuck():
    heather, lime = (replace(BUCKETS[0], tags=frozenset({"heather"})), replace(BUCKETS[1], use_first=True))
    few = replace(HALF, at_least=7, at_most=7, only_from=frozenset({"heather"}))
    jar_plan(replace(REQUEST, buckets=(heather, lime), sizes=(replace(KILO, at_most=1), few)))


WET = (PlanBucket("B1", Mass.of_grams(10_000), moisture=Decimal("21.0"), ceiling=Decimal("18.6")),)

CASES = [
    (NothingToPlan, asked(buckets=()), "There is no bucket to plan with."),
    (NothingToPlan, asked(buckets=WET), "B1: moisture 21 % is over the limit of 18.6 %"),
    (NothingToPlan, lambda: jar_plan(replace(REQUEST, sizes=())), "There is no jar size to plan with."),
    (NamedTwice, asked(KILO, KILO), "The jar size “kilo” is in the list twice"),
    (NamedTwice, asked(buckets=BUCKETS + BUCKETS[:1]), "The bucket “B1” is in the list twice"),
    (SizeNotHere, asked(goal=Goal.SIZE_FIRST, first="quart"), "names the jar size “quart”"),
    (SizeNotHere, asked(goal=Goal.MIX, mix=(("quart", Decimal(1)),)), "names the jar size “quart”"),
    (NumberImpossible, asked(replace(KILO, case=0)), "“kilo”:"),
    (NumberImpossible, asked(replace(KILO, fill=Mass(0))), "the fill is 0 g"),
    (NumberImpossible, asked(buckets=(PlanBucket("B1", Mass(-1)),)), "“B1”: what may be filled is"),
    (NumberImpossible, asked(keep=(Keep("feed", Mass(0)),)), "the mass to keep is 0 g"),
    (NumberImpossible, asked(replace(KILO, steps=(Step(0, usd("9")),))), "after 0 jars"),
    (AtLeastAboveAtMost, asked(replace(KILO, at_least=5, at_most=3)), "the minimum is 5 and the maximum 3, 2 lower."),
    (
        AtLeastAboveStock,
        asked(replace(KILO, at_least=5, reserve=2, in_stock=4)),
        "you want 7 jars but have only 4 empty ones, 3 short.",
    ),
    (CaseDoesNotFit, asked(replace(KILO, at_least=5, at_most=10, case=12)), "The next is 12, 2 too many."),
    # One bucket of 10.4 kg and one of 5.7 kg: 10 + 5 kilo jars, whatever else is done.
    (
        AtLeastAboveHoney,
        asked(replace(KILO, at_least=17)),
        "You are 2 short (2 kg of honey).",
    ),
    (
        JarFitsNoBucket,
        asked(replace(KILO, fill=Mass.of_grams(11_000), at_least=1)),
        "you want 1, but one jar needs 11 kg and the fullest bucket allowed has 10.4 kg, 600 g short.",
    ),
    # 14 kilos leave room for 1.4 kg + 0.7 kg or less: 3 halves, of 6 asked for, and none may come short of a kilo first.
    (
        TogetherAboveHoney,
        asked(replace(KILO, at_least=14), replace(HALF, at_least=6)),
        "“half kilo” 3 short (3 of 6 can be filled) (1.5 kg",
    ),
    (
        KeepTooMuch,
        asked(keep=(Keep("feed", Mass.of_grams(12_000)),)),
        "You want to keep 12 kg for “feed”, but the fullest bucket has 10.4 kg, 1.6 kg short.",
    ),
    (UseFirstImpossible, stuck, "The plan cannot empty B2 first within every minimum, maximum and case."),
    (PriceRises, asked(replace(KILO, steps=(Step(5, usd("21")),))), "the price rises from $20.00 to $21.00."),
    (MixUnclear, asked(goal=Goal.MIX), "no size is named"),
    (MixUnclear, asked(goal=Goal.MIX, mix=(("kilo", Decimal(-1)),)), "“kilo” has the share -1"),
    (
        NoPlanInTime,
        lambda: (_ for _ in ()).throw(NoPlanInTime(1)),
        "No plan that meets every limit was found with --patience 1.",
    ),
    (RecountFailed, tampered, "its jars are worth 31000, not 31001"),
    (NothingToKeep, kept_without_a_jar, "fills no jar"),
    (FilePlanNotKept, kept_of_a_file, "season.toml"),
]
