"""Each road to a plan on its own, against listing everything: bounds that hold, loads that are real."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from labelkit.plan.search.assignment_mip import branch
from labelkit.plan.search.by_totals import by_totals
from labelkit.plan.search.column_generation import FINE, Line, Reach
from labelkit.plan.search.each_bin import each_alone
from labelkit.plan.search.knapsack import greedy_totals, pool, worths_within
from labelkit.plan.search.load_columns import by_columns, known_halves
from labelkit.plan.search.local_exchange import Exchanges
from labelkit.plan.search.lp_relaxation import best_mix, bound_of
from labelkit.plan.search.many_bins import many_loads
from labelkit.plan.search.meet_in_the_middle import halves
from labelkit.plan.search.packing import Box, Guard, Item, Packing, between, totals_of
from labelkit.plan.search.reduced_cost_fixing import line_bound, narrowed
from labelkit.plan.search.split import in_few_boxes, in_few_sizes, split
from labelkit.plan.search.strategies import best_loads
from labelkit.plan.search.subset_sum import fullest, heaviest
from labelkit.plan.search.totals import best_totals


@st.composite
def items(draw):
    weight, case = draw(st.integers(3, 40)), draw(st.sampled_from((1, 1, 2, 3)))
    floor = draw(st.sampled_from((0, 0, 1))) * case
    worths, last = [], 60
    for _ in range(draw(st.integers(0, 2))):
        last = draw(st.integers(-3, last))
        worths.append((draw(st.integers(1, 2)) * case, last))
    return Item(
        weight, floor, floor + sum(n for n, _ in worths), case, draw(st.integers(-20, 60)) * floor, tuple(worths)
    )


@st.composite
def packings(draw):
    found = tuple(draw(st.lists(items(), min_size=1, max_size=3)))
    boxes = []
    for room in draw(st.lists(st.integers(0, 90), min_size=1, max_size=3)):
        allowed = tuple(draw(st.sampled_from((True, True, False))) for _ in found)
        boxes.append(Box(room, 0, allowed))
    return Packing(tuple(boxes), found)


def loads_of(box: Box, packing: Packing):
    """Every load of a box."""
    ranges = [
        range(min(item.most, box.room // item.weight) + 1) if ok else (0,)
        for item, ok in zip(packing.items, box.allowed, strict=True)
    ]
    return [
        load for load in product(*ranges) if sum(n * w for n, w in zip(load, packing.weights, strict=True)) <= box.room
    ]


def every_total(packing: Packing) -> set[tuple[int, ...]]:
    """All totals that loads of all boxes can add up to, whatever floors and ceilings say."""
    totals = {(0,) * len(packing.items)}
    for box in packing.boxes:
        mine = loads_of(box, packing)
        totals = {tuple(map(sum, zip(total, load, strict=True))) for total in totals for load in mine}
    return totals


def most(packing: Packing) -> int | None:
    """The best worth by listing everything; none where there are no loads."""
    fair = [
        total
        for total in every_total(packing)
        if all(
            i.floor <= n <= i.most and (n - i.floor) % i.case == 0 for i, n in zip(packing.items, total, strict=True)
        )
        and all(
            sum(g.worth(n) for g, n in zip(guard.items, total, strict=True)) >= guard.least for guard in packing.guards
        )
    ]
    return max((sum(i.worth(n) for i, n in zip(packing.items, total, strict=True)) for total in fair), default=None)


def finish(rest: Packing, bound: int):
    """The last few boxes of many."""
    return best_loads(rest, bound=bound)


@given(packings())
def test_every_bound_holds(packing):
    best = most(packing)
    if best is None:
        return
    rooms = fullest(packing)
    assert line_bound(packing, rooms) >= best
    poured = pool(packing.items, sum(rooms))
    assert poured is not None
    assert poured.worth >= best
    mix = best_mix(packing, rooms)
    assert bound_of(packing, rooms, mix) >= best
    for found in (
        branch(packing, 1),
        by_columns(packing, None, None, packing.ceiling(), 1),
        many_loads(packing, rooms, finish),
        by_totals(packing, rooms, finish),
    ):
        assert found.bound >= best
        assert found.loads is None or (
            packing.admits(found.loads) and packing.value(found.loads) == found.worth <= best
        )


@given(packings(), st.data())
def test_no_loads_pass_a_line_and_its_point_can_be_reached(packing, data):
    reach = Reach(packing, fullest(packing), known_halves(packing))
    prices = tuple(data.draw(st.integers(0, 90)) * FINE for _ in packing.items)
    bound, best = reach.ask(prices), most(packing)
    assert best is None or bound >= best * FINE
    every = every_total(packing)
    assert all(reach.lines[-1].holds(total) for total in every)
    assert tuple(map(int, reach.points[-1].sum(axis=0))) in every
    assert reach.lines[-1].most == max(sum(p * n for p, n in zip(prices, total, strict=True)) for total in every)


@given(
    st.lists(items(), min_size=1, max_size=3),
    st.lists(st.tuples(st.lists(st.integers(0, 40), min_size=3, max_size=3), st.integers(0, 200)), max_size=3),
)
def test_the_best_totals_within_lines_are_the_best(kinds, given_lines):
    lines = [Line(tuple(prices[: len(kinds)]), most) for prices, most in given_lines]
    every = [
        total
        for total in product(*(range(item.floor, item.most + 1, item.case) for item in kinds))
        if all(line.holds(total) for line in lines)
    ]
    found = best_totals(kinds, lines, 400)
    if found is None or not every:
        assert found is None
        assert not every
        return
    worth = [sum(item.worth(n) for item, n in zip(kinds, total, strict=True)) for total in every]
    assert found.whole
    assert found.bound == max(worth)
    assert found.totals in every


@given(packings())
def test_boxes_planned_alone_are_best_or_not_planned_alone(packing):
    found = each_alone(packing)
    if found is not None:
        assert packing.admits(found.loads)
        assert found.worth == most(packing)


@given(packings())
def test_the_search_finds_the_best_or_says_that_there_is_none(packing):
    best, found = most(packing), best_loads(packing)
    if best is None:
        assert found.loads is None
        assert found.impossible
    else:
        assert found.worth == found.bound == best
        assert packing.admits(found.loads)


@given(packings(), st.data())
def test_a_goal_reached_before_is_kept(packing, data):
    other = tuple(
        Item(i.weight, i.floor, i.most, i.case, 0, ((i.most - i.floor, i.weight),) if i.most > i.floor else ())
        for i in packing.items
    )
    first = most(Packing(packing.boxes, other))
    if first is None:
        return
    kept = Packing(packing.boxes, packing.items, (Guard(other, data.draw(st.integers(0, first))),))
    found = best_loads(kept)
    assert found.worth == found.bound == most(kept)


@given(packings(), st.integers(0, 30))
def test_narrowing_leaves_out_nothing_better(packing, below):
    best = most(packing)
    if best is None:
        return
    smaller = narrowed(packing, fullest(packing), best - 1 - below)
    assert smaller is not None
    assert most(smaller) == best


@given(packings())
def test_loads_moved_into_few_boxes_keep_their_totals(packing):
    found = best_loads(packing)
    if found.loads is None:
        return
    fewer = in_few_boxes(packing, found.loads)
    assert packing.admits(fewer)
    assert totals_of(fewer, len(packing.items)) == totals_of(found.loads, len(packing.items))


@given(packings())
def test_loads_of_few_sizes_keep_their_totals_and_never_need_more_labels(packing):
    found = best_loads(packing)
    if found.loads is None:
        return
    fewer = in_few_sizes(packing, found.loads)
    assert packing.admits(fewer)
    assert totals_of(fewer, len(packing.items)) == totals_of(found.loads, len(packing.items))
    assert sum(map(bool, sum(fewer, ()))) <= sum(map(bool, sum(found.loads, ())))


@given(packings())
def test_a_split_is_a_split(packing):
    totals = greedy_totals(packing.items, sum(box.room for box in packing.boxes))
    loads = split(packing, totals)
    assert loads is None or totals_of(loads, len(packing.items)) == totals


@given(
    st.lists(st.tuples(st.integers(1, 40), st.integers(0, 9)), min_size=1, max_size=4),
    st.lists(st.integers(0, 150), min_size=1, max_size=30),
)
def test_the_fullest_load_is_the_fullest(kinds, rooms):
    weights, counts = zip(*kinds, strict=True)
    possible = {
        sum(n * w for n, w in zip(load, weights, strict=True)) for load in product(*(range(n + 1) for n in counts))
    }
    assert heaviest(weights, counts, rooms) == [max(w for w in possible if w <= room) for room in rooms]


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(-5, 60), st.integers(0, 6)), min_size=1, max_size=4),
    st.integers(0, 120),
    st.integers(0, 60),
)
def test_two_halves_know_the_best_load_and_all_near_it(kinds, room, spare):
    weights, prices, counts = zip(*kinds, strict=True)
    known = halves(weights, counts, room, [True] * len(kinds))
    every = {
        load: sum(n * p for n, p in zip(load, prices, strict=True))
        for load in product(*(range(n + 1) for n in counts))
        if sum(n * w for n, w in zip(load, weights, strict=True)) <= room
    }
    ((worth, load),) = known.best(prices, [room])
    assert worth == max(every.values()) == every[load]
    near = known.within(prices, room, 0, worth - spare, 10_000)
    assert sorted(map(tuple, near.tolist())) == sorted(load for load, price in every.items() if price >= worth - spare)


@given(st.lists(st.integers(5, 60), min_size=1, max_size=5, unique=True), st.integers(-50, 200), st.data())
def test_the_closest_exchange_is_the_closest(weights, room, data):
    down = [data.draw(st.integers(0, 3)) for _ in weights]
    up = [data.draw(st.integers(0, 3)) for _ in weights]
    exchanges = Exchanges(weights, tuple(range(len(weights))), 400)
    reach = [int(grid[:, c].max()) for part, grid, _, _ in exchanges.halves for c in range(len(part))]
    change = exchanges.closest(room, down, up, 0)
    order = [i for part, *_ in exchanges.halves for i in part]
    limits = dict(zip(order, reach, strict=True))
    every = [
        sum(d * w for d, w in zip(step, weights, strict=True))
        for step in product(*(range(-min(down[i], limits[i]), min(up[i], limits[i]) + 1) for i in range(len(weights))))
    ]
    fitting = [weight for weight in every if weight <= room]
    if not fitting:
        assert change is None
    else:
        assert sum(d * w for d, w in zip(change, weights, strict=True)) == max(fitting)
        assert all(-low <= d <= high for d, low, high in zip(change, down, up, strict=True))


@given(packings(), st.lists(st.integers(0, 200), min_size=1, max_size=4))
def test_one_table_serves_several_rooms(packing, rooms):
    free = tuple(between(item, item.floor, item.most) for item in packing.items if not item.floor)
    if free:
        assert worths_within(free, rooms) == [pool(free, room).worth for room in rooms]


@given(items(), st.data())
def test_an_item_between_narrower_limits_is_worth_the_same(item, data):
    cases = (item.most - item.floor) // item.case
    low = data.draw(st.integers(0, cases))
    high = data.draw(st.integers(low, cases))
    narrow = between(item, item.floor + low * item.case, item.floor + high * item.case)
    for n in range(low, high + 1):
        count = item.floor + n * item.case
        assert narrow.worth(count) == item.worth(count)


@given(items(), st.integers(-100, 100))
def test_the_best_count_at_a_price_is_the_best(item, price):
    counts = range(item.floor, item.most + 1, item.case)
    gain, at = item.best_at(price)
    assert gain == max(item.worth(n) - price * n for n in counts)
    assert at == min(n for n in counts if item.worth(n) - price * n == gain)
