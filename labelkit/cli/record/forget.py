"""``labelkit record forget``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name")
@click.option("--because", metavar="WORDS", required=True, help="Why: asked for by letter, kept long enough …")
@once_option
@answering
def command(context: CommandContext, name: str, because: str, once: str | None) -> Answer:
    """Remove a customer's name and address.

    From the record, and from the copies and exports labelkit made.

    Events and counts stay, with a number in the name's place. NAME may also be an address alone. Businesses you supplied
    must be kept as long as your rules ask (in the US 21 CFR 1.360: two years for honey), since a recall could not reach
    them any more. Check your local rules first.

    Example:  labelkit record forget "Corner shop" --because "asked by letter of 3 March"
    """
    from labelkit.season.forget import forget

    with context.season() as season:
        done = forget(season, name, because, context.day, once)
    numbers, cleared = ", ".join(map(str, done.numbers)), done.cleared
    lines = [
        f"{name} is forgotten (event {done.event}); {'numbers' if len(done.numbers) > 1 else 'number'} {numbers} in its place."
    ]
    lines += ["", "Taken out of:", *(f"  {each}" for each in cleared.cleaned)] if cleared.cleaned else []
    lines += ["", "Still there:", *(f"  {each}" for each in cleared.remains)] if cleared.remains else []
    if cleared.events:
        said = ", ".join(map(str, cleared.events))
        lines += [
            "",
            f"Events {said} say it in words of their own or were booked by an early labelkit: these stay for good.",
        ]
    lines += ["", "Copies you moved, and papers, letters and spreadsheets made earlier, are yours to look after."]
    document = {
        "event": done.event,
        "numbers": list(done.numbers),
        "because": because,
        "cleaned": list(cleared.cleaned),
        "remains": list(cleared.remains),
        "events_that_say_it": list(cleared.events),
    }
    return Answer(document, "\n".join(lines))
