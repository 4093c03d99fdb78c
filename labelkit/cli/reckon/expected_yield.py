"""``labelkit reckon expected-yield``."""

from __future__ import annotations

import click

from labelkit.cli._options import COUNT, BySize
from labelkit.cli._runner import Answer, CommandContext, answering

_DEPTHS = ("shallow", "medium", "deep")

SUPERS = BySize(COUNT, "medium=2")


@click.command()
@click.option("--supers", type=SUPERS, multiple=True, metavar="DEPTH=COUNT", help="Full ten-frame supers, “medium=2”.")
@click.option("--frames", type=SUPERS, multiple=True, metavar="DEPTH=COUNT", help="Full, capped frames, “deep=10”.")
@answering
def command(
    context: CommandContext, supers: tuple[tuple[str, int], ...], frames: tuple[tuple[str, int], ...]
) -> Answer:
    """What supers and frames usually give, before anything is weighed. Practice, not a figure to book.

    Example:  labelkit reckon expected-yield --supers medium=2 --frames deep=3
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.honey.yields import from_frames, from_supers, wax_from
    from labelkit.measures import show_customary, show_metric, total

    found = []
    for counted, reckon in ((supers, from_supers), (frames, from_frames)):
        for depth, count in counted:
            if depth not in _DEPTHS:
                raise UsageUnclear(f"“{depth}” is not a depth of super; use {', '.join(_DEPTHS)}.", "labelkit --help")
            found.append(reckon(depth, count))
    if not found:
        raise UsageUnclear("Neither supers nor frames are given.", "labelkit reckon expected-yield --help")
    low, high = total(row.low for row in found), total(row.high for row in found)
    wax = wax_from(high).high
    notes = list(dict.fromkeys(f"{row.source} ({row.sure})" for row in found))
    document = {"low_g": low.g, "high_g": high.g, "wax_to_g": wax.g, "notes": notes, "sure": "practice"}
    lines = [
        f"{show_customary(low, context.locale)} to {show_customary(high, context.locale)} of honey "
        f"({show_metric(low, context.locale)} to {show_metric(high, context.locale)}), "
        f"and up to {show_customary(wax, context.locale)} of wax from the cappings.",
        *(f"  {note}" for note in notes),
        "  Book what the scale says, never this.",
    ]
    return Answer(document, "\n".join(lines))
