"""``labelkit reckon cappings``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--crop", required=True, metavar="Q", help="The honey extracted so far, “100 lb” or “45 kg”.")
@answering
def command(context: CommandContext, crop: str) -> Answer:
    """How much honey and wax the cappings may hold. Practice, not a figure to book.

    Example:  labelkit reckon cappings --crop "100 lb"
    """
    from labelkit.honey.yields import cappings_share, wax_from
    from labelkit.measures import Mass, show_customary, show_metric

    extracted = Mass.read(crop, context.locale)
    honey, wax = cappings_share(extracted), wax_from(extracted)
    notes = [f"{row.source} ({row.sure})" for row in (honey, wax)]
    notes += [
        "Let them drain one to three days, warm but not hot; wax melts at 63 to 65 °C and burns like oil: a water bath, never a flame.",
        "Drained honey is wetter or drier than the rest: measure it. Book what the scale says (labelkit drain), never this.",
    ]
    document = {
        "honey_to_g": honey.high.g,
        "wax_from_g": wax.low.g,
        "wax_to_g": wax.high.g,
        "sure": honey.sure,
        "notes": notes,
    }

    def both(mass: Mass) -> str:
        return f"{show_customary(mass, context.locale)} ({show_metric(mass, context.locale)})"

    head = f"Up to {both(honey.high)} of honey or more to drain, and {both(wax.low)} to {both(wax.high)} of wax."
    return Answer(document, "\n".join([head, *(f"  {note}" for note in notes)]))
