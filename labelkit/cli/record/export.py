"""``labelkit record export``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--to", "folder", metavar="FOLDER", required=True, help="A new or empty folder.")
@click.option("--without-people", is_flag=True, help="Leave out names and addresses of customers.")
@answering
def command(context: CommandContext, folder: str, without_people: bool) -> Answer:
    """Export everything as CSV.

    “record import” reads it back whole.

    Example:  labelkit --record season.labelkit record export --to season-2026
    """
    from labelkit.cli._files import new_folder, write_whole
    from labelkit.record.export import export

    with context.season(to_read=True) as season:
        files = export(season.record, people=not without_people)
        into = new_folder(folder)
        if not without_people:
            season.record.remember(into, "export")
    written = [write_whole(into / name, text, private=True) for name, text in files.items()]
    return Answer(
        {"folder": str(into), "files": [each.name for each in written]},
        f"{into}: {', '.join(each.name for each in written)}",
    )
