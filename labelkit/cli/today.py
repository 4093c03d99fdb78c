"""``labelkit today``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--calendar", metavar="FILE.ics", help="Also write what is due, and when, as a calendar file.")
@answering
def command(context: CommandContext, calendar: str | None) -> Answer:
    """List what needs doing today.

    Cappings, wet buckets, labels to print, the market, a yearly cap that comes near, rules to read again.

    The calendar holds the coming days too: markets, best-before dates, rules that change. Read it into your calendar
    again whenever you like; its entries move and are never doubled.

    \b
    Example:  labelkit today
              labelkit today --calendar season.ics
    """
    from labelkit.errors.sentence import written
    from labelkit.season.ahead import ahead, calendar_of
    from labelkit.season.due import due_today

    with context.reading() as state:
        found = due_today(state, context.day, context.reader)
    told = [
        (due.level == "urgent", *(written(words, context.reader) for words in (due.what, due.why))) for due in found
    ]
    text = "\n".join(f"{'! ' if urgent else '  '}{what}\n    {why}" for urgent, what, why in told)
    document = {"day": context.day, "due": found}
    text = text or "Nothing is due today."
    if not calendar:
        return Answer(document, text)
    from labelkit.cli._files import write_whole

    with context.reading() as state:
        coming = ahead(state, context.day, context.reader)
    file = write_whole(calendar, calendar_of(coming, context.now))
    n = len(coming.entries)
    return Answer(document | {"calendar": str(file), "entries": n}, f"{text}\n\nWritten: {file} ({n} calendar entries)")
