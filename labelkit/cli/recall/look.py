"""``labelkit recall look``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("lots", nargs=-1, required=True, metavar="LOT...")
@click.option("--cause", required=True, metavar="CAUSE", help="foreign-body, ferment, allergen, wording or authority.")
@answering
def command(context: CommandContext, lots: tuple[str, ...], cause: str) -> Answer:
    """Preview a recall.

    How far it would reach and whom to call; nothing is booked.

    Example:  labelkit recall look L26195AXR --cause ferment
    """
    from labelkit.cli._show import table
    from labelkit.cli.recall import list_to_call, people
    from labelkit.season import recall

    with context.reading() as state:
        reach = recall.look(state, lots, cause)
    found, customers, direct = reach.scope, reach.customers(), reach.direct()
    rows = [(lot, found.taken_in[lot], str(reach.trace.balance(lot).jars_made)) for lot in found.lots]
    document = {
        "cause": cause,
        "lots": [{"lot": lot, "because": found.taken_in[lot]} for lot in found.lots],
        "buckets": list(found.buckets),
        "to_ask": found.to_ask or None,
        "jars_made": reach.jars_made,
        "customers": people(customers),
        "sold_direct": [
            {"where": s.place, "day": s.day, "lot": s.lot, "size": s.size, "count": s.count} for s in direct
        ],
    }
    extra = [f"Honey of the same still in buckets: {', '.join(found.buckets)}."] if found.buckets else []
    extra += [found.to_ask] if found.to_ask else []
    text = f"Proposed for {found.cause.title}:\n{table(('lot', 'because', 'jars made'), rows, right=(2,))}"
    text = "\n".join((text, *extra))
    return Answer(document, f"{text}\n\n{list_to_call(customers, direct, context.reader)}")
