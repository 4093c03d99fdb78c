"""Small seasons written down a second time for a solver of another make (OR-tools CP-SAT, whole numbers throughout)."""

from __future__ import annotations

import pytest

from labelkit.plan import PlanRequest, jar_plan
from tests.plan.seasons import Draw, season

DRAWS = [
    Draw(number, buckets, sizes, fills, limits)
    for number, (buckets, sizes, fills, limits) in enumerate(
        [
            (2, 3, "grams", "stock"),
            (3, 3, "ounces", "cases"),
            (2, 4, "any", "floors"),
            (3, 5, "grams", "floors"),
            (2, 8, "ounces", "stock"),
            (3, 4, "ounces", "none"),
            (2, 5, "any", "cases"),
            (4, 3, "grams", "stock"),
            (3, 4, "grams", "steps"),
            (2, 5, "mixed", "steps"),
        ],
        start=1,
    )
]


def most_by_cp_sat(request: PlanRequest) -> tuple[int, int]:
    """The most CP-SAT finds, and its bound."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    counts = {}
    for b, bucket in enumerate(request.buckets):
        for s, size in enumerate(request.sizes):
            counts[b, s] = model.new_int_var(0, bucket.usable.mg // size.fill.mg, f"{b} {s}")
        model.add(sum(counts[b, s] * size.fill.mg for s, size in enumerate(request.sizes)) <= bucket.usable.mg)
    value = 0
    for s, size in enumerate(request.sizes):
        total = sum(counts[b, s] for b in range(len(request.buckets)))
        model.add(total >= size.at_least)
        if size.in_stock is not None:
            model.add(total <= size.in_stock)
        if size.case > 1:
            cases = model.new_int_var(0, 100_000, f"cases {s}")
            model.add(total == cases * size.case)
        # Each price holds from the jar after its step on; falling prices fill the dearer parts first.
        ends = [*(step.after for step in size.steps), 100_000]
        prices, at, parts = [size.price, *(step.price for step in size.steps)], 0, []
        for end, price in zip(ends, prices, strict=True):
            parts.append(model.new_int_var(0, end - at, f"part {s} {end}"))
            value += parts[-1] * (price.minor - size.cost.minor)
            at = end
        model.add(sum(parts) == total)
    model.maximize(value)
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = 2
    solver.parameters.num_workers = 1
    assert solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return round(solver.objective_value), round(solver.best_objective_bound)


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("draw", DRAWS, ids=repr)
def test_another_solver_finds_nothing_better_and_its_bound_holds(draw):
    pytest.importorskip("ortools", reason="left out: OR-tools; to bring it: pip install ortools")
    request = season(draw)
    plan = jar_plan(request)
    found, bound = most_by_cp_sat(request)
    assert found <= plan.bound.minor
    assert plan.value.minor <= bound
    assert plan.value.minor >= found
    assert plan.proved
