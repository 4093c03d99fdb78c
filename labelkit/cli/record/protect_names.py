"""``labelkit record protect-names``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@answering
def command(context: CommandContext) -> Answer:
    """Commit to names an earlier labelkit kept.

    It kept them beside the chain; afterwards “record verify” finds one that was exchanged.

    Needed once, after a record of an earlier labelkit was brought up to date; names given since are committed to as they
    are booked. Names, places and notes that a still earlier labelkit wrote into the events themselves stay there.

    Example:  labelkit --record season.labelkit record protect-names
    """
    from labelkit.season.forget import protect_names

    with context.season() as season:
        booked = protect_names(season, context.day)
    if booked is None:
        return Answer({"event": None}, "Every name is committed to already.")
    return Answer({"event": booked}, f"Every name is committed to now (event {booked}).")
