"""``labelkit record limits``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--unexplained", metavar="PERCENT", help="How much may be unexplained, either way, before it is said.")
@click.option("--lost", metavar="PERCENT", help="How much may be lost by name before it is said.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, unexplained: str | None, lost: str | None, once: str | None) -> Answer:
    """How much honey may be missing before a trace and "today" say so, in per cent of what came in; or show it.

    No law read sets a figure: 2 % unexplained and 5 % lost are common practice, no source. Your own runs, or a buyer,
    may ask for less. Jars are always counted to the last one.

    Example:  labelkit record limits --unexplained 1 --lost 4
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_percent
    from labelkit.record.settings import Setting
    from labelkit.trace.alarms import SETTING, limits_of

    given = {"unexplained": unexplained, "lost": lost}
    wanted = {name: read_percent(text, context.locale) for name, text in given.items() if text is not None}
    for name, percent in wanted.items():
        if not 0 <= percent <= 100:
            raise UsageUnclear(f"--{name} is a share from 0 to 100 per cent.", "labelkit record limits --help")
    if wanted:
        with context.work(once) as work:
            if not work.booked_before:
                value = {**work.settings().get(SETTING, {}), **{name: str(percent) for name, percent in wanted.items()}}
                work.add(Setting(context.day, SETTING, value))
            work.commit()
            now = limits_of(work.settings())
    else:
        with context.reading() as book:
            now = limits_of(book.settings())
    return Answer(
        {"unexplained_percent": now.unexplained, "lost_percent": now.lost, "noise_g": now.noise.g},
        f"Said from {show_number(now.unexplained, context.locale)} % unexplained and {show_number(now.lost, context.locale)} % "
        f"lost on; less than {now.noise.g} g never counts.",
    )
