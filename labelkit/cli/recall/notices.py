"""``labelkit recall notices``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.recall import LANGUAGES, written_notices


@click.command()
@click.argument("name", required=False, default="")
@click.option("--to", "folder", metavar="FOLDER", required=True, help="A new or empty folder.")
@click.option(
    "--language", "languages", multiple=True, type=click.Choice(LANGUAGES), help="Of the notices (may be repeated)."
)
@answering
def command(context: CommandContext, name: str, folder: str, languages: tuple[str, ...]) -> Answer:
    """Write recall letters, notice and sign.

    For what is still out, in one language or several.

    Example:  labelkit recall notices R2026-08-01 --language en --language fr --to notices
    """
    from labelkit.season.recall import running

    with context.reading() as state:
        one = running(state, name)
    notices = written_notices(one, languages, context, folder)
    document = {
        "recall": one.recall.name,
        "files": notices.files,
        "languages": notices.languages,
        "missing": notices.missing,
        "to_be_read": notices.to_read or None,
    }
    lines = [
        f"Written: {', '.join(notices.files)}",
        *notices.words,
    ]
    return Answer(document, "\n".join(lines))
