"""``labelkit run-sheet``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import DIVISION, JAR_MASS, JAR_TARE, by_size, grouped, paper_options, season_file
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._wishes import planning_of, wish_options

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.measures import Mass
    from labelkit.measures.division import Division
    from labelkit.plan.wishes import Planning
    from labelkit.season.kept_plan import Followed
    from labelkit.season.run_sheet import Ahead


@click.command()
@season_file
@click.option("--out", default="run-sheet.pdf", show_default=True, metavar="FILE.pdf", help="Where the sheet goes.")
@click.option(
    "--tare",
    "tares",
    type=JAR_TARE,
    multiple=True,
    help="An empty jar with lid and label; repeat for each size, and for each empty jar you weighed (ten are best).",
)
@click.option(
    "--margin",
    "margins",
    type=JAR_MASS,
    multiple=True,
    help="How far above the fill target to aim; see reckon fill-margin.",
)
@click.option(
    "--division",
    type=DIVISION,
    help="The step the scale counts in: 1 g, 0.1 oz, 0 lb 0.1 oz; as in start unless given.",
)
@paper_options
@wish_options
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    out: str,
    tares: tuple[tuple[str, Mass], ...],
    margins: tuple[tuple[str, Mass], ...],
    division: Division | None,
    page: str | None,
    language: str | None,
    **said: Any,
) -> Answer:
    """Print the filling sheet for the scale.

    What the scale must read for each jar, with boxes to tick.

    Of the plan that was kept (see plan --book) and what of it is still to be filled. Otherwise of a plan with the
    wishes given here, the same as “labelkit plan” takes, of a season file or of what the record says is in the buckets.

    \b
    Example:  labelkit run-sheet
              labelkit run-sheet sample_lots/one-bucket.toml --tare "one pound=212.7 g" --margin "one pound=1.5 g"
              labelkit run-sheet --fill-from-past --sure 99
    """
    from labelkit.cli._files import write_whole
    from labelkit.cli._plan_text import followed_document, followed_text, past_told
    from labelkit.cli._sheet_words import costs_told, sheet_document, sheet_text
    from labelkit.measures.division import GRAM
    from labelkit.season.papers import paper_size, season_words
    from labelkit.season.run_sheet import FillingDay, run_sheet, run_sheet_pdf
    from labelkit.season.settings import season_of

    scale = division or (GRAM if file else season_of(context).division)
    asked = FillingDay(grouped(tares), by_size(margins, "--margin"), scale)
    followed, ahead = followed_for(context, file, planning_of(said))
    reader = context.locale if file else context.reader
    day = run_sheet(followed, asked, reader, ahead)
    season = file or season_of(context)
    paper_words, paper_locale = season_words(season, language, reader)
    write_whole(out, run_sheet_pdf(day, paper_size(season, page), paper_words, paper_locale))
    words = [
        *followed_text(followed, reader),
        *past_told(day.known, day.taken, day.unknown, reader),
        *costs_told(day.each_gram if day.taken or margins else {}, reader),
    ]
    document = sheet_document(day, out) | followed_document(followed, reader)
    return Answer(document, "\n".join([sheet_text(day.sheet, out, reader), *words]))


def followed_for(context: CommandContext, file: SeasonFile | None, wishes: Planning) -> tuple[Followed, Ahead]:
    """The plan to fill by, of a season file or of the record, and what the record says of its runs to come."""
    from labelkit.cli.plan import basis_for
    from labelkit.season.kept_plan import follow, fresh
    from labelkit.season.run_sheet import Ahead, runs_ahead

    if file:
        return fresh(basis_for(context, file, wishes.from_past), wishes), Ahead()
    with context.reading() as state:
        followed = follow(state, context.day, wishes)
        return followed, runs_ahead(state, followed, context.day)
