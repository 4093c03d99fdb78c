"""The jar plan as a spreadsheet: every bucket with what it fills."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from labelkit.measures import NOTHING, Mass
from labelkit.measures.rounding import plain

if TYPE_CHECKING:
    from labelkit.plan import JarPlan, PlanRequest


def plan_table(request: PlanRequest, plan: JarPlan) -> str:
    """Every bucket with what it fills, as a spreadsheet (comma-separated, weights in grams)."""
    sizes = [size.id for size in request.sizes]
    kept = kept_by_bucket(plan)
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(["bucket", "usable_g", *sizes, "filled_g", "left_g", "of_that_kept_g"])
    for b in plan.buckets:
        held = kept.get(b.id, NOTHING).g
        rows.writerow(
            [
                b.id,
                plain(b.usable.g),
                *(b.jars.get(s, 0) for s in sizes),
                plain(b.filled.g),
                plain(b.left.g),
                plain(held),
            ]
        )
    return out.getvalue()


def kept_by_bucket(plan: JarPlan) -> dict[str, Mass]:
    """Honey that stays unbottled, by the bucket it stays in."""
    held: dict[str, Mass] = {}
    for part in plan.kept:
        held[part.bucket] = held.get(part.bucket, NOTHING) + part.mass
    return held
