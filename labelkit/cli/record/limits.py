"""``labelkit record limits``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._options import PERCENT, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.option("--unexplained", type=PERCENT, help="How much may be unexplained, either way, before it is said.")
@click.option("--lost", type=PERCENT, help="How much may be lost by name before it is said.")
@once_option
@late_option
@answering
def command(context: CommandContext, unexplained: Decimal | None, lost: Decimal | None, once: str | None) -> Answer:
    """Show or set loss warning limits.

    How much honey may be missing before a trace and “today” say so, in per cent of what came in.

    No law read sets a figure: 2 % unexplained and 5 % lost are common practice, no source. Your own runs, or a buyer,
    may ask for less. Jars are always counted to the last one.

    Example:  labelkit record limits --unexplained 1 --lost 4
    """
    from labelkit.measures.locales import show_number
    from labelkit.season.correct import set_limits
    from labelkit.trace.alarms import limits_of

    if unexplained is None and lost is None:
        with context.reading() as state:
            now = limits_of(state.settings())
    else:
        with context.work(once) as work:
            now = set_limits(work, context.day, unexplained=unexplained, lost=lost)
    return Answer(
        {"unexplained_percent": now.unexplained, "lost_percent": now.lost, "noise_g": now.noise.g},
        f"Said from {show_number(now.unexplained, context.locale)} % unexplained and {show_number(now.lost, context.locale)} % "
        f"lost on; less than {now.noise.g} g never counts.",
    )
