"""``labelkit recall notices``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.recall import LANGUAGES


@click.command()
@click.argument("name")
@click.option("--to", "folder", metavar="FOLDER", required=True, help="A new or empty folder.")
@click.option(
    "--language", "languages", multiple=True, type=click.Choice(LANGUAGES), help="Of the notices (may be repeated)."
)
@answering
def command(context: CommandContext, name: str, folder: str, languages: tuple[str, ...]) -> Answer:
    """Write the letters, notices and the sign of a recall again, for what is still out, in one language or several.

    Example:  labelkit recall notices R2026-08-01 --language en --language fr --to notices
    """
    from labelkit.cli.recall import in_languages, recall_of, traced, write_notices
    from labelkit.trace.notices import to_be_read
    from labelkit.trace.recall import to_tell

    with context.reading() as state:
        recall = recall_of(state, name)
        trace, _ = traced(state, recall.lots)
        settings = state.settings()
    customers = to_tell(trace, recall.lots, settings)
    found = in_languages(languages, recall, trace, customers, settings, context.locale)
    files = write_notices(folder, found, customers)
    written = [each for _, some in found for each in some]
    missing, to_read = sorted({word for each in written for word in each.missing}), to_be_read(written)
    document = {
        "recall": recall.name,
        "files": files,
        "languages": [lang for lang, _ in found],
        "missing": missing,
        "to_be_read": to_read or None,
    }
    lines = [
        f"Written: {', '.join(files)}",
        *([f"Still to be written in by hand: {', '.join(missing)}."] if missing else []),
        *([to_read] if to_read else []),
    ]
    return Answer(document, "\n".join(lines))
