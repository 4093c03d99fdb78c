"""``labelkit recall status``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name")
@answering
def command(context: CommandContext, name: str) -> Answer:
    """Where a recall stands: every jar by what became of it, every customer by how far they are.

    Example:  labelkit recall status R2026-08-01
    """
    from labelkit.cli._show import table
    from labelkit.cli.recall import recall_of, tell_story, traced
    from labelkit.trace.document import percent, share
    from labelkit.trace.recall import closing

    with context.reading() as state:
        recall = recall_of(state, name)
        trace, _ = traced(state, recall.lots)
        now = closing(trace, recall, tell_story(state))
    found = percent(share(now.accounted, now.jars_made))
    rows = [
        (word, str(count))
        for word, count in (
            ("on hold", now.on_hold),
            ("in stock or at the stall", now.in_stock),
            ("destroyed", now.destroyed),
            ("broken or sampled", now.broken_or_sampled),
            ("with customers", now.with_customers),
            ("sold without a name", now.sold_direct),
            ("given without a name", now.given),
            ("missing", now.missing),
        )
        if count
    ]
    lines = [
        f"Recall {recall.name} of {', '.join(recall.lots)}: {recall.why}",
        f"{now.jars_made} jars made, {now.accounted} accounted for ({found} %).",
        table(("where", "jars"), rows, right=(1,)),
        f"Told: {', '.join(now.told) or 'nobody yet'}.  Answered: {', '.join(now.answered) or 'nobody yet'}.",
        *([f"Not told yet: {', '.join(now.not_told)}."] if now.not_told else []),
        *([f"Customers say they still hold {now.still_hold} jars."] if now.answered else []),
    ]
    fields = {f: getattr(now, f) for f in now.__dataclass_fields__}
    document = {
        "recall": recall.name,
        "lots": list(recall.lots),
        **fields,
        "accounted": now.accounted,
        "accounted_percent": found,
    }
    return Answer(document, "\n".join(lines))
