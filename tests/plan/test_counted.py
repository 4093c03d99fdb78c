"""Every plan of a grid of up to three buckets and three sizes against counting every possibility."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

import pytest

from labelkit.errors import Refused
from labelkit.measures import Declared, Mass, Money
from labelkit.plan import JarSize, PlanBucket, PlanRequest, Step, jar_plan
from tests.plan.counted import best_value

OUNCES = {"8 oz": 226_796, "12 oz": 340_194, "1 lb": 453_592, "2 lb": 907_184}
GRAMS = {"225 g": 225_000, "340 g": 340_000, "454 g": 454_000}
ODD = {"odd": 251_003, "odder": 389_017, "oddest": 523_009}
PRICES = {"8 oz": 701, "12 oz": 950, "1 lb": 1203, "2 lb": 2250, "225 g": 699, "340 g": 997, "454 g": 1301}
BUCKETS = [(2_500,), (700,), (1_700, 1_250), (2_000, 1_999), (1_500, 300), (1_500, 1_100, 900), (1_000, 1_000, 1_000)]
LIMITS = [
    {},
    {"in_stock": 2},
    {"at_most": 3, "case": 2},
    {"at_least": 2},
    {"at_least": 1, "at_most": 4, "case": 2, "in_stock": 4},
    {"reserve": 1, "at_most": 1},
    {"steps": (Step(1, Money(300, "USD")), Step(3, Money(90, "USD")))},
    {"case": 3, "in_stock": 7},
    {"in_stock": 1, "may_buy": True},
    {"reserve": 2, "case": 2, "at_most": 2, "steps": (Step(1, Money(400, "USD")),)},
    {"only_from": frozenset({"clover"})},
]


def size(name: str, fill: int, **limits) -> JarSize:
    price = PRICES.get(name, 100 + fill // 400)
    return JarSize(name, Declared.of_grams(Mass(fill).g), Mass(fill), Money(price, "USD"), Money(115, "USD"), **limits)


def grid():
    for fills in (OUNCES, GRAMS, ODD):
        for many in (1, 2, 3):
            for names in combinations(fills, many):
                for masses, limits, where in product(BUCKETS, LIMITS, (0, many - 1)):
                    if where and many == 1:
                        continue
                    sizes = tuple(
                        size(name, fills[name], **(limits if n == where else {})) for n, name in enumerate(names)
                    )
                    # Every second bucket is clover, so that a size kept to clover finds some and misses some.
                    buckets = tuple(
                        PlanBucket(f"B{n}", Mass(1000 * g), tags=frozenset({"clover"} if n % 2 == 0 else ()))
                        for n, g in enumerate(masses)
                    )
                    yield PlanRequest(buckets, sizes, "USD")


REQUESTS = list(grid())
PARTS = 12


@pytest.mark.exhaustive(one_in=12)
@pytest.mark.parametrize("part", range(PARTS))
def test_no_plan_of_the_grid_is_better_than_ours_and_ours_says_so(part):
    seen = 0
    for request in REQUESTS[part::PARTS]:
        best = best_value(request)
        if best is None:
            with pytest.raises(Refused):
                jar_plan(request)
            continue
        plan = jar_plan(request)
        assert plan.value.minor == best, request
        assert plan.status == "proved"
        assert plan.gap == 0
        seen += 1
    assert seen > 10


def test_a_jar_that_brings_nothing_is_filled_only_when_asked_for():
    dear = replace(size("1 lb", 453_592), cost=Money(1300, "USD"))
    even = replace(size("8 oz", 226_796), cost=Money(701, "USD"))
    request = PlanRequest((PlanBucket("B1", Mass.of_grams(2_000)),), (dear, even), "USD")
    assert jar_plan(request).jars == {"1 lb": 0, "8 oz": 0}
    assert jar_plan(replace(request, sizes=(replace(dear, at_least=2), even))).jars == {"1 lb": 2, "8 oz": 0}


def test_a_whole_case_is_filled_where_its_first_jars_pay_for_its_last():
    # Six jars bring 10.88, 10.88 and then -0.15 each: a case of four brings 21.46, of six jars the second case nothing.
    stepped = replace(size("1 lb", 453_592), case=4, steps=(Step(2, Money(100, "USD")),))
    request = PlanRequest((PlanBucket("B1", Mass.of_grams(5_000)),), (stepped,), "USD")
    plan = jar_plan(request)
    assert plan.jars == {"1 lb": 4}
    assert plan.value.minor == 2 * (1203 - 115) + 2 * (100 - 115)
    assert plan.value.minor == best_value(request)
