"""``labelkit reckon tare``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.measures import Declared


@click.command()
@click.option(
    "--empty",
    "empties",
    multiple=True,
    required=True,
    metavar="Q",
    help="A new empty jar with lid, label and seal; as often as you weighed one.",
)
@click.option("--declare", "declares", metavar="Q", help="Say what a full jar must read for this declared weight.")
@click.option("--market", "place", default="us", show_default=True, metavar="M", help="Whose declared weight.")
@click.option("--division", default="0.1 g", show_default=True, metavar="Q", help="The step the scale counts in.")
@answering
def command(
    context: CommandContext, empties: tuple[str, ...], declares: str | None, place: str, division: str
) -> Answer:
    """The tare of new jars, whether enough of them were weighed, and what a full jar must read.

    Example:  labelkit reckon tare --empty "212.4 g" --empty "212.4 g" --declare "1 lb"
    """
    from labelkit.measures import Mass, show_metric
    from labelkit.reading.weights import read_tare
    from labelkit.run.check_weighing.gross import nominal_gross, unit_of_measure, unused_tare

    label = _label(declares, place, context) if declares else None
    # Without a label nothing is known to hold a tare against.
    found = unused_tare(
        [read_tare(text, label, context.locale) if label else _empty(text, context) for text in empties]
    )
    document: dict[str, Any] = {
        "tare_g": found.mass.g,
        "weighed": found.weighed,
        "weigh_more": found.more,
        "reads_at_least_g": None,
    }
    mean = f"the mean of {found.weighed} jars" if found.weighed > 1 else "of one jar"
    lines = [f"Tare {show_metric(found.mass, context.locale)}, {mean}."]
    if found.more:
        why = "They differ" if found.weighed > 1 else "One jar alone says nothing of the others"
        lines.append(f"  {why}: weigh {found.more} more and take the mean of all.")
    if label:
        unit = unit_of_measure(Mass.read(division, context.locale).g)
        document["reads_at_least_g"] = nominal_gross(label.g, found.mass.g, unit)
        reads = show_metric(Mass.of_grams(document["reads_at_least_g"]), context.locale)
        lines.append(f"  A full jar of {declares} must read {reads}, jar and honey together.")
    document["source"] = "NIST Handbook 133 (2026), 2.3.5 (unused dry tare) and 2.3.6 (nominal gross weight)"
    document["notes"] = [
        "An official opens filled jars, washes and dries them, and takes that tare: a jar heavier than yours is short by as much.",
        "Lids, labels, seals and straps are tare too. Look at every jar: no chips, no cracks.",
        "Check your local rules.",
    ]
    return Answer(
        document, "\n".join([*lines, f"  {document['source']}", *(f"  {note}" for note in document["notes"])])
    )


def _label(declares: str, place: str, context: CommandContext):
    from labelkit.rules import market
    from labelkit.run.fill_test import enforced

    return enforced(Declared.read(declares, context.locale), market(place, context.day))


def _empty(text: str, context: CommandContext):
    from labelkit.errors.filling import TareImpossible
    from labelkit.errors.measures import NotPositive
    from labelkit.measures import Mass

    try:
        return Mass.read(text, context.locale)
    except NotPositive:
        raise TareImpossible(text, "an empty jar weighs more than nothing") from None
