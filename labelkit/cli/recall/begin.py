"""``labelkit recall begin``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli.recall import LANGUAGES


@click.command()
@click.argument("lots", nargs=-1, required=True, metavar="LOT...")
@click.option("--cause", required=True, metavar="CAUSE", help="foreign-body, ferment, allergen, wording or authority.")
@click.option("--why", required=True, metavar="WORDS", help="What is wrong, in words your customers understand.")
@click.option("--name", metavar="NAME", help="A name for this recall (else R and the day).")
@click.option("--only", is_flag=True, help="Only the lots named, not those the cause also reaches.")
@click.option("--ordered-by", default="", metavar="WHO", help="The authority that ordered it.")
@click.option("--to", "folder", metavar="FOLDER", help="Write the letters, notices and the sign into this folder.")
@click.option(
    "--language", "languages", multiple=True, type=click.Choice(LANGUAGES), help="Of the notices (may be repeated)."
)
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    lots: tuple[str, ...],
    cause: str,
    why: str,
    name: str | None,
    only: bool,
    ordered_by: str,
    folder: str | None,
    languages: tuple[str, ...],
    once: str | None,
) -> Answer:
    """Start a recall.

    Puts what is left on hold, lists whom to call and writes the notices.

    Call your food authority before you publish anything. The notices come in the season's language, or in those you
    name; what you typed stays as you typed it.

    Example:  labelkit recall begin L26195AXR --cause foreign-body --why "a glass splinter was found" --to recall
    """
    from labelkit.cli.recall import list_to_call, people, written_notices
    from labelkit.season.recall import CallingBack, begin
    from labelkit.trace.notices import whom_to_ask

    with context.work(once) as work:
        begun = begin(work, CallingBack(lots, cause, why, name or "", only, ordered_by), context.day)
    one, recall = begun.running, begun.running.recall
    notices = written_notices(one, languages, context, folder)
    market = one.settings.get("market", [])
    lines = [
        f"Recall {recall.name} is begun (event {begun.event}): {', '.join(recall.lots)}.",
        "What was left of them is on hold and can be neither sold nor loaded.",
        f"Buckets on hold too, since they hold the same honey: {', '.join(begun.buckets)}." if begun.buckets else None,
        begun.to_ask or None,
        whom_to_ask(market[0] if isinstance(market, list) and market else str(market or "")),
        "",
        list_to_call(one.customers, one.direct, context.reader),
        f"\nWritten: {', '.join(notices.files)}" if notices.files else None,
        *notices.words,
    ]
    document = {
        "recall": recall.name,
        "event": begun.event,
        "lots": list(recall.lots),
        "cause": recall.cause,
        "buckets_on_hold": list(begun.buckets),
        "to_ask": begun.to_ask or None,
        "customers": people(one.customers),
        "missing": notices.missing,
        "files": notices.files,
        "languages": notices.languages,
        "to_be_read": notices.to_read or None,
    }
    return Answer(document, "\n".join(line for line in lines if line is not None))
