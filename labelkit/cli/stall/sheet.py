"""``labelkit stall sheet``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import paper_options
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option("--out", default="tally-sheet.pdf", show_default=True, metavar="FILE.pdf", help="Where the sheet goes.")
@paper_options
@answering
def command(context: CommandContext, place: str | None, out: str, page: str | None, language: str | None) -> Answer:
    """Print the tally sheet.

    One box to tick for each jar that is loaded, and lines for the money.

    Example:  labelkit stall sheet --out tally.pdf
    """
    from labelkit.sale.tally import tally_pdf
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import settings_of
    from labelkit.season.stall import loaded_day

    with context.reading() as state:
        season, load = settings_of(state), loaded_day(state, context.day, place)
    words, locale = paper_words(language, context.locale)
    size = paper_size(season, page)
    write_whole(out, tally_pdf(load, words, locale, page=size, author=season.maker.get("name", "")))
    jars = sum(line.count for line in load.lines)
    return Answer({"file": out, "jars": jars}, f"Tally sheet for {jars} jars: {out}")
