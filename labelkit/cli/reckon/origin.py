"""``labelkit reckon origin``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@click.option("--net", metavar="WEIGHT", help="Net weight of the jar; tiny jars may use country codes.")
@click.option("--share", "shares", multiple=True, required=True, metavar="ES=60", help="A country and its per cent.")
@click.option("--day", "on", metavar="YYYY-MM-DD", help="The day of labelling, when it is not today.")
@answering
def command(context: CommandContext, place: str, net: str | None, shares: tuple[str, ...], on: str | None) -> Answer:
    """The statement of origin for honey from one or several countries.

    Example:  labelkit reckon origin --market eu --net "500 g" --share ES=60 --share AR=40
    """
    from labelkit.measures import read_day
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.reading.shares import read_share
    from labelkit.rules import market
    from labelkit.rules.figures import origin
    from labelkit.rules.findings import law_lines

    here = market(place, read_day(on, context.locale) if on else context.day)
    read = [read_share(share, context.locale) for share in shares]
    found = origin.statement(read, here, read_quantity(net, MASS, context.locale) if net else None)
    document = {"statement": found.statement, "findings": [finding.as_dict() for finding in found.findings]}
    lines = [found.statement, ""]
    for finding in found.findings:
        lines.append(f"{finding.level}: {finding.says}")
    return Answer(document, "\n".join([*lines, law_lines(found.laws)]))
