"""``labelkit record roles``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--name", metavar="ROLE", default="labelkit_station", show_default=True, help="What the role is called.")
@answering
def command(context: CommandContext, name: str) -> Answer:
    """Write the SQL for a PostgreSQL role of stations.

    The role may read and book, and nothing else.

    The owner of the record runs it once. Bringing the record to a newer form and forgetting a person stay with the owner.

    Example:  labelkit --record postgresql://owner@honeyhouse/season record roles
    """
    from labelkit.record.roles import station_rights

    with context.season(to_read=True) as season:
        sql = station_rights(season.record, name)
    return Answer({"role": name, "sql": sql}, sql)
