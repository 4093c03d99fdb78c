"""The jar plan as a spreadsheet: every bucket with what it fills."""

from __future__ import annotations

from typing import TYPE_CHECKING

from labelkit.measures import NOTHING, Mass
from labelkit.paper.workbook import COUNT, FIGURE, Column, Sheet, Value

if TYPE_CHECKING:
    from labelkit.plan import JarPlan, PlanRequest


def plan_table(request: PlanRequest, plan: JarPlan) -> Sheet:
    """Every bucket with what it fills; weights in grams."""
    sizes = [size.id for size in request.sizes]
    kept = kept_by_bucket(plan)
    columns = [
        Column("bucket"),
        Column("usable_g", FIGURE, total=True),
        *(Column(size, COUNT, total=True) for size in sizes),
        *(Column(name, FIGURE, total=True) for name in ("filled_g", "left_g", "of_that_kept_g")),
    ]
    rows: list[tuple[Value, ...]] = [
        (b.id, b.usable.g, *(b.jars.get(s, 0) for s in sizes), b.filled.g, b.left.g, kept.get(b.id, NOTHING).g)
        for b in plan.buckets
    ]
    return Sheet("plan", columns, rows)


def kept_by_bucket(plan: JarPlan) -> dict[str, Mass]:
    """Honey that stays unbottled, by the bucket it stays in."""
    held: dict[str, Mass] = {}
    for part in plan.kept:
        held[part.bucket] = held.get(part.bucket, NOTHING) + part.mass
    return held
