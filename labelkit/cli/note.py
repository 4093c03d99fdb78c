"""``labelkit note``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.argument("names", metavar="BUCKET-OR-LOT...", nargs=-1, required=True)
@click.option("--say", "words", metavar="WORDS", required=True, help="The note.")
@click.option("--customer", metavar="NAME", help="The customer it is about, so that forgetting one reaches it.")
@once_option
@late_option
@answering
def command(
    context: CommandContext, names: tuple[str, ...], words: str, customer: str | None, once: str | None
) -> Answer:
    """Keep a note with a bucket or a lot.

    Its trace shows it.

    Example:  labelkit note B1 --say "smells of lime, keep apart"
    """
    from labelkit.season.note import note

    with context.work(once) as work:
        noted = note(work, names, words, context.day, customer)
    return Answer(
        {"event": noted.event, "lots": list(noted.note.lots), "note": noted.note.note},
        f"Noted with {', '.join(noted.note.lots)} (event {noted.event}).",
    )
