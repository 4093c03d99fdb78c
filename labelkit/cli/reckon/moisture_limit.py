"""``labelkit reckon moisture-limit``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--moisture", required=True, metavar="PERCENT", help="Moisture of the honey in per cent, for example 18.4."
)
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-fl, eu, uk, ca ...")
@click.option("--kind", default="honey", show_default=True, help="What honey: heather, baker, honeydew, native ...")
@answering
def command(context: CommandContext, moisture: str, place: str, kind: str) -> Answer:
    """Whether honey of this moisture may still be sold as honey.

    Example:  labelkit reckon moisture-limit --moisture 18.4 --market eu
    """
    from labelkit.honey.moisture import checked
    from labelkit.measures.numerals import read_percent
    from labelkit.measures.rounding import plain
    from labelkit.rules import market
    from labelkit.rules.conditions import known_word
    from labelkit.rules.figures import moisture_limit
    from labelkit.rules.findings import law_lines

    here = market(place, context.day)
    percent = read_percent(moisture, context.locale)
    found = moisture_limit.allowed(percent, here, known_word("honey", kind))
    checked(percent)  # what no honey has is asked about before anybody reads a verdict
    document = {"allowed": found.answer, "limit_percent": found.limit_percent}
    if found.limit_percent is None:
        lines = [f"Ask: no moisture limit is held for {here.name}."]
    else:
        verdict = "Allowed" if found.answer == moisture_limit.YES else "Not allowed"
        lines = [f"{verdict}: {here.name} allows up to {plain(found.limit_percent)} % ({kind})."]
    kept = moisture_limit.grades(percent, here)
    if kept:
        lines.append(f"By its moisture alone it could be {', '.join(kept)}.")
    if found.limit_percent is None:
        lines.append(f"Ask {here.head.office}.")
    return Answer(document, "\n".join([*lines, "", law_lines(found.laws)]))
