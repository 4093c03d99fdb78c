"""``labelkit year compare``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import PERIOD, paper_language
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.sale.years import Comparison


@click.command()
@click.option("--year", "periods", type=PERIOD, multiple=True, help="Only these: 2026, 2026-04 or two days with “..”.")
@click.option("--begins", type=click.IntRange(1, 12), default=1, help="The month a year of yours begins with.")
@click.option("--table", "sheet", metavar="FILE", help="Also write it as a table (.csv or .xlsx).")
@click.option("--svg", metavar="FILE.svg", help="Also draw it.")
@paper_language
@answering
def command(
    context: CommandContext,
    periods: tuple[Period, ...],
    begins: int,
    sheet: str | None,
    svg: str | None,
    language: str | None,
) -> Answer:
    """Show years side by side, with what changed.

    Yield by yard and hive, jars, prices, money, losses and honey given away.

    \b
    Example:  labelkit year compare
              labelkit year compare --year 2025 --year 2026 --svg years.svg --table years.xlsx
    """
    from labelkit.measures.locales import in_units
    from labelkit.sale.years import document
    from labelkit.season.settings import settings_of
    from labelkit.season.years import compare, years_sheet

    with context.reading() as state:
        season, found = settings_of(state), compare(state, context.day, periods, begins)
    written = []
    if sheet:
        from labelkit.paper.workbook import table_file

        written.append(str(write_whole(sheet, table_file(years_sheet(found), sheet, context.now), private=True)))
    if svg:
        from labelkit.sale.bars import bars_svg
        from labelkit.sale.years import picture
        from labelkit.season.papers import paper_words

        words, spoken = paper_words(language, context.locale)
        written.append(str(write_whole(svg, bars_svg(picture(found, words, in_units(spoken, season.units))))))
    text = [_text(found, in_units(context.locale, season.units)), *(f"Written: {name}" for name in written)]
    return Answer(document(found) | {"files": written}, "\n".join(text))


def _text(found: Comparison, locale: str) -> str:
    from labelkit.sale.years import interleaved, say_value

    names = [year.name for year in found.years]
    heads = ("", "", *interleaved(names, ["change"] * (len(names) - 1)))
    rows, before = [], ""
    for figure in found.figures:
        values = [say_value(value, locale) for value in figure.values]
        changes = [say_value(value, locale, change=True) for value in figure.changes]
        group, before = figure.group if figure.group != before else "", figure.group
        rows.append((group, figure.name or "no yard named", *interleaved(values, changes)))
    return table(heads, rows, right=range(2, len(heads)))
