"""The one door to HiGHS: linear models, with or without whole-number columns.

Floats live behind this door and nowhere else. What comes out is a suggestion: counts are rounded to whole numbers by
the caller and recounted in :mod:`labelkit.plan.verify_plan`. One thread and fixed random numbers, so that the same model gives
the same answer.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

INFINITE = float("inf")


@dataclass
class Model:
    """A model to be maximized, built column by column over rows that are laid down first."""

    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)
    objective: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    starts: list[int] = field(default_factory=lambda: [0])
    rows: list[int] = field(default_factory=list)
    factors: list[float] = field(default_factory=list)

    def row(self, lower: float, upper: float) -> int:
        """Lay down a row; its number."""
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        return len(self.row_lower) - 1

    def column(
        self, gain: float, upper: float, entries: list[tuple[int, float]], whole: bool, lower: float = 0.0
    ) -> int:
        """Add a column with its entries ``(row, factor)``; its number."""
        self.objective.append(gain)
        self.lower.append(lower)
        self.upper.append(upper)
        self.whole.append(whole)
        for row, factor in entries:
            self.rows.append(row)
            self.factors.append(factor)
        self.starts.append(len(self.rows))
        return len(self.objective) - 1


@dataclass(frozen=True)
class Answer:
    """What HiGHS says: ``values`` by column (none where nothing was found), a bound, duals by row for a plain LP."""

    optimal: bool
    infeasible: bool
    values: list[float] | None
    objective: float
    bound: float
    duals: list[float] | None


def solve(
    model: Model,
    nodes: int | None = None,
    relax: bool = False,
    start: list[float] | None = None,
    target: float | None = None,
) -> Answer:
    """Maximize a model; with ``relax`` the whole-number wish is dropped.

    ``nodes`` ends a search after so many nodes of its tree: a measure of work and not of time, so that a busy machine
    finds the same plan as an idle one. ``start`` is a known answer to begin from, ``target`` an objective that is known to be
    the most, so that the search may stop as soon as it is reached.
    """
    if not model.objective:
        fits = all(low <= 0 <= high for low, high in zip(model.row_lower, model.row_upper, strict=True))
        return Answer(fits, not fits, [] if fits else None, 0.0, 0.0, [0.0] * len(model.row_lower))
    import highspy
    import numpy as np

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(model.objective), len(model.row_lower)
    lp.sense_ = highspy.ObjSense.kMaximize
    lp.col_cost_ = np.array(model.objective, dtype=float)
    lp.col_lower_, lp.col_upper_ = np.array(model.lower, dtype=float), np.array(model.upper, dtype=float)
    lp.row_lower_, lp.row_upper_ = np.array(model.row_lower, dtype=float), np.array(model.row_upper, dtype=float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(model.starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(model.rows, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(model.factors, dtype=float)
    search = any(model.whole) and not relax
    if search:
        kinds = highspy.HighsVarType
        lp.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in model.whole]
    highs = _quiet()
    for name, value in _options(search, nodes, target).items():
        highs.setOptionValue(name, value)
    highs.passModel(lp)
    if start is not None and search:
        known = highspy.HighsSolution()
        known.col_value = list(start)
        highs.setSolution(known)
    highs.run()
    return _answer(highs, highspy, search)


def _quiet() -> Any:
    """A HiGHS that has been told to be silent before it greets; its greeting would spoil a JSON answer."""
    import highspy

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:
            self.silent()
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Quiet()  # type: ignore[no-untyped-call]


def _options(search: bool, nodes: int | None, target: float | None) -> dict[str, object]:
    options: dict[str, object] = {
        "output_flag": False,
        "threads": 1,
        "random_seed": 1,
    }
    if search:
        options |= {"mip_rel_gap": 0.0, "mip_abs_gap": 1e-6}
        if nodes is not None:
            options["mip_max_nodes"] = nodes
        if target is not None:
            options["objective_target"] = float(target)
    return options


def _answer(highs: Any, highspy: Any, search: bool) -> Answer:
    status = highs.getModelStatus()
    info = highs.getInfo()
    solution = highs.getSolution()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return Answer(
        optimal=status == highspy.HighsModelStatus.kOptimal,
        infeasible=status == highspy.HighsModelStatus.kInfeasible,
        values=list(solution.col_value) if found else None,
        objective=info.objective_function_value,
        bound=info.mip_dual_bound if search else info.objective_function_value,
        duals=None if search else list(solution.row_dual),
    )
