"""What ``labelkit run-result`` answers a program: one JSON document."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.run.next_fill import NextFill
    from labelkit.run.outcome import Outcome
    from labelkit.season.run_result import RunResult


def _fine(grams: Decimal | None) -> Decimal | None:
    from labelkit.measures.rounding import HALF_EVEN, to_step

    return None if grams is None else to_step(grams, Decimal("0.0001"), HALF_EVEN)


def run_document(result: RunResult) -> dict:
    """Runs, honey by yard and hive, and how to fill next; weights in grams and money as exact decimals."""
    return {
        "runs": [_run(found) for found in result.outcomes],
        "given_away_g": result.given_away.g,
        "given_away": result.worth.amount,
        "currency": result.currency,
        "yards": [
            {
                "yard": yard.yard,
                "came_in_g": yard.mass.g,
                "shared_g": yard.shared.g,
                "hives": yard.named,
                "per_hive_g": yard.per_hive.g if yard.per_hive else None,
                "by_hive": [
                    {"hive": h.hive, "came_in_g": h.mass.g, "alone_g": h.alone.g, "shared_g": h.shared.g}
                    for h in yard.hives
                ],
            }
            for yard in result.yards
        ],
        "next": [_next(fill, result.each_gram.get(fill.size)) for fill in result.fills.values()],
    }


def _run(found: Outcome) -> dict:
    run = found.run
    return {
        "lot": run.lot,
        "day": run.day,
        "bucket": run.bucket,
        "taken_g": run.taken.g,
        "left_g": run.left.g,
        "left_was_weighed": run.left_was_weighed,
        "unexplained_g": run.unexplained.g,
        "unexplained_percent": round(run.unexplained_percent, 3),
        "because": run.because,
        "found_in_jars_g": found.found_in_jars.g,
        "still_unexplained_g": found.still_unexplained.g,
        "given_away_g": found.given_away.g,
        "hives": found.hives,
        "per_hive_g": found.per_hive.g if found.per_hive else None,
        "sizes": [
            {
                "size": f.size,
                "declares": f.declares.text,
                "jars": f.jars,
                "owes_g": f.label.g,
                "weighed": len(f.weighed.jars) if f.weighed else 0,
                "mean_g": _fine(f.weighed.jars.mean) if f.weighed else None,
                "stdev_g": _fine(f.weighed.jars.stdev) if f.weighed else None,
                "above_label_g": _fine(f.above),
                "given_away_g": None if f.above is None else f.given_away.g,
                "given_away": f.worth.amount if f.worth else None,
            }
            for f in found.fillings
        ],
    }


def _next(fill: NextFill, gram: Money | None) -> dict:
    return {
        "size": fill.size,
        "declares": fill.declares.text,
        "owes_g": fill.owes.g,
        "fill_to_g": fill.aim.g,
        "margin_g": fill.margin.g,
        "takes_on_average_g": fill.takes.g,
        "wanted_percent": fill.wanted * 100,
        "passes_at_least_percent": round(Decimal(repr(fill.chance)) * 100, 1),
        "habit_g": _fine(fill.habit.above_target),
        "spread_g": _fine(fill.habit.spread),
        "between_runs_g": _fine(fill.habit.between_runs),
        "runs": fill.habit.runs,
        "jars_weighed": fill.habit.jars,
        "lots_of": list(fill.lots),
        "tests": list(fill.tests),
        "each_gram_costs": gram.amount if gram else None,
        "notes": list(fill.notes),
    }
