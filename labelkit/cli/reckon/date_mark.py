"""``labelkit reckon date-mark``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@click.option("--best-before", required=True, metavar="DATE", help="2028-06-30; or 2028-06 or 2028 for a shorter date.")
@click.option(
    "--bottled",
    metavar="DATE",
    help="The day of bottling, when it is not today; decides how much of the date is enough.",
)
@answering
def command(context: CommandContext, place: str, best_before: str, bottled: str | None) -> Answer:
    """The best-before statement, and whether a lot mark is due beside it.

    Example:  labelkit reckon date-mark --market eu --best-before 2028-06-30
    """
    from labelkit.measures import read_day
    from labelkit.rules import market
    from labelkit.rules.figures import date_mark
    from labelkit.rules.findings import law_lines

    here = market(place, context.day)
    until = date_mark.BestBefore.read(best_before)
    found = date_mark.of(until, here, read_day(bottled, context.locale) if bottled else _at_latest(until, context.day))
    document = {"statement": found.statement, "lot_mark_needed": found.lot_mark_needed}
    due: dict[bool | None, str] = {
        True: "A date is due.",
        False: "No date is due here; shown all the same, it takes this form.",
    }
    lines = [
        found.statement,
        due.get(found.date_due, f"Whether a date is due depends: {date_mark.question_of_keeping()}"),
        "A lot mark is due as well." if found.lot_mark_needed else "No lot mark is due; print one all the same.",
    ]
    return Answer(document, "\n".join([*lines, "", law_lines(found.laws)]))


def _at_latest(until, today):
    """The day of bottling to reckon with when none is told: today, where part of the date is left out.

    Honey bottled earlier keeps longer, and the longer it keeps the less of the date is asked for, so today is safe.
    """
    return today if until.shows != "day" and today < until.last else None
