"""``labelkit record seal``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering
from labelkit.cli._season import season_book


@click.command()
@answering
def command(desk: Desk) -> Answer:
    """Print the seal: one line that fits only this record as it stands now.

    Write it on paper, or mail it to somebody. Later, "record verify --seal" shows whether anything up to here was
    changed, cut off or written anew.

    Example:  labelkit --record season.labelkit record seal
    """
    from labelkit.record.chain import seal_of

    with season_book(desk, to_read=True) as book, book.reading() as state:
        head = state.head()
    seal = seal_of(head.seq, head.hash)
    document = {
        "record": book.where,
        "events": head.seq,
        "head": head.hash,
        "seal": str(seal),
        "booked_at": head.at and head.at.isoformat(),
    }
    when = f", the last booked {head.at:%Y-%m-%d %H:%M %Z}".rstrip() if head.at else ""
    return Answer(document, f"Seal over {head.seq} events of {book.where}{when}:\n\n  {seal}")
