"""``labelkit today``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@answering
def command(context: CommandContext) -> Answer:
    """List what needs doing today.

    Cappings, wet buckets, labels to print, the market, rules to read again.

    Example:  labelkit today
    """
    from labelkit.season.due import due_today

    with context.reading() as state:
        found = due_today(state, context.day)
    text = "\n".join(f"{'! ' if due.level == 'urgent' else '  '}{due.what}\n    {due.why}" for due in found)
    return Answer({"day": context.day, "due": found}, text or "Nothing is due today.")
