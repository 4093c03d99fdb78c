"""``labelkit record workbook``."""

from __future__ import annotations

from pathlib import Path

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--out", "file", metavar="FILE.xlsx", required=True, help="The workbook to write.")
@click.option("--without-people", is_flag=True, help="Leave out names and addresses of customers.")
@answering
def command(context: CommandContext, file: str, without_people: bool) -> Answer:
    """Write the season as a workbook, a sheet for each part.

    Buckets, runs, jars, sales, customers, money, trace and findings. It is for reading and reckoning on; the sheet of
    weigh-ins can be weighed in again, and only an export brings the whole record back.

    Example:  labelkit --record season.labelkit record workbook --out season-2026.xlsx
    """
    from labelkit.cli._files import write_whole
    from labelkit.errors.cli import UsageUnclear
    from labelkit.paper.workbook import workbook
    from labelkit.record.forgetting import WORKBOOK
    from labelkit.season.workbook import HELD, season_sheets

    if Path(file).suffix.casefold() != ".xlsx":
        raise UsageUnclear(
            f"“{file}” is no name of a workbook; write --out season.xlsx.", "labelkit record workbook --help"
        )
    with context.season(to_read=True) as season:
        with season.reading() as state:
            sheets = season_sheets(state, context.day, context.locale, people=not without_people)
        written = write_whole(file, workbook(sheets, context.now), private=not without_people)
        if not without_people:
            season.record.remember(written, WORKBOOK)
    rows = {sheet.name: len(sheet.rows) for sheet in sheets}
    lines = [
        f"{written}: {', '.join(f'{name} ({count})' for name, count in rows.items() if name != 'about')}",
        *HELD[2:],
    ]
    return Answer({"file": str(written), "sheets": rows, "not_held": list(HELD[2:])}, "\n".join(lines))
