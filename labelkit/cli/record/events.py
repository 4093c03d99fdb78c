"""``labelkit record events``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--about", metavar="LOT", help="Only those that moved honey of this lot or bucket.")
@click.option("--kind", metavar="KIND", multiple=True, help="Only events of this kind (may be repeated).")
@click.option("--last", type=click.IntRange(min=1), metavar="N", help="Only the last N.")
@answering
def command(context: CommandContext, about: str | None, kind: tuple[str, ...], last: int | None) -> Answer:
    """List what was booked, with the numbers a correction needs; struck events stay visible.

    Example:  labelkit --record season.labelkit record events --about B1
    """
    from labelkit.cli._show import table
    from labelkit.measures.locales import show_day

    with context.reading() as state:
        found = list(state.events_about((about,)) if about else state.events(kind))
    found = [each for each in found if not kind or each.kind in kind][-(last or 0) :]
    rows = [
        (
            str(each.seq),
            show_day(each.day, context.locale, form="medium"),
            each.event.title,
            each.event.describe(context.locale),
            each.who,
            f"struck by {each.struck_by}" if each.struck_by else "",
        )
        for each in found
    ]
    document = {
        "events": [
            {
                "event": each.seq,
                "kind": each.kind,
                "day": each.day,
                "at": each.at.isoformat(),
                "who": each.who,
                "key": each.key,
                "says": each.event.describe(context.locale),
                "struck_by": each.struck_by,
                "hash": each.hash,
            }
            for each in found
        ]
    }
    text = table(("event", "day", "", "what", "who", ""), rows, right=(0,)) if rows else "Nothing was booked yet."
    return Answer(document, text)
