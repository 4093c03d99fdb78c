"""``labelkit bottle``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._season import Season, booked_once, counts, pairs, season_of, season_step
from labelkit.cli._show import table
from labelkit.measures import show_both


@click.command()
@click.option("--bucket", metavar="ID", required=True, help="The bucket that was bottled.")
@click.option(
    "--jar", "jars", metavar="SIZE=COUNT", multiple=True, required=True, help="Jars filled; repeat for each size."
)
@click.option(
    "--fill",
    "fills",
    metavar="SIZE=WEIGHT",
    multiple=True,
    help="What a jar of this size held on average, if you weighed some.",
)
@click.option("--broken", metavar="SIZE=COUNT", multiple=True, help="Jars broken with honey in them.")
@click.option("--sample", "samples", metavar="SIZE=COUNT", multiple=True, help="Jars kept back or opened for tests.")
@click.option("--left", metavar="WEIGHT", help="Honey left in the bucket, if you weighed it afterwards.")
@click.option("--lost", metavar="WEIGHT", help="Honey lost where you can say so: strainer, tap, foam.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext,
    bucket: str,
    jars: tuple[str, ...],
    fills: tuple[str, ...],
    broken: tuple[str, ...],
    samples: tuple[str, ...],
    left: str | None,
    lost: str | None,
    once: str | None,
) -> Answer:
    """Book a bottling run: what was really filled from one bucket. Gives the jars their lot code.

    \b
    Example:  labelkit bottle --bucket B1 --jar "one pound=57" --jar "half pound=3"
                  --broken "one pound=1" --left "120 g"
    """
    with season_step(context, key=once) as work:
        typed = dict(counts(jars, "--jar"))
        before = booked_once(
            work, "run", lambda run: run.bucket == bucket and {f.size: f.count for f in run.jars} == typed
        )
        if before:
            return _report(before.event, before.seq, context.locale)
        run = run_of(work, context, bucket, jars, fills=fills, broken=broken, samples=samples, left=left, lost=lost)
        booked = work.add(run)
        work.commit()
    return _report(run, booked.seq, context.locale)


def run_of(
    book,
    context: CommandContext,
    bucket: str,
    jars: tuple[str, ...],
    *,
    fills: tuple[str, ...] = (),
    broken: tuple[str, ...] = (),
    samples: tuple[str, ...] = (),
    left: str | None = None,
    lost: str | None = None,
):
    """The run that was typed, closed against what the record says the bucket holds; nothing is booked."""
    from labelkit.lots.code import lot_code
    from labelkit.measures import NOTHING, Mass
    from labelkit.run import Filled, bottle
    from labelkit.run.check_weighing.typed import Typed
    from labelkit.run.check_weighing.weights import likely

    season = season_of(book)
    # A mean of 4.55 g for 455 would turn the whole bucket into unexplained honey.
    weighed = {
        size: likely(
            Mass.read(text, context.locale),
            season.fill(size, context.day),
            Typed(text, f"--fill {size}"),
            context.locale,
        )
        for size, text in pairs(fills, "--fill", "one pound=455 g")
    }

    def filled(texts: tuple[str, ...], option: str) -> list[Filled]:
        return [_filled(season, size, count, weighed, context, Filled) for size, count in counts(texts, option)]

    return bottle(
        book.bucket(bucket),
        lot_code(context.day, bucket, book.lot_codes_taken()).code,
        context.day,
        filled(jars, "--jar"),
        broken=filled(broken, "--broken"),
        samples=filled(samples, "--sample"),
        left=Mass.read(left, context.locale) if left else None,
        lost=Mass.read(lost, context.locale) if lost else NOTHING,
    )


def _filled(season: Season, size: str, count: int, weighed: dict, context: CommandContext, filled):
    fill = weighed.get(size) or season.fill(size, context.day)
    return filled(size, season.size(size).declares, count, fill)


def _report(run, seq: int, locale: str) -> Answer:
    from labelkit.measures.locales import show_percent

    rows = [
        (f.size, f.declares, str(f.count), show_both(f.fill, locale), word)
        for word, kinds in (("in stock", run.jars), ("broken", run.broken), ("sample", run.samples))
        for f in kinds
    ]
    weighed = "weighed" if run.left_was_weighed else "reckoned, not weighed"
    text = f"""Lot {run.lot}: bucket {run.bucket}, bottled {run.day}. Print this code on every jar of the run.

{table(("size", "declares", "jars", "each", "now"), rows, right=[2, 3])}

Taken from the bucket  {show_both(run.taken, locale)}
Left in the bucket     {show_both(run.left, locale)} ({weighed})
Lost, by name          {show_both(run.lost, locale)}
Unexplained            {show_both(run.unexplained, locale)}, {show_percent(run.unexplained_percent, locale, digits=2)} of what was taken
"""
    document = {
        "lot": run.lot,
        "event": seq,
        "bucket": run.bucket,
        "bottled": run.day,
        "jars": {f.size: f.count for f in run.jars},
        "broken": {f.size: f.count for f in run.broken},
        "samples": {f.size: f.count for f in run.samples},
        "taken_g": run.taken.g,
        "left_g": run.left.g,
        "left_was_weighed": run.left_was_weighed,
        "lost_g": run.lost.g,
        "unexplained_g": run.unexplained.g,
        "unexplained_percent": round(run.unexplained_percent, 3),
    }
    return Answer(document, text)
