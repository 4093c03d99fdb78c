"""``labelkit record events``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.trace.booked import Booked

COLUMNS = 120
LONGEST_NAME = 32  # signs of who booked it


@click.command()
@click.option("--about", metavar="LOT", help="Only those that moved honey of this lot or bucket.")
@click.option("--kind", metavar="KIND", multiple=True, help="Only events of this kind (may be repeated).")
@click.option("--last", type=click.IntRange(min=1), metavar="N", help="Only the last N.")
@answering
def command(context: CommandContext, about: str | None, kind: tuple[str, ...], last: int | None) -> Answer:
    """List events and their numbers.

    A correction needs the number. Struck events stay visible.

    Example:  labelkit --record season.labelkit record events --about B1
    """

    reader = context.reader
    with context.reading() as state:
        found = list(state.events_about((about,)) if about else state.events(kind))
    found = [each for each in found if not kind or each.kind in kind][-(last or 0) :]
    document = {
        "events": [
            {
                "event": each.seq,
                "kind": each.kind,
                "day": each.day,
                "at": each.at.isoformat(),
                "who": each.who,
                "key": each.key,
                "says": each.event.describe(reader),
                "struck_by": each.struck_by,
                "hash": each.hash,
            }
            for each in found
        ]
    }
    wide = len(str(found[-1].seq)) if found else 0
    lines = [_line(each, wide, reader) for each in found]
    text = "\n".join(lines) or "Nothing was booked yet."
    return Answer(document, text)


def _line(booked: Booked, wide: int, locale: str) -> str:
    """One event in at most 120 columns, its number first; what is too long is cut with a sign that it was."""
    from labelkit.measures.locales import show_day

    day = show_day(booked.day, locale, form="medium")
    struck = f" (struck by {booked.struck_by})" if booked.struck_by else ""
    who = f" – {_cut(booked.who, LONGEST_NAME)}" if booked.who else ""
    head = f"{booked.seq:>{wide}}  {day}  "
    room = COLUMNS - len(head) - len(struck) - len(who)
    says = f"{booked.event.title}: {booked.event.describe(locale)}"
    return head + _cut(says, room) + struck + who


def _cut(text: str, room: int) -> str:
    """A text in so much room, with a sign where it was cut."""
    return text if len(text) <= room else text[: room - 1].rstrip() + "…"
