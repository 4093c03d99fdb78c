"""Of equally good plans the stated one is taken: fewest jars, then the sizes that stand first, then the earlier bucket."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given

from labelkit.measures import Declared, Mass, Money
from labelkit.plan import JarSize, PlanBucket, PlanRequest, jar_plan
from labelkit.plan.search.packing import totals_of
from labelkit.plan.search.strategies import solve_packing
from labelkit.plan.search.tie_breaking import break_ties, sort_equal_bins
from tests.plan.test_search import every_total, packings


@given(packings())
def test_of_all_best_totals_the_fewest_jars_and_then_the_first_sizes_are_taken(packing):
    found = solve_packing(packing)
    if found.patterns is None:
        return
    taken = break_ties(packing, found.patterns)
    assert packing.is_feasible(taken)
    assert packing.value(taken) == found.value
    best = [
        total
        for total in every_total(packing)
        if all(
            i.minimum <= n <= i.maximum and (n - i.minimum) % i.case == 0
            for i, n in zip(packing.items, total, strict=True)
        )
        and sum(i.value(n) for i, n in zip(packing.items, total, strict=True)) == found.value
    ]

    def rank(total):
        return sum(total), sum(place * n for place, n in enumerate(total))

    assert rank(totals_of(taken, len(packing.items))) == min(map(rank, best))


@given(packings())
def test_bins_that_are_alike_are_dealt_the_larger_items_in_order(packing):
    packing = replace(packing, bins=packing.bins + packing.bins)
    found = solve_packing(packing)
    if found.patterns is None:
        return
    taken = sort_equal_bins(packing, found.patterns)
    assert packing.is_feasible(taken)
    assert totals_of(taken, len(packing.items)) == totals_of(found.patterns, len(packing.items))
    heaviest = sorted(range(len(packing.items)), key=lambda i: (-packing.weights[i], i))
    half = len(packing.bins) // 2
    for first, second in zip(taken[:half], taken[half:], strict=True):
        assert [first[i] for i in heaviest] >= [second[i] for i in heaviest]


def usd(amount: str) -> Money:
    return Money.of(amount, "USD")


def test_two_half_kilos_that_bring_as_much_as_one_kilo_give_way_to_it():
    kilo = JarSize("kilo", Declared.read("1 kg", "en_US"), Mass.of_grams(1000), usd("21"), usd("1"))
    half = JarSize("half", Declared.read("500 g", "en_US"), Mass.of_grams(500), usd("11"), usd("1"))
    request = PlanRequest((PlanBucket("B1", Mass.of_grams(4_600)),), (half, kilo), "USD")
    # 4.5 kg are filled whatever the jars; one half and four kilos are the fewest jars that do it.
    assert jar_plan(request).jars == {"half": 1, "kilo": 4}


def test_of_two_sizes_alike_in_all_but_name_the_first_is_filled():
    one = JarSize("round", Declared.read("1 kg", "en_US"), Mass.of_grams(1000), usd("21"), usd("1"))
    request = PlanRequest((PlanBucket("B1", Mass.of_grams(3_500)),), (one, replace(one, id="square")), "USD")
    assert jar_plan(request).jars == {"round": 3, "square": 0}
    turned = replace(request, sizes=request.sizes[::-1])
    assert jar_plan(turned).jars == {"square": 3, "round": 0}


def test_what_is_found_does_not_hang_on_the_order_of_the_buckets():
    kilo = JarSize("kilo", Declared.read("1 kg", "en_US"), Mass.of_grams(1000), usd("21"), usd("1"), in_stock=9)
    half = JarSize("half", Declared.read("500 g", "en_US"), Mass.of_grams(500), usd("11"), usd("1"))
    buckets = tuple(PlanBucket(f"B{n}", Mass.of_grams(g)) for n, g in enumerate((4_600, 5_200, 3_900)))
    one = jar_plan(PlanRequest(buckets, (kilo, half), "USD"))
    other = jar_plan(PlanRequest(buckets[::-1], (kilo, half), "USD"))
    assert one.jars == other.jars
