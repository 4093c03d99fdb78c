"""``labelkit stall sheet``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import paper_options, paper_size, words_of
from labelkit.cli._stall import loaded_day
from labelkit.season.settings import settings_of


@click.command()
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option("--out", default="tally-sheet.pdf", show_default=True, metavar="FILE.pdf", help="Where the sheet goes.")
@paper_options
@answering
def command(context: CommandContext, place: str | None, out: str, page: str | None, language: str | None) -> Answer:
    """The tally sheet: one box to tick for each jar that is loaded, and lines for the money.

    Example:  labelkit stall sheet --out tally.pdf
    """
    from labelkit.sale.tally import tally_pdf

    with context.reading() as reading:
        season, load = settings_of(reading), loaded_day(reading, context, place)
    words, locale = words_of(context, language)
    made = tally_pdf(load, words, locale, page=paper_size(page, season.currency), author=season.maker.get("name", ""))
    write_whole(out, made)
    jars = sum(line.count for line in load.lines)
    return Answer({"file": out, "jars": jars}, f"Tally sheet for {jars} jars: {out}")
