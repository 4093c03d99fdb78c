"""The jar plan against plain HiGHS, OR-tools CP-SAT and filling greedily, on the same made-up seasons.

    python -m tests.bench.plan [--number 1] [--buckets 4 40 400 4000] [--fills ounces] [--limits stock] [--seconds 10]
    python -m tests.bench.plan --proved 100        # how many seasons of six buckets are proved, and how fast
    python -m tests.bench.plan --hard 3 --buckets 400   # the widest gap and longest time of every kind of fill and limit

Seasons are drawn from the printed number, eight sizes, 15 to 29 kg a bucket. Every solver runs in a process of its own,
one thread, so that its memory is its own. The gap is against the lowest bound any of them gives; seconds are of the
processor and include building the model and, for ours, the recount. CP-SAT is left out where it is not installed (pip install ortools).
"""

from __future__ import annotations

import argparse
import json
import resource
import subprocess
import sys
import time

from labelkit.plan import PlanRequest, jar_plan
from tests.plan.seasons import Draw, season


def ours(request: PlanRequest, seconds: float) -> tuple[int, int]:
    """The jar plan itself; it counts work and not seconds."""
    plan = jar_plan(request)
    return plan.value.minor, plan.bound.minor


def plain_highs(request: PlanRequest, seconds: float) -> tuple[int | None, int | None]:
    """One whole number per bucket and size, handed to HiGHS as it is."""
    import highspy
    import numpy as np

    highs = highspy.Highs()
    highs.silent()
    for name, value in {"threads": 1, "time_limit": seconds, "mip_rel_gap": 0.0}.items():
        highs.setOptionValue(name, value)
    buckets, sizes = request.buckets, request.sizes
    of_size = [[] for _ in sizes]
    n = 0
    empty = np.array([], dtype=np.int32)
    for bucket in buckets:
        row = []
        for s, size in enumerate(sizes):
            highs.addCol(
                float(size.price.minor - size.cost.minor),
                0,
                bucket.usable.mg // size.fill.mg,
                0,
                empty,
                empty.astype(float),
            )
            highs.changeColIntegrality(n, highspy.HighsVarType.kInteger)
            of_size[s].append(n)
            row.append(n)
            n += 1
        highs.addRow(
            0,
            bucket.usable.mg / 1000,
            len(row),
            np.array(row, dtype=np.int32),
            np.array([s.fill.mg / 1000 for s in sizes]),
        )
    for size, columns in zip(sizes, of_size, strict=True):
        most = float("inf") if size.in_stock is None else size.in_stock
        highs.addRow(size.at_least, most, len(columns), np.array(columns, dtype=np.int32), np.ones(len(columns)))
    highs.changeObjectiveSense(highspy.ObjSense.kMaximize)
    highs.run()
    info = highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return (round(info.objective_function_value), int(info.mip_dual_bound + 0.1)) if found else (None, None)


