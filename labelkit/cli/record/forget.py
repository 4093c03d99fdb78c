"""``labelkit record forget``."""

from __future__ import annotations

import click

from labelkit.cli._options import once_option
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("customer")
@click.option("--because", metavar="WORDS", required=True, help="Why: asked for by letter, kept long enough …")
@once_option
@answering
def command(context: CommandContext, customer: str, because: str, once: str | None) -> Answer:
    """Take a customer's name and address out of the record. Events and counts stay, with a number in their place.

    Businesses you supplied must be kept as long as your rules ask (in the US 21 CFR 1.360: two years for honey), since
    a recall could not reach them any more. Check your local rules first. Copies and exports made earlier still hold
    the name.

    Example:  labelkit record forget "Corner shop" --because "asked by letter of 3 March"
    """
    with context.work(once) as work:
        if not work.booked_before:
            work.forget(customer, because, day=context.day)
        booked = work.commit()[0]
    numbers = list(booked.event.numbers)
    return Answer(
        {"event": booked.seq, "numbers": numbers, "because": because},
        f"{customer} is forgotten (event {booked.seq}); number {', '.join(map(str, numbers))} stands in its place. "
        "Copies and exports made earlier still hold the name.",
    )
