"""``labelkit trace``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import DAY, paper_options, year_option
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.measures.period import Period


@click.command()
@click.argument("code", required=False, default="")
@click.option("--yard", metavar="NAME", default="", help="Begin at a yard.")
@click.option("--hive", metavar="NAME", default="", help="Begin at a hive.")
@click.option("--harvested", type=DAY, help="Begin at a harvest day.")
@click.option("--supplier", metavar="NAME", default="", help="Begin at who supplied bought-in honey.")
@click.option("--their-lot", metavar="CODE", default="", help="Begin at a lot code of a supplier.")
@click.option("--customer", metavar="NAME", default="", help="Begin at a customer.")
@click.option("--place", metavar="NAME", default="", help="Begin at a place of sale, such as a market.")
@click.option("--on", type=DAY, help="With --customer or --place: only what was sold on this day.")
@year_option
@click.option("--csv", "csv_file", metavar="FILE", help="Also write every step as a spreadsheet file.")
@click.option("--svg", "svg_file", metavar="FILE", help="Also draw the way from the yards to the jars.")
@click.option("--pdf", "pdf_file", metavar="FILE", help="Also set it on paper.")
@paper_options
@answering
def command(
    context: CommandContext,
    csv_file: str | None,
    svg_file: str | None,
    pdf_file: str | None,
    period: Period | None,
    page: str | None,
    language: str | None,
    **begins: Any,
) -> Answer:
    """Trace jars back to hives and on to customers.

    CODE is the lot code on a jar, or the name of a bucket. --year keeps to what was harvested, delivered or sold in it.

    \b
    Example:  labelkit --record season.labelkit trace L26195AXR
              labelkit --record season.labelkit trace --hive H2 --svg hive.svg
              labelkit --record season.labelkit trace --hive H2 --year 2026
    """
    from labelkit.cli._files import write_whole
    from labelkit.measures.locales import show_day
    from labelkit.season.papers import paper_size, season_words
    from labelkit.season.settings import season_of
    from labelkit.season.trace import TraceFrom, trace
    from labelkit.trace.document import document
    from labelkit.trace.trace_text import words

    with context.reading() as state:
        found = trace(state, TraceFrom(**begins, within=period))
    reader, written = context.reader, []
    season = season_of(context)
    spoken, locale = season_words(season, language, reader)
    if csv_file:
        from labelkit.trace.sheet import sheet

        written.append(write_whole(csv_file, sheet(found.trace), private=True))
    if svg_file:
        from labelkit.trace.picture import picture

        written.append(write_whole(svg_file, picture(found.trace, locale, spoken)))
    if pdf_file:
        from labelkit.trace.papers import trace_paper

        paper = trace_paper(found.trace, paper_size(season, page), locale=locale, words=spoken, limits=found.limits)
        written.append(write_whole(pdf_file, paper, private=True))
    traced = {
        "day": context.day,
        "who": context.who,
        "record": found.record,
        "as_of_event": found.as_of_event,
        "head": found.head,
    }
    day = show_day(context.day, context.locale)
    struck = found.struck
    head = ""
    if struck:
        leads = f" What stands instead: {', '.join(struck.instead)}." if struck.instead else ""
        head = (
            f"What gave jars the lot code {struck.lot} (event {struck.event}) was struck: {struck.reason}.{leads}\n\n"
        )
    text = (
        f"{head}{words(found.trace, reader, found.limits)}\n"
        f"Traced on {day} by {context.who} in {found.record}, as of event {found.as_of_event}.\n"
        + "".join(f"Written: {name}\n" for name in written)
    )
    whole = document(found.trace, found.limits) | {
        "lots": list(found.lots),
        "struck": struck
        and {"event": struck.event, "lot": struck.lot, "reason": struck.reason, "instead": list(struck.instead)},
        "traced": traced,
        "written": [str(name) for name in written],
    }
    return Answer(whole, text)
