"""``labelkit recall status``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name", required=False, default="")
@answering
def command(context: CommandContext, name: str) -> Answer:
    """Show recall progress.

    Every jar by what became of it, every customer by how far they are.

    Without a name it is the only one that is running.

    Example:  labelkit recall status R2026-08-01
    """
    from labelkit.cli._show import table
    from labelkit.cli.recall import could_be_fetched, more_than_filled
    from labelkit.measures import show_both, total
    from labelkit.season.recall import running
    from labelkit.trace.document import percent

    with context.reading() as state:
        one = running(state, name)
    recall, now, count = one.recall, one.now, one.now.count
    reachable = percent(count.reachable)
    rows = [
        (word, str(jars))
        for word, jars in (
            ("on hold", count.on_hold),
            ("in stock or at the stall", count.in_stock),
            ("destroyed", count.destroyed),
            ("broken or sampled", count.broken_or_sampled),
            ("opened as seed", count.opened),
            ("with customers", count.with_customers),
            ("sold without a name", count.sold_direct),
            ("given without a name", count.given),
            ("missing", count.missing),
        )
        if jars
    ]
    call = one.next_to_call
    bulk = {each.customer: total(mass for _, mass in each.bulk) for each in one.customers if each.bulk}
    lines = [
        f"Recall {recall.name} of {', '.join(recall.lots)}: {recall.why}",
        f"{count.jars_made} jars made"
        + (f"; {could_be_fetched(count, context.locale)}." if count.jars_made else ".")
        + more_than_filled(count),
        *([table(("where", "jars"), rows, right=(1,))] if rows else []),
        *(f"In bulk at {who}: {show_both(mass, context.reader)}." for who, mass in bulk.items()),
        f"Told: {', '.join(now.told) or 'nobody yet'}.  Answered: {', '.join(now.answered) or 'nobody yet'}.",
        *([f"Not told yet: {', '.join(now.not_told)}."] if now.not_told else []),
        *([f"Call next: {call.customer}, {call.phone or 'no telephone number noted'}."] if call else []),
        *([f"Jars customers say they still hold: {now.still_hold}."] if now.answered else []),
    ]
    document = {
        "recall": recall.name,
        "lots": list(recall.lots),
        **{field: getattr(count, field) for field in count.__dataclass_fields__},
        "told": now.told,
        "answered": now.answered,
        "not_told": now.not_told,
        "still_hold": now.still_hold,
        "reachable_percent": reachable,
    }
    return Answer(document, "\n".join(lines))
