"""``labelkit reckon usable``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--received", required=True, metavar="Q", help="The honey weighed in, “60 lb” or “27.3 kg”.")
@click.option(
    "--loss", default="2", show_default=True, metavar="PERCENT", help="Lost on walls, in strainer, tap and foam."
)
@answering
def command(context: CommandContext, received: str, loss: str) -> Answer:
    """How much of a bucket really gets into jars, until you know your own loss.

    Example:  labelkit reckon usable --received "60 lb"
    """
    from labelkit.honey.yields import usable
    from labelkit.measures import Mass, show_customary, show_metric
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_percent

    percent = read_percent(loss, context.locale)
    left = usable(Mass.read(received, context.locale), percent / Decimal(100))
    notes = [
        "Common practice, no source; your own runs know better: labelkit run-result shows what was lost and unexplained.",
        "The record plans with all that was weighed in; give a plan its loss with --hang-up.",
    ]
    document = {"g": left.g, "loss_percent": percent, "sure": "practice", "notes": notes}
    head = (
        f"{show_metric(left, context.locale)} ({show_customary(left, context.locale)}) to plan with, "
        f"{show_number(percent, context.locale)} % off."
    )
    return Answer(document, "\n".join([head, *(f"  {note}" for note in notes)]))
