"""How a run sheet is told on the screen, and as one JSON document."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.run.run_sheet import RunSheet
    from labelkit.season.run_sheet import DaySheet


def sheet_document(day: DaySheet, out: str) -> dict[str, Any]:
    """The sheet as one JSON document; weights in grams as exact decimals. ``jars`` are those of the whole plan."""
    sheet = day.sheet
    return {
        "file": out,
        "day": sheet.day,
        "division_g": sheet.division.g,
        "jars": day.followed.whole.jars,
        "lay_out": sheet.jars,
        "buckets": [
            {
                "bucket": bucket.bucket,
                "lot": bucket.lot,
                "usable_g": bucket.usable.g,
                "left_g": bucket.left.g,
                "lines": [
                    {
                        "size": line.size,
                        "declares": line.declares.text,
                        "jars": line.count,
                        "spare": line.spare,
                        "tare_g": line.tare.g if line.tare else None,
                        "fill_until": line.target.show("en_US"),
                        "fill_until_g": line.target.g,
                        "good_from_g": line.lowest.g,
                        "good_to_g": line.highest.g,
                        "weigh": line.weigh,
                        "passes": None if line.chance is None else round(Decimal(repr(line.chance)), 3),
                    }
                    for line in bucket.lines
                ],
            }
            for bucket in sheet.buckets
        ],
        "cautions": list(sheet.cautions),
        "from_past": sorted(day.taken),
        "offered": sorted(set(day.known) - set(day.taken)),
        "each_gram_costs": {size: money.amount for size, (_, money) in day.each_gram.items()},
    }


def sheet_text(sheet: RunSheet, out: str, locale: str) -> str:
    """The sheet in short: what each jar must read, what to lay out, the cautions of heat and scale."""
    from labelkit.cli._show import table
    from labelkit.run.run_sheet import CAUTIONS

    rows = [
        (
            bucket.bucket,
            bucket.lot,
            line.size,
            str(line.count),
            line.target.show(locale),
            f"{line.lowest.show(locale)} … {line.highest.show(locale)}",
            str(line.weigh or "–"),
        )
        for bucket in sheet.buckets
        for line in bucket.lines
    ]
    heads = ("bucket", "lot", "jar", "count", "fill until it reads", "good", "weigh")
    counts = ", ".join(f"{count} × {size}" for size, count in sheet.jars.items())
    bare = dict.fromkeys(line.size for bucket in sheet.buckets for line in bucket.lines if not line.gross)
    tared = [f"Without --tare for {', '.join(bare)}: set the scale to zero with the empty jar on it."] if bare else []
    return "\n".join(
        [
            table(heads, rows, right=[3, 4, 5, 6]),
            "",
            f"Lay out {counts}, and as many lids.",
            *tared,
            f"Run sheet: {out}",
            *(caution for caution in sheet.cautions if caution not in CAUTIONS),
            *CAUTIONS[:2],
            CAUTIONS[5],
        ]
    )


def costs_told(grams: Mapping[str, tuple[int, Money]], locale: str) -> list[str]:
    """What a further gram costs, a line for each size."""
    return [
        f"  Each further gram in the {jars} {size} jars of this day costs {money.show(locale)}."
        for size, (jars, money) in grams.items()
    ]
