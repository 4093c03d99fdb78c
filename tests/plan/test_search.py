"""Each strategy of the optimiser on its own, against listing everything: bounds that hold, patterns that are real."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.plan.search.assignment_mip import solve_assignment
from labelkit.plan.search.column_generation import Columns
from labelkit.plan.search.dealing import assign_totals, in_few_bins, in_few_items
from labelkit.plan.search.knapsack import greedy_totals, price_bins, solve_surrogate, values_within
from labelkit.plan.search.local_exchange import Exchanges
from labelkit.plan.search.master_rounding import round_master
from labelkit.plan.search.packing import Bin, GoalConstraint, Item, Packing, restrict, totals_of
from labelkit.plan.search.reduced_cost_fixing import Cut, fix_packing, linear_bound, surrogate_cut
from labelkit.plan.search.strategies import Search, solve_packing
from labelkit.plan.search.subset_sum import max_fill, max_fills
from labelkit.plan.search.totals import best_totals


@st.composite
def items(draw):
    weight, case = draw(st.integers(3, 40)), draw(st.sampled_from((1, 1, 2, 3)))
    floor = draw(st.sampled_from((0, 0, 1))) * case
    segments, last = [], 60
    for _ in range(draw(st.integers(0, 2))):
        last = draw(st.integers(-3, last))
        segments.append((draw(st.integers(1, 2)) * case, last))
    return Item(
        weight, floor, floor + sum(n for n, _ in segments), case, draw(st.integers(-20, 60)) * floor, tuple(segments)
    )


@st.composite
def packings(draw):
    found = tuple(draw(st.lists(items(), min_size=1, max_size=3)))
    bins = []
    for capacity in draw(st.lists(st.integers(0, 90), min_size=1, max_size=3)):
        allowed = tuple(draw(st.sampled_from((True, True, False))) for _ in found)
        bins.append(Bin(capacity, 0, allowed))
    return Packing(tuple(bins), found)


def patterns_of(bin_: Bin, packing: Packing):
    """Every pattern of a bin."""
    ranges = [
        range(min(item.maximum, bin_.capacity // item.weight) + 1) if ok else (0,)
        for item, ok in zip(packing.items, bin_.allowed, strict=True)
    ]
    return [
        pattern
        for pattern in product(*ranges)
        if sum(n * w for n, w in zip(pattern, packing.weights, strict=True)) <= bin_.capacity
    ]


def every_total(packing: Packing) -> set[tuple[int, ...]]:
    """All totals that patterns of all bins can add up to, whatever floors and ceilings say."""
    totals = {(0,) * len(packing.items)}
    for bin_ in packing.bins:
        mine = patterns_of(bin_, packing)
        totals = {tuple(map(sum, zip(total, pattern, strict=True))) for total in totals for pattern in mine}
    return totals


def most(packing: Packing) -> int | None:
    """The best worth by listing everything; none where there are no patterns."""
    fair = [
        total
        for total in every_total(packing)
        if all(
            i.minimum <= n <= i.maximum and (n - i.minimum) % i.case == 0
            for i, n in zip(packing.items, total, strict=True)
        )
        and all(
            sum(g.value(n) for g, n in zip(constraint.items, total, strict=True)) >= constraint.minimum
            for constraint in packing.constraints
        )
    ]
    return max((sum(i.value(n) for i, n in zip(packing.items, total, strict=True)) for total in fair), default=None)


def by_strategy(packing: Packing, name: str) -> Search:
    """What the strategy for few bins, or that for many, finds, whatever the number of bins."""
    search = Search(packing, packing, packing.trivial_bound())
    getattr(search, name)()
    return search


@given(packings())
def test_every_bound_holds(packing):
    best = most(packing)
    if best is None:
        return
    fills = max_fills(packing)
    assert linear_bound(packing, fills) >= best
    assert solve_surrogate(packing.items, sum(fills)).value >= best
    assert solve_assignment(packing, 1).bound >= best
    assert Columns(packing, fills).tighten_bound(5) >= best


@given(packings(), st.sampled_from(("few", "many")))
def test_either_strategy_bounds_the_best_and_finds_real_patterns(packing, strategy):
    best, found = most(packing), by_strategy(packing, strategy)
    if best is None:
        assert found.known is None
        return
    assert not found.infeasible
    assert found.bound >= best
    if strategy == "few":
        assert found.value == best
    if found.known is not None:
        assert packing.is_feasible(found.known)
        assert packing.value(found.known) == found.value <= best


@given(packings(), st.data())
def test_no_totals_pass_a_cut_and_its_column_can_be_reached(packing, data):
    columns = Columns(packing, max_fills(packing))
    prices = [data.draw(st.sampled_from((0.0, 1.0, 1.0)) | st.floats(0, 90)) for _ in packing.items]
    bound, best = columns.price_out(prices), most(packing)
    assert best is None or bound >= best
    every = every_total(packing)
    for cut in columns.cuts:
        assert all(cut.holds(total) for total in every)
    assert tuple(map(int, columns.sums[-1].sum(axis=0))) in every
    last = columns.cuts[-1]
    if len(columns.cuts) > 1:
        assert last.maximum == max(sum(p * n for p, n in zip(last.prices, total, strict=True)) for total in every)


@given(packings(), st.data())
def test_totals_set_apart_cannot_be_reached(packing, data):
    columns = Columns(packing, max_fills(packing))
    totals = tuple(data.draw(st.integers(0, item.maximum)) for item in packing.items)
    if columns.separate(totals, 4):
        assert totals not in every_total(packing)


@given(packings(), st.data())
def test_a_rounded_master_gives_real_patterns_or_none(packing, data):
    columns = Columns(packing, max_fills(packing))
    columns.tighten_bound(4)
    totals = tuple(data.draw(st.integers(0, item.maximum)) for item in packing.items)
    patterns = round_master(columns, totals, packing.trivial_bound(), lambda rest, bound: solve_packing(rest).patterns)
    assert patterns is None or packing.is_feasible(patterns)


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(0, 60), st.integers(0, 6)), min_size=1, max_size=4),
    st.lists(st.integers(0, 120), min_size=1, max_size=4),
)
@settings(max_examples=200)
def test_the_pricing_table_knows_the_best_pattern_of_every_capacity(kinds, capacities):
    weights, prices, counts = zip(*kinds, strict=True)
    values, patterns = price_bins(prices, weights, counts, capacities)
    for capacity, value, pattern in zip(capacities, values.tolist(), patterns.tolist(), strict=True):
        every = {
            load: sum(n * p for n, p in zip(load, prices, strict=True))
            for load in product(*(range(n + 1) for n in counts))
            if sum(n * w for n, w in zip(load, weights, strict=True)) <= capacity
        }
        assert value == max(every.values()) == every[tuple(pattern)]


@given(st.integers(1, 9), st.integers(64, 300), st.integers(0, 4000))
def test_a_wide_pricing_table_knows_it_too(weight, price, capacity):
    # Prices from 64 on are taken row by row where the count holds nothing down.
    values, patterns = price_bins([price, price + 1], [weight, weight + 2], [5000, 5000], [capacity])
    best = max(n * price + (capacity - n * weight) // (weight + 2) * (price + 1) for n in range(capacity // weight + 1))
    assert values.tolist() == [best]
    assert sum(n * p for n, p in zip(patterns[0].tolist(), (price, price + 1), strict=True)) == best


@given(
    st.lists(items(), min_size=1, max_size=3),
    st.lists(st.tuples(st.lists(st.integers(0, 40), min_size=3, max_size=3), st.integers(0, 200)), max_size=3),
)
def test_the_best_totals_within_cuts_are_the_best(kinds, given_cuts):
    cuts = [Cut(tuple(prices[: len(kinds)]), most, 1) for prices, most in given_cuts]
    every = [
        total
        for total in product(*(range(item.minimum, item.maximum + 1, item.case) for item in kinds))
        if all(cut.holds(total) for cut in cuts)
    ]
    found = best_totals(kinds, cuts)
    if found.totals is None or not every:
        assert found.totals is None
        assert not every
        return
    value = [sum(item.value(n) for item, n in zip(kinds, total, strict=True)) for total in every]
    assert found.bound == max(value)
    assert found.totals in every


@given(packings())
def test_the_search_finds_the_best_or_says_that_there_is_none(packing):
    best, found = most(packing), solve_packing(packing)
    if best is None:
        assert found.patterns is None
        assert found.infeasible
    else:
        assert found.value == found.bound == best
        assert packing.is_feasible(found.patterns)


@given(packings(), st.data())
def test_a_goal_reached_before_is_kept(packing, data):
    other = tuple(
        Item(
            i.weight,
            i.minimum,
            i.maximum,
            i.case,
            0,
            ((i.maximum - i.minimum, i.weight),) if i.maximum > i.minimum else (),
        )
        for i in packing.items
    )
    first = most(Packing(packing.bins, other))
    if first is None:
        return
    kept = Packing(packing.bins, packing.items, (GoalConstraint(other, data.draw(st.integers(0, first))),))
    found = solve_packing(kept)
    assert found.value == found.bound == most(kept)


@given(packings(), st.integers(0, 30))
def test_fixing_leaves_out_nothing_better(packing, below):
    best = most(packing)
    if best is None:
        return
    smaller = fix_packing(packing, max_fills(packing), best - 1 - below)
    assert smaller is not None
    assert most(smaller) == best


@given(packings(), st.data())
def test_fixing_at_the_prices_of_any_cut_leaves_out_nothing_better(packing, data):
    best = most(packing)
    if best is None:
        return
    columns = Columns(packing, max_fills(packing))
    columns.price_out([data.draw(st.floats(0, 90)) for _ in packing.items])
    for cut in (surrogate_cut(packing, max_fills(packing)), *columns.cuts):
        items = cut.fix_items(packing.items, best - 1)
        assert items is not None
        assert most(replace(packing, items=items)) == best
        assert cut.bound(packing.items) >= best


@given(packings())
def test_patterns_moved_into_few_bins_keep_their_totals(packing):
    found = solve_packing(packing)
    if found.patterns is None:
        return
    fewer = in_few_bins(packing, found.patterns)
    assert packing.is_feasible(fewer)
    assert totals_of(fewer, len(packing.items)) == totals_of(found.patterns, len(packing.items))


@given(packings())
def test_patterns_of_few_items_keep_their_totals_and_never_need_more_labels(packing):
    found = solve_packing(packing)
    if found.patterns is None:
        return
    fewer = in_few_items(packing, found.patterns)
    assert packing.is_feasible(fewer)
    assert totals_of(fewer, len(packing.items)) == totals_of(found.patterns, len(packing.items))
    assert sum(map(bool, sum(fewer, ()))) <= sum(map(bool, sum(found.patterns, ())))


@given(packings())
def test_totals_dealt_out_add_up(packing):
    totals = greedy_totals(packing.items, sum(bin_.capacity for bin_ in packing.bins))
    patterns = assign_totals(packing, totals)
    assert patterns is None or totals_of(patterns, len(packing.items)) == totals


@given(
    st.lists(st.tuples(st.integers(1, 40), st.integers(0, 9)), min_size=1, max_size=4),
    st.lists(st.integers(0, 150), min_size=1, max_size=30),
)
def test_the_maximum_fill_is_the_maximum(kinds, capacities):
    weights, counts = zip(*kinds, strict=True)
    possible = {
        sum(n * w for n, w in zip(pattern, weights, strict=True))
        for pattern in product(*(range(n + 1) for n in counts))
    }
    assert max_fill(weights, counts, capacities) == [
        max(w for w in possible if w <= capacity) for capacity in capacities
    ]


@given(st.lists(st.integers(5, 60), min_size=1, max_size=5, unique=True), st.integers(-50, 200), st.data())
def test_the_closest_exchange_is_the_closest(weights, capacity, data):
    down = [data.draw(st.integers(0, 3)) for _ in weights]
    up = [data.draw(st.integers(0, 3)) for _ in weights]
    exchanges = Exchanges(weights, tuple(range(len(weights))), 400)
    reach = [int(half.changes[:, c].max()) for half in exchanges.halves for c in range(len(half.items))]
    change = exchanges.closest(capacity, down, up, 0)
    order = [i for half in exchanges.halves for i in half.items]
    limits = dict(zip(order, reach, strict=True))
    every = [
        sum(d * w for d, w in zip(step, weights, strict=True))
        for step in product(*(range(-min(down[i], limits[i]), min(up[i], limits[i]) + 1) for i in range(len(weights))))
    ]
    fitting = [weight for weight in every if weight <= capacity]
    if not fitting:
        assert change is None
    else:
        assert sum(d * w for d, w in zip(change, weights, strict=True)) == max(fitting)
        assert all(-low <= d <= high for d, low, high in zip(change, down, up, strict=True))


@given(packings(), st.lists(st.integers(0, 200), min_size=1, max_size=4))
def test_one_table_serves_several_rooms(packing, capacities):
    free = tuple(restrict(item, item.minimum, item.maximum) for item in packing.items if not item.minimum)
    if free:
        assert values_within(free, capacities) == [solve_surrogate(free, capacity).value for capacity in capacities]


@given(items(), st.data())
def test_an_item_between_narrower_limits_is_worth_the_same(item, data):
    cases = (item.maximum - item.minimum) // item.case
    low = data.draw(st.integers(0, cases))
    high = data.draw(st.integers(low, cases))
    narrow = restrict(item, item.minimum + low * item.case, item.minimum + high * item.case)
    for n in range(low, high + 1):
        count = item.minimum + n * item.case
        assert narrow.value(count) == item.value(count)


@given(items(), st.integers(-100, 100))
def test_the_best_count_at_a_price_is_the_best(item, price):
    counts = range(item.minimum, item.maximum + 1, item.case)
    gain, at = item.best_at(price)
    assert gain == max(item.value(n) - price * n for n in counts)
    assert at == min(n for n in counts if item.value(n) - price * n == gain)
