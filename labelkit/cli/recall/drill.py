"""``labelkit recall drill``."""

from __future__ import annotations

import random
import time

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--lot", metavar="LOT", help="The lot to search for (else one at random).")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, lot: str | None, once: str | None) -> Answer:
    """Practise: trace a lot as if it were called back, time it, and file the result.

    Buyers and auditors commonly ask for a drill each year; four hours is a usual limit of theirs, 24 hours is what the
    FDA gives for handing over records (21 CFR 1.361). Check your local rules.

    Example:  labelkit recall drill
    """
    from labelkit.cli.recall import list_to_call, people, traced
    from labelkit.errors.trace import NothingToRecall
    from labelkit.trace.document import percent, share
    from labelkit.trace.recall import sold_direct, to_tell
    from labelkit.trace.recall_events import Drill

    begun = time.monotonic()
    with context.work(once) as work:
        made = [each.event.lot for each in work.events(("run",)) if each.stands]
        if not made:
            raise NothingToRecall("this record")
        trace, _ = traced(work, (lot or random.choice(made),))
        customers, direct = to_tell(trace, trace.lots, work.settings()), sold_direct(trace, trace.lots)
        jars = sum(trace.balance(each).jars_to_find for each in trace.lots)
        found = jars - sum(trace.balance(each).jars_unaccounted for each in trace.lots)
        seconds = int(time.monotonic() - begun) + 1
        if not work.booked_before:
            work.add(Drill(context.day, trace.start.name, seconds, jars, found))
        booked = work.commit()[0]
    drill = booked.event
    found_percent = percent(share(drill.jars_found, drill.jars_made))
    text = (
        f"Drill on lot {drill.lot} (event {booked.seq}): {drill.jars_found} of {drill.jars_made} jars found "
        f"({found_percent} %) within {drill.seconds} second{'' if drill.seconds == 1 else 's'}.\n\n"
        f"Would be called:\n{list_to_call(customers, direct, context.locale)}"
    )
    document = {
        "event": booked.seq,
        "lot": drill.lot,
        "seconds": drill.seconds,
        "jars_made": drill.jars_made,
        "jars_found": drill.jars_found,
        "found_percent": found_percent,
        "who": booked.who,
        "customers": people(customers),
    }
    return Answer(document, text)
