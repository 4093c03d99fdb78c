"""``labelkit warming``."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import click

from labelkit.cli._options import DAY, PERCENT
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table


@click.command()
@click.option("--fill-on", type=DAY, required=True, help="The day you want to fill.")
@click.option("--bucket", "buckets", multiple=True, metavar="ID", help="Only these buckets; repeat for each.")
@click.option(
    "--until",
    type=click.Choice(["clear", "soft"]),
    default="clear",
    show_default=True,
    help="Liquid, or soft enough to flow and still set.",
)
@click.option(
    "--hardness", type=click.Choice(["soft", "usual", "hard"]), default="usual", show_default=True, help="Of the honey."
)
@click.option("--seed", "seed_percent", type=PERCENT, help="Seed it on the filling day with so many percent; often 10.")
@click.option(
    "--seed-of",
    type=click.Choice(["liquid", "whole"]),
    default="liquid",
    show_default=True,
    help="What the percent are of: the liquid, or all of it once the seed is in.",
)
@click.option("--calendar", metavar="FILE.ics", help="Also write the days as a calendar file.")
@answering
def command(
    context: CommandContext,
    fill_on: date,
    buckets: tuple[str, ...],
    until: str,
    hardness: str,
    seed_percent: Decimal | None,
    seed_of: str,
    calendar: str | None,
) -> Answer:
    """Plan when buckets go into the warming cabinet.

    How long and how warm each wants it, and what HMF that costs. With --seed also the seed for set honey. Nothing
    is booked: book what really happened with bucket warm and bucket stir.

    \b
    Example:  labelkit warming --fill-on 2026-11-20
              labelkit warming --fill-on 2026-11-20 --until clear --seed 10 --calendar warming.ics
    """
    from labelkit.cli._files import write_whole
    from labelkit.honey.set_honey import SETS_AT_C, SETS_DAYS
    from labelkit.honey.warmth import CAUTIONS, SOURCE
    from labelkit.measures import show_both
    from labelkit.measures.locales import show_day, show_number
    from labelkit.paper.calendar import calendar_file
    from labelkit.season.warming import WarmingAsked, appointments, warming

    reader = context.reader
    with context.reading() as state:
        plan = warming(state, WarmingAsked(fill_on, buckets, until, hardness, seed_percent, seed_of))
        head, first = state.head(), state.event(1)
    tenth = Decimal("0.1")
    document = {
        "fill_on": fill_on,
        "set_on": plan.set_on,
        "buckets": [
            {
                "bucket": one.bucket,
                "goes_in": one.goes_in,
                "hours": one.warm.hours,
                "temperature_c": one.warm.temperature_c,
                "sure": one.warm.sure,
                "hmf_mg_per_kg": one.hmf.middle.quantize(tenth),
                "hmf_low": one.hmf.low.quantize(tenth),
                "hmf_high": one.hmf.high.quantize(tenth),
                "seed_g": one.seed.g if one.seed else None,
                "notes": list(one.notes),
            }
            for one in plan.buckets
        ],
        "calendar": calendar,
    }
    rows = [
        (
            one.bucket,
            show_both(one.holds, reader),
            show_day(one.goes_in, reader, form="medium"),
            f"{one.warm.hours} h at {show_number(one.warm.temperature_c, reader)} °C",
            f"{show_number(one.hmf.low.quantize(tenth), reader)} to {show_number(one.hmf.high.quantize(tenth), reader)}",
            show_both(one.seed, reader) if one.seed else "–",
        )
        for one in plan.buckets
    ]
    text = [table(("bucket", "holds", "goes in on", "warm", "HMF mg/kg", "seed"), rows, right=[1, 4, 5])]
    text += ["", *(f"{one.bucket}: {note}" for one in plan.buckets for note in one.notes)]
    if plan.set_on:
        of = "of the liquid honey" if seed_of == "liquid" else "of the whole once it is in"
        text.append(
            f"Seed: {show_number(seed_percent or 0, reader)} % {of}, fine and free of foam, stirred in below 27 °C. Keep the "
            f"jars at {SETS_AT_C} °C; set after about {SETS_DAYS} days, on {show_day(plan.set_on, reader, form='medium')}."
        )
    text += [
        "Hours differ with cabinet and honey: common practice, look before you count on them.",
        SOURCE.caution,
        *CAUTIONS,
    ]
    if calendar:
        made = calendar_file(appointments(plan), first.hash if first else "", context.now, head.seq)
        text.append(f"Written: {write_whole(calendar, made)}")
    return Answer(document, "\n".join(text))
