"""``labelkit run-sheet``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import (
    JAR_LIMIT,
    JAR_MASS,
    JAR_TARE,
    MASS,
    by_size,
    fill_goal_options,
    season_file,
)
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from decimal import Decimal

    from labelkit.lots.season import SeasonFile
    from labelkit.measures import Mass


@click.command()
@season_file
@click.option("--at-most", type=JAR_LIMIT, multiple=True, help="At most so many of this size.")
@click.option("--out", default="run-sheet.pdf", show_default=True, metavar="FILE.pdf", help="Where the sheet goes.")
@click.option(
    "--tare",
    "tares",
    type=JAR_TARE,
    multiple=True,
    help="An empty jar with lid and label; repeat for each size.",
)
@click.option(
    "--margin",
    "margins",
    type=JAR_MASS,
    multiple=True,
    help="How far above the fill target to aim; see reckon fill-margin.",
)
@click.option(
    "--fill-from-past",
    "from_past",
    is_flag=True,
    help="Aim and plan by your own check weights; see labelkit run-result.",
)
@fill_goal_options
@click.option("--division", type=MASS, default="1 g", show_default=True, help="The step the scale counts in.")
@click.option("--page", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="Paper size.")
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    at_most: tuple[tuple[str, int], ...],
    out: str,
    tares: tuple[tuple[str, Mass], ...],
    margins: tuple[tuple[str, Mass], ...],
    from_past: bool,
    sure: Decimal | None,
    system: str | None,
    division: Mass,
    page: str,
) -> Answer:
    """The sheet beside the scale on filling day: what it must read for each jar, with boxes to tick.

    For the plan of a season file, or of what the record says is in the buckets.

    \b
    Example:  labelkit run-sheet sample_lots/one-bucket.toml --tare "one pound=212.7 g" --margin "one pound=1.5 g"
              labelkit run-sheet --fill-from-past --sure 99
    """
    from labelkit.cli._files import write_whole
    from labelkit.cli._plan_text import past_told
    from labelkit.cli._sheet_words import costs_told, sheet_document, sheet_text
    from labelkit.cli.plan import basis_for
    from labelkit.plan.wishes import FillGoal
    from labelkit.season.run_sheet import FillingDay, run_sheet, run_sheet_pdf

    asked = FillingDay(
        by_size(tares, "--tare"),
        by_size(margins, "--margin"),
        by_size(at_most, "--at-most"),
        division,
        from_past,
        FillGoal(sure, system),
    )
    day = run_sheet(basis_for(context, file, from_past), asked, context.locale)
    write_whole(out, run_sheet_pdf(day, page, context.locale))
    said = [
        *past_told(day.known, day.taken, day.unknown, context.locale),
        *costs_told(day.each_gram if day.taken or margins else {}, context.locale),
    ]
    document = sheet_document(day.sheet, out) | {
        "from_past": sorted(day.taken),
        "offered": sorted(set(day.known) - set(day.taken)),
        "each_gram_costs": {size: money.amount for size, (_, money) in day.each_gram.items()},
    }
    return Answer(document, "\n".join([sheet_text(day.sheet, out, context.locale), *said]))
