"""``labelkit stock``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import JAR_LIMIT, by_size, once_option, year_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.season.stock import Counted, Stock


@click.command()
@click.option("--bought", type=JAR_LIMIT, multiple=True, help="Empty jars that came in, with their lids.")
@click.option("--lids", type=JAR_LIMIT, multiple=True, help="How many lids came with --bought jars, or were counted.")
@click.option(
    "--made", type=JAR_LIMIT, multiple=True, help="Goods that are not honey, made or bought: pieces of a size."
)
@click.option(
    "--count",
    "counts",
    type=JAR_LIMIT,
    multiple=True,
    help="What you counted: with --lot filled jars, else the empty ones where they are kept.",
)
@click.option("--lot", metavar="CODE", help="With --count: the lot of the jars.")
@click.option("--because", metavar="WORDS", default="", help="With --count: why it differs, as far as you know.")
@click.option("--book", is_flag=True, help="With --count: book the difference.")
@year_option
@once_option
@answering
def command(
    context: CommandContext,
    bought: tuple[tuple[str, int], ...],
    lids: tuple[tuple[str, int], ...],
    made: tuple[tuple[str, int], ...],
    counts: tuple[tuple[str, int], ...],
    lot: str | None,
    because: str,
    book: bool,
    period: Period | None,
    once: str | None,
) -> Answer:
    """Show honey, empty jars and filled jars, and count them.

    Also lids, places, and what to order.

    A count is shown against the record first; with --book the difference is booked. Missing jars count as not found,
    in a recall too. --year shows what there was on the last evening of a year.

    \b
    Example:  labelkit stock
              labelkit stock --bought "one pound=200"
              labelkit stock --made "taper candle=24"
              labelkit stock --count "one pound=17" --lot L26201AXN --because "one is nowhere" --book
    """
    from labelkit.season.stock import book_count, buy, count, make, stock

    if bool(bought) + bool(made) + bool(counts) + bool(period) > 1:
        raise UsageUnclear(
            "One of --bought, --made, --count and --year; each is a step of its own.", "labelkit stock --help"
        )
    lots: dict[str, str] = {}
    if made:
        with context.work(once) as work:
            lots = {size: make(work, size, pieces, context.day) for size, pieces in by_size(made, "--made").items()}
    given = by_size(lids, "--lids")
    if bought:
        with context.work(once) as work:
            for size, jars in by_size(bought, "--bought").items():
                buy(work, size, jars, given.get(size, jars), context.day)
    counted: list[Counted] = []
    if counts and book:
        with context.work(once) as work:
            for size, found in by_size(counts, "--count").items():
                counted.append(book_count(work, size, found, because, context.day, lot, given.get(size)))
    elif counts:
        with context.reading() as state:
            counted = [count(state, size, found, lot) for size, found in by_size(counts, "--count").items()]
    with context.reading() as state:
        now = stock(state, context.day, period)
    document = _document(now) | ({"counted": [_counted(each) for each in counted]} if counted else {})
    document |= {"made": [{"size": size, "lot": made_as} for size, made_as in lots.items()]} if lots else {}
    said = [*map(_said, counted), *(f"{size}: in stock as lot {made_as}." for size, made_as in lots.items())]
    return Answer(document, "\n".join([*said, *([""] if said else []), *_shown(now, context.reader, period)]))


def _counted(counted: Counted) -> dict[str, Any]:
    return {
        "size": counted.size,
        "lot": counted.lot,
        "had": counted.had,
        "found": counted.found,
        "event": counted.event,
    }


def _said(counted: Counted) -> str:
    what = f"{counted.size}, lot {counted.lot}" if counted.lot else f"{counted.size}, empty jars"
    more = counted.found - counted.had
    differs = (
        "as the record has it" if not more else f"{abs(more)} {'more' if more > 0 else 'fewer'} than the record has"
    )
    booked = f"booked as event {counted.event}" if counted.event else "nothing is booked; say --book" if more else ""
    return f"{what}: {counted.found} counted, {differs}{f'; {booked}' if booked else ''}."


def _document(now: Stock) -> dict[str, Any]:
    return {
        "day": now.day,
        "buckets": [
            {"id": b.id, "state": b.state, "holds_g": b.holds.g, "moisture_percent": b.moisture} for b in now.buckets
        ],
        "empty": [{"size": e.size, "jars": e.jars, "lids": e.lids} for e in now.empty],
        "filled": [
            {
                "lot": f.lot,
                "size": f.size,
                "in_stock": f.in_stock,
                "on_hold": f.on_hold,
                "at_stall": f.at_stall,
                "unlabelled": f.unlabelled,
            }
            for f in now.filled
        ],
        "to_order": [{"size": o.size, "jars": o.jars, "lids": o.lids} for o in now.to_order],
    }


def _shown(now: Stock, locale: str, period: Period | None) -> list[str]:
    from labelkit.measures import show_both
    from labelkit.measures.locales import show_percent

    text = [f"{period}, as of {now.day}.", ""] if period else []
    if now.buckets:
        rows = [
            (b.id, show_both(b.holds, locale), "–" if b.moisture is None else show_percent(b.moisture, locale), b.state)
            for b in now.buckets
        ]
        text += [table(("bucket", "holds", "moisture", "state"), rows, right=[1, 2]), ""]
    if now.empty:
        empty = [(e.size, str(e.jars), str(e.lids)) for e in now.empty]
        text += [table(("empty", "jars", "lids"), empty, right=[1, 2]), ""]
    if now.filled:
        heads = ("lot", "size", "in stock", "on hold", "at the stall", "no label yet")
        filled = [(f.lot, f.size, *map(str, (f.in_stock, f.on_hold, f.at_stall, f.unlabelled))) for f in now.filled]
        text += [table(heads, filled, right=[2, 3, 4, 5]), ""]
    text += [f"To order for the honey at hand: {o.jars} jars and {o.lids} lids of {o.size}." for o in now.to_order]
    empty_record = not (now.buckets or now.empty or now.filled)
    return text if not empty_record else [*text, "There is no honey and there are no jars in this record yet."]
