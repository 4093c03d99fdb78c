"""``labelkit recall look``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("lots", nargs=-1, required=True, metavar="LOT...")
@click.option("--cause", required=True, metavar="CAUSE", help="foreign-body, ferment, allergen, wording or authority.")
@answering
def command(context: CommandContext, lots: tuple[str, ...], cause: str) -> Answer:
    """See how far a recall would reach and whom to call, without booking anything.

    Example:  labelkit recall look L26195AXR --cause ferment
    """
    from labelkit.cli._show import table
    from labelkit.cli.recall import list_to_call, people, traced
    from labelkit.errors.trace import NothingToRecall
    from labelkit.trace.recall import cause_of, scope, sold_direct, to_tell

    with context.reading() as state:
        trace, _ = traced(state, lots)
        if not trace.lots:
            raise NothingToRecall(" and ".join(lots))
        reach = scope(trace, cause_of(cause), state.events(("print",)))
        trace, _ = traced(state, reach.lots)
        settings = state.settings()
    customers, direct = to_tell(trace, reach.lots, settings), sold_direct(trace, reach.lots)
    rows = [(lot, reach.taken_in[lot], str(trace.balance(lot).jars_made)) for lot in reach.lots]
    document = {
        "cause": cause,
        "lots": [{"lot": lot, "because": reach.taken_in[lot]} for lot in reach.lots],
        "buckets": list(reach.buckets),
        "to_ask": reach.to_ask or None,
        "jars_made": sum(trace.balance(lot).jars_to_find for lot in reach.lots),
        "customers": people(customers),
        "sold_direct": [
            {"where": s.place, "day": s.day, "lot": s.lot, "size": s.size, "count": s.count} for s in direct
        ],
    }
    extra = [f"Honey of the same still in buckets: {', '.join(reach.buckets)}."] if reach.buckets else []
    extra += [reach.to_ask] if reach.to_ask else []
    text = f"Proposed for {reach.cause.title}:\n{table(('lot', 'because', 'jars made'), rows, right=(2,))}"
    text = "\n".join((text, *extra))
    return Answer(document, f"{text}\n\n{list_to_call(customers, direct, context.locale)}")
