"""``labelkit record seal``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--pdf", "pdf_file", metavar="FILE", help="Also set it on a sheet to sign and file.")
@answering
def command(context: CommandContext, pdf_file: str | None) -> Answer:
    """Print the seal of the record.

    One line that fits only this record as it is now.

    Write it on paper, or mail it to somebody. Later, "record verify --seal" shows whether anything up to here was
    changed, cut off or written anew.

    Example:  labelkit --record season.labelkit record seal
    """
    from labelkit.record.chain import seal_of

    # A seal is of the whole record, whatever day is asked for.
    with context.season(to_read=True) as season, season.reading() as state:
        head = state.head()
    seal = seal_of(head.seq, head.hash)
    document = {
        "record": state.where,
        "events": head.seq,
        "head": head.hash,
        "seal": str(seal),
        "booked_at": head.at and head.at.isoformat(),
    }
    when = f", the last booked {head.at:%Y-%m-%d %H:%M %Z}".rstrip() if head.at else ""
    written = ""
    if pdf_file:
        from labelkit.cli._files import write_whole
        from labelkit.trace.papers import seal_paper

        booked = f"{head.at:%Y-%m-%d %H:%M %z}" if head.at else ""
        write_whole(pdf_file, seal_paper(state.where, head.seq, head.hash, str(seal), booked))
        written = f"\n\nWritten: {pdf_file}"
    return Answer(document, f"Seal over {head.seq} events of {state.where}{when}:\n\n  {seal}{written}")