def cp_sat(request: PlanRequest, seconds: float) -> tuple[int | None, int | None]:
    """The same in whole numbers for CP-SAT."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    worth, totals = 0, [0] * len(request.sizes)
    for b, bucket in enumerate(request.buckets):
        row = [model.new_int_var(0, bucket.usable.mg // s.fill.mg, f"{b} {n}") for n, s in enumerate(request.sizes)]
        model.add(sum(x * s.fill.mg for x, s in zip(row, request.sizes, strict=True)) <= bucket.usable.mg)
        for n, (x, s) in enumerate(zip(row, request.sizes, strict=True)):
            worth += x * (s.price.minor - s.cost.minor)
            totals[n] += x
    for size, total in zip(request.sizes, totals, strict=True):
        model.add(total >= size.at_least)
        if size.in_stock is not None:
            model.add(total <= size.in_stock)
    model.maximize(worth)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    found = solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (round(solver.objective_value), round(solver.best_objective_bound)) if found else (None, None)


def greedy(request: PlanRequest, seconds: float) -> tuple[int | None, int | None]:
    """By hand: floors first, biggest jars first, then bucket after bucket the best margin for the gram."""
    left = [bucket.usable.mg for bucket in request.buckets]
    stock = [10**9 if s.in_stock is None else s.in_stock for s in request.sizes]
    value = 0
    sizes = range(len(request.sizes))

    def fill(s: int, most: int) -> int:
        size, filled = request.sizes[s], 0
        for b in range(len(left)):
            n = min(most - filled, left[b] // size.fill.mg, stock[s])
            left[b] -= n * size.fill.mg
            stock[s] -= n
            filled += n
        return filled * (size.price.minor - size.cost.minor)

    for s in sorted(sizes, key=lambda s: -request.sizes[s].fill.mg):
        value += fill(s, request.sizes[s].at_least)
    for s in sorted(
        sizes, key=lambda s: -(request.sizes[s].price.minor - request.sizes[s].cost.minor) / request.sizes[s].fill.mg
    ):
        value += fill(s, 10**9)
    return value, None


FILLS = ("grams", "ounces", "mixed", "any")
LIMITS = ("none", "stock", "floors", "cases", "steps")
SOLVERS = {"ours": ours, "plain HiGHS": plain_highs, "CP-SAT": cp_sat, "greedy": greedy}


def one(name: str, draw: Draw, seconds: float) -> dict:
    """Run one solver in this process: value, bound, seconds, megabytes."""
    request = season(draw)
    begun = time.process_time()
    value, bound = SOLVERS[name](request, seconds)
    taken = time.process_time() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"value": value, "bound": bound, "seconds": taken, "mb": peak}


def apart(name: str, draw: Draw, seconds: float) -> dict | None:
    """The same in a process of its own; none where the solver is not installed."""
    words = [draw.number, draw.buckets, draw.sizes, draw.fills, draw.limits, seconds, name]
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.plan", "--one", *map(str, words)], capture_output=True, text=True
    )
    return json.loads(done.stdout.splitlines()[-1]) if done.returncode == 0 else None


def table(number: int, buckets: list[int], fills: str, limits: str, seconds: float) -> None:
    """Print value, bound, gap, time and memory of each solver for each number of buckets."""
    print(f"seasons drawn from number {number}, fills in {fills}, limits: {limits}; others stop at {seconds:g} s")
    print(f"{'buckets':>7}  {'solver':<12}{'value':>14}{'bound':>14}{'gap %':>11}{'seconds':>9}{'× ours':>8}{'MB':>6}")
    for count in buckets:
        draw = Draw(number, count, 8, fills, limits)
        results = {name: apart(name, draw, seconds) for name in SOLVERS}
        lowest = min(r["bound"] for r in results.values() if r and r["bound"] is not None)
        for name, found in results.items():
            if found is None:
                print(f"{count:>7}  {name:<12}not installed")
                continue
            value, bound = (("–" if v is None else f"{v / 100:.2f}") for v in (found["value"], found["bound"]))
            gap = "–" if found["value"] is None else f"{(lowest - found['value']) / lowest * 100:.5f}"
            ratio = found["seconds"] / results["ours"]["seconds"]
            print(
                f"{count:>7}  {name:<12}{value:>14}{bound:>14}{gap:>11}{found['seconds']:>9.2f}{ratio:>8.1f}{found['mb']:>6.0f}"
            )


def proved(many: int, number: int) -> None:
    """How many seasons of six buckets are proved, and the time each takes, for every kind of fill and limit."""
    print(f"six buckets, eight sizes, {many} seasons of each kind from number {number} on")
    print(f"{'fills':<9}{'limits':<9}{'proved':>8}{'median s':>10}{'19 of 20':>10}{'longest':>9}")
    for fills in FILLS:
        for limits in LIMITS:
            times, sure = [], 0
            for n in range(number, number + many):
                request = season(Draw(n, 6, 8, fills, limits))
                begun = time.process_time()
                sure += jar_plan(request).proved
                times.append(time.process_time() - begun)
            times.sort()
            print(
                f"{fills:<9}{limits:<9}{sure:>4}/{many:<3}{times[many // 2]:>10.2f}{times[many * 19 // 20]:>10.2f}{times[-1]:>9.2f}"
            )


def hard(many: int, number: int, buckets: list[int]) -> None:
    """The widest gap and the longest time of every kind of fill and limit, for few sizes and for all."""
    for count in buckets:
        print(f"{count} buckets, {many} seasons of each kind from number {number} on: proved, widest gap %, longest s")
        print(f"{'sizes':<6}{'fills':<9}" + "".join(f"{limits:>24}" for limits in LIMITS))
        for sizes in (2, 3, 4, 5, 8):
            for fills in FILLS:
                cells = []
                for limits in LIMITS:
                    gaps, times, sure = [], [], 0
                    for n in range(number, number + many):
                        request = season(Draw(n, count, sizes, fills, limits))
                        begun = time.process_time()
                        plan = jar_plan(request)
                        times.append(time.process_time() - begun)
                        gaps.append(float(plan.gap) * 100)
                        sure += plan.proved
                    cells.append(f"{sure:>8}/{many}{max(gaps):>8.4f}{max(times):>6.1f}")
                print(f"{sizes:<6}{fills:<9}" + "".join(cells), flush=True)


def main() -> None:
    """Read the options and print the table."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--number", type=int, default=1)
    options.add_argument("--buckets", type=int, nargs="+", default=[4, 40, 400, 4000])
    options.add_argument("--fills", choices=FILLS, default="ounces")
    options.add_argument("--limits", choices=("none", "stock", "floors"), default="floors")
    options.add_argument("--seconds", type=float, default=10)
    options.add_argument("--proved", type=int, metavar="SEASONS")
    options.add_argument("--hard", type=int, metavar="SEASONS")
    options.add_argument("--one", nargs=7, help=argparse.SUPPRESS)
    asked = options.parse_args()
    if asked.one:
        number, buckets, sizes, fills, limits, seconds, name = asked.one
        print(json.dumps(one(name, Draw(int(number), int(buckets), int(sizes), fills, limits), float(seconds))))
    elif asked.proved:
        proved(asked.proved, asked.number)
    elif asked.hard:
        hard(asked.hard, asked.number, asked.buckets)
    else:
        table(asked.number, asked.buckets, asked.fills, asked.limits, asked.seconds)


if __name__ == "__main__":
    main()
