"""``labelkit recall drill``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.option("--lot", metavar="LOT", help="The lot to search for (else one at random).")
@once_option
@late_option
@answering
def command(context: CommandContext, lot: str | None, once: str | None) -> Answer:
    """Run a timed practice recall.

    Traces a lot as if it were recalled, and files the result.

    Buyers and auditors commonly ask for a drill each year; four hours is a usual limit of theirs, 24 hours is what the
    FDA gives for handing over records (21 CFR 1.361). Check your local rules.

    Example:  labelkit recall drill
    """
    from labelkit.cli.recall import could_be_fetched, list_to_call, more_than_filled, people
    from labelkit.season.recall import drill
    from labelkit.trace.document import percent

    with context.work(once) as work:
        done = drill(work, context.day, lot or "")
    kept, count = done.drill, done.count
    reachable = percent(count.reachable)
    silent = sum(each.count for each in done.customers if not each.phone)
    without = f" ({silent} of them where no phone number is known)" if silent else ""
    fetched = (
        f"{could_be_fetched(count, context.locale)}: {count.on_hold + count.in_stock} in stock, "
        f"{count.with_customers} with customers by name{without}. "
        f"Not found: {count.unnamed} went to people nobody wrote down, {count.missing} are unaccounted for."
    )
    text = (
        f"Drill on lot {kept.lot} (event {done.event}): {kept.jars_found} of {kept.jars_made} jars found "
        f"within {kept.seconds} second{'' if kept.seconds == 1 else 's'}.\n"
        f"{fetched if kept.jars_made else 'No jars were made of it.'}{more_than_filled(count)}\n\n"
        f"Would be called:\n{list_to_call(done.customers, done.direct, context.reader)}"
    )
    document = {
        "event": done.event,
        "lot": kept.lot,
        "seconds": kept.seconds,
        "jars_made": kept.jars_made,
        "jars_found": kept.jars_found,
        "in_stock": count.on_hold + count.in_stock,
        "named": count.with_customers,
        "named_without_phone": silent,
        "unnamed": count.unnamed,
        "unaccounted": count.missing,
        "surplus": count.surplus,
        "opened_as_seed": count.opened,
        "reachable_percent": reachable,
        "who": done.who,
        "customers": people(done.customers),
    }
    return Answer(document, text)
