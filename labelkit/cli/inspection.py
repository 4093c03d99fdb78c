"""``labelkit inspection``."""

from __future__ import annotations

from datetime import date

import click

from labelkit.cli._options import DAY, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--out", "folder", metavar="FOLDER", required=True, help="A new or empty folder.")
@click.option("--from", "since", type=DAY, help="The first day of the period; January 1 unless given.")
@click.option("--to", "until", type=DAY, help="The last day; today unless given.")
@click.option("--lot", metavar="CODE", default="", help="The lot to trace; the last one filled unless given.")
@paper_options
@answering
def command(
    context: CommandContext,
    folder: str,
    since: date | None,
    until: date | None,
    lot: str,
    page: str | None,
    language: str | None,
) -> Answer:
    """Write the folder of papers for an inspector.

    Hazard plan, batch sheets, calibration log, glass, cleaning and pests, one trace. Filled in from the record.
    What was not booked is said to be missing. Check your local rules.

    Example:  labelkit inspection --from 2026-01-01 --out for-the-inspector
    """
    from labelkit.cli._files import new_folder, write_whole
    from labelkit.season.inspection import InspectionAsked, inspection
    from labelkit.season.inspection_papers import inspection_papers
    from labelkit.season.papers import paper_size, season_words
    from labelkit.season.settings import season_of

    last, season = until or context.day, season_of(context)
    words, locale = season_words(season, language, context.reader)
    with context.reading() as state:
        found = inspection(state, InspectionAsked(since or date(last.year, 1, 1), last, lot), locale)
    papers = inspection_papers(found, paper_size(season, page), locale, words)
    into = new_folder(folder)
    files = [str(write_whole(into / name, content)) for name, content in papers.items()]
    document = {
        "files": files,
        "from": found.asked.since,
        "to": found.asked.until,
        "lot": found.traced.lots[0],
        "runs": len(found.runs),
        "lines": len(found.lines),
        "figures": dict(found.figures),
    }
    return Answer(document, "\n".join(f"Written: {name}" for name in files))
