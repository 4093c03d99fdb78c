"""``labelkit papers``."""

from __future__ import annotations

from datetime import date

import click

from labelkit.cli._options import DAY, because_option, once_option, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name", required=False, default="")
@click.option(
    "--kind",
    type=click.Choice(["registration", "insurance", "scale", "permit", "other"]),
    help="What it is; asked for once.",
)
@click.option("--number", metavar="WORDS", default="", help="Its number.")
@click.option("--until", type=DAY, help="Its last day; leave out where it does not run out.")
@click.option("--file", "file", metavar="FILE", help="The paper itself: PDF, PNG or JPEG, kept in the record.")
@click.option("--retire", is_flag=True, help="Ask for it no more.")
@click.option("--folder", "out", metavar="FILE.pdf", help="Print all papers as one file, for a market manager.")
@once_option
@because_option
@paper_options
@answering
def command(
    context: CommandContext,
    name: str,
    kind: str | None,
    number: str,
    until: date | None,
    file: str | None,
    retire: bool,
    out: str | None,
    once: str | None,
    because: str,
    page: str | None,
    language: str | None,
) -> Answer:
    """Keep permits, insurance and certificates that run out.

    "today" and the calendar tell of each a month before its last day.

    \b
    Example:  labelkit papers
              labelkit papers "Hill market" --kind permit --number 17 --until 2027-03-31 --file permit.pdf
              labelkit papers --folder for-the-market.pdf
    """
    from pathlib import Path

    from labelkit.cli._files import read_bytes, write_whole
    from labelkit.errors.cli import UsageUnclear
    from labelkit.season.kept_papers import PaperAsked, folder_pdf, keep_paper, papers_of
    from labelkit.season.papers import paper_size, season_words
    from labelkit.season.settings import settings_of

    event = None
    if not name and (kind or number or until or file or retire):
        raise UsageUnclear("Which paper is it? Give it a name.", "labelkit papers --help")
    if name:
        read = (Path(file).name, read_bytes(file)) if file else None
        with context.work(once) as work:
            _, event = keep_paper(work, PaperAsked(name, kind or "", number, until, read, because, retire), context.day)
    with context.reading() as state:
        papers, season = papers_of(state.settings()), settings_of(state)
    document = {
        "papers": [
            {
                "name": each.name,
                "kind": each.kind,
                "number": each.number,
                "until": each.until,
                "state": each.state(context.day),
                "file": each.file[0] if each.file else None,
            }
            for each in papers
        ],
        "event": event,
        "folder": out,
    }
    text = _listed(context, papers)
    if out:
        words, locale = season_words(season, language, context.locale)
        made = folder_pdf(papers, season.maker, context.day, paper_size(season, page), words, locale)
        write_whole(out, made)
        text += f"\n\nWritten: {out}"
    return Answer(document, text)


def _listed(context: CommandContext, papers) -> str:
    from labelkit.cli._show import table
    from labelkit.measures.locales import show_day

    if not papers:
        return 'No paper is kept yet. For example: labelkit papers "Hill market" --kind permit --until DATE --file FILE'
    rows = [
        (
            each.title,
            each.number,
            show_day(each.until, context.locale, form="medium") if each.until else "",
            each.state(context.day),
            each.file[0] if each.file else "",
        )
        for each in papers
    ]
    return (
        table(("paper", "number", "last day", "state", "file"), rows)
        + "\nWhat you need differs: check your local rules."
    )
