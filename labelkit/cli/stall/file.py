"""``labelkit stall file``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option("--out", metavar="FILE.html", help="Where the page goes; named after the day unless given.")
@click.option("--language", metavar="LOCALE", help="The language of the page, for example fr_FR; yours unless given.")
@answering
def command(context: CommandContext, place: str | None, out: str | None, language: str | None) -> Answer:
    """Make the stall page for your phone.

    One file that sells, gives change and needs no network.

    Send the file to the telephone and open it there before you leave. In the evening it gives the day back as a
    file, a code or a text for labelkit stall settle.

    Example:  labelkit stall file --out market.html
    """
    from labelkit.sale.day_page import day_page, file_name
    from labelkit.season.papers import paper_words
    from labelkit.season.settings import settings_of
    from labelkit.season.stall import loaded_day

    with context.reading() as state:
        season, load = settings_of(state), loaded_day(state, context.day, place)
    words, locale = paper_words(language, context.locale)
    key = f"{load.day.isoformat()} {load.place}"
    name = out or file_name(key).replace(".json", ".html")
    write_whole(name, day_page(load, words, locale, season.currency))
    jars = sum(line.count for line in load.lines)
    text = f"Market page for {jars} jars: {name}\nOpen it on the telephone once at home, to see that it does."
    return Answer({"file": name, "key": key, "jars": jars}, text)
