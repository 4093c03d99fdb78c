"""``labelkit reckon date-mark``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering


@click.command()
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@click.option("--best-before", required=True, metavar="DATE", help="2028-06-30; or 2028-06 or 2028 for a shorter date.")
@click.option("--bottled", metavar="DATE", help="The day of bottling; decides how much of the date is enough.")
@answering
def command(desk: Desk, place: str, best_before: str, bottled: str | None) -> Answer:
    """The best-before statement, and whether a lot mark is due beside it.

    Example:  labelkit reckon date-mark --market eu --best-before 2028-06-30
    """
    from labelkit.measures import read_day
    from labelkit.rules import market
    from labelkit.rules.figures import date_mark
    from labelkit.rules.findings import law_lines

    here = market(place, desk.day)
    found = date_mark.of(date_mark.BestBefore.read(best_before), here, read_day(bottled) if bottled else None)
    document = {"statement": found.statement, "lot_mark_needed": found.lot_mark_needed}
    due = {True: "A date is due.", False: "No date is due here; shown all the same, it takes this form."}
    lines = [
        found.statement,
        due.get(found.date_due, f"Whether a date is due depends: {date_mark.question_of_keeping()}"),
        "A lot mark is due as well." if found.lot_mark_needed else "No lot mark is due; print one all the same.",
    ]
    return Answer(document, "\n".join([*lines, "", law_lines(found.laws)]))
