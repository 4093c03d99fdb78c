"""``labelkit recall begin``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
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
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
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
    """Call lots back: put what is left on hold, list whom to call, write the notices.

    Call your food authority before you publish anything. The notices come in the season's language, or in those you
    name; what you typed stays as you typed it.

    Example:  labelkit recall begin L26195AXR --cause foreign-body --why "a glass splinter was found" --to recall
    """
    from labelkit.cli.recall import in_languages, list_to_call, people, traced, write_notices
    from labelkit.errors.trace import NothingToRecall, RecallTwice
    from labelkit.trace.notices import to_be_read, whom_to_ask
    from labelkit.trace.recall import cause_of, hold_for, scope, sold_direct, to_tell
    from labelkit.trace.recall_events import Recall

    name = name or f"R{context.day:%Y-%m-%d}"
    with context.work(once) as work:
        trace, _ = traced(work, lots)
        if not trace.lots:
            raise NothingToRecall(" and ".join(lots))
        reach = scope(trace, cause_of(cause), work.events(("print",)))
        lots_back = trace.lots if only else reach.lots
        trace, _ = traced(work, lots_back)
        recall = Recall(context.day, name, cause_of(cause).id, why, tuple(lots_back), ordered_by)
        if not work.booked_before:
            for begun in work.events(("recall",)):
                if begun.stands and begun.event.name == name:
                    raise RecallTwice(name, begun.day.isoformat())
            work.add(recall)
            # More jars of the same honey would have to be called back too.
            work.add(hold_for(context.day, why, trace, (*lots_back, *(() if only else reach.buckets))))
        booked = work.commit()
        settings = work.settings()
    recall, buckets = booked[0].event, [lot for lot in booked[1].event.lots if lot not in booked[0].event.lots]
    customers, direct = to_tell(trace, recall.lots, settings), sold_direct(trace, recall.lots)
    market = settings.get("market", [])
    found = in_languages(languages, recall, trace, customers, settings, context.locale)
    files = write_notices(folder, found, customers) if folder else []
    written = [each for _, some in found for each in some]
    missing = sorted({word for each in written for word in each.missing})
    to_read = to_be_read(written) if files else ""
    text = "\n".join(
        [
            f"Recall {recall.name} is begun (event {booked[0].seq}): {', '.join(recall.lots)}.",
            "What was left of them is on hold and can be neither sold nor loaded.",
            *([f"Buckets on hold too, since they hold the same honey: {', '.join(buckets)}."] if buckets else []),
            *([reach.to_ask] if reach.to_ask else []),
            whom_to_ask(market[0] if isinstance(market, list) and market else str(market or "")),
            "",
            list_to_call(customers, direct, context.locale),
            *([f"\nStill to be written in by hand: {', '.join(missing)}."] if missing else []),
            *([f"\nWritten: {', '.join(files)}"] if files else []),
            *([to_read] if to_read else []),
        ]
    )
    document = {
        "recall": recall.name,
        "event": booked[0].seq,
        "lots": list(recall.lots),
        "cause": recall.cause,
        "buckets_on_hold": buckets,
        "to_ask": reach.to_ask or None,
        "customers": people(customers),
        "missing": missing,
        "files": files,
        "languages": [lang for lang, _ in found],
        "to_be_read": to_read or None,
    }
    return Answer(document, text)
