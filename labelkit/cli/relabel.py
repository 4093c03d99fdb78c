"""``labelkit relabel``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._season import counts


@click.command()
@click.option("--lot", required=True, metavar="CODE", help="The code on the jars now.")
@click.option("--jar", "jars", metavar="SIZE=COUNT", multiple=True, required=True, help="How many of which size.")
@click.option("--into", metavar="CODE", help="The code they get (else the next free one of the day).")
@click.option("--reason", required=True, metavar="WORDS", help="Why.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext, lot: str, jars: tuple[str, ...], into: str | None, reason: str, once: str | None
) -> Answer:
    """Give jars in stock another lot code; a trace of the new code still leads to the old one and its buckets.

    Example:  labelkit relabel --lot L26195AXR --jar "one pound=12" --reason "label smudged"
    """
    from labelkit.errors.record import JarsTooFew
    from labelkit.lots.code import lot_code, read_lot_code
    from labelkit.lots.movement import Account
    from labelkit.record.lookup import find_lot
    from labelkit.trace.recall import lines_of
    from labelkit.trace.relabel import Relabel

    with context.work(once) as work:
        if not work.booked_before:
            taken = work.lot_codes_taken()
            old = find_lot(work, lot).name
            new = read_lot_code(into).code if into else lot_code(context.day, old, taken).code
            here = {jar.size: jar for jar in work.stock(Account.JARS, lots=(old,))}
            lines = []
            for size, count in counts(jars, "--jar"):
                if size not in here or here[size].count < count:
                    short = count - (here[size].count if size in here else 0)
                    raise JarsTooFew(old, size, short, "in stock", 0)
                lines += lines_of(old, size, count, here[size].count, here[size].mass)
            work.add(Relabel(context.day, new, tuple(lines), reason))
        booked = work.commit()[0]
    event = booked.event
    count = sum(line.count for line in event.lines)
    return Answer(
        {"event": booked.seq, "lot": event.lines[0].lot, "into": event.into, "jars": count, "reason": reason},
        f"{count} jars of lot {event.lines[0].lot} are now lot {event.into} (event {booked.seq}). Print their labels next.",
    )
