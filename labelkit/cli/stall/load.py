"""``labelkit stall load``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import committed, paid_prices, paper_options, paper_size, words_of
from labelkit.cli._season import booked_once, counts
from labelkit.cli._show import table
from labelkit.cli._stall import market_days, shelf, the_place
from labelkit.errors.sale import PlaceMissing
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.sale.stall_events import StallLoad


@click.command()
@click.option("--place", metavar="NAME", help="The market.")
@click.option(
    "--jar", "jars", metavar="SIZE=COUNT", multiple=True, help="Take so many of this size instead of what is suggested."
)
@click.option("--lot", metavar="CODE", help="Only jars of this lot; otherwise the oldest go first.")
@click.option("--crates", type=click.IntRange(1), metavar="N", help="How many crates fit.")
@click.option(
    "--crate",
    "holds",
    metavar="SIZE=COUNT",
    multiple=True,
    help="How many jars of this size a crate holds (12 unless said).",
)
@click.option("--change", metavar="AMOUNT", help="The cash float; a suggestion is shown unless given.")
@click.option("--book", is_flag=True, help="They are loaded: book it.")
@click.option("--more", is_flag=True, help="These jars go to the same market day besides those loaded before.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@click.option("--pdf", metavar="FILE.pdf", help="Print the load list.")
@paper_options
@answering
def command(
    context: CommandContext,
    place: str | None,
    jars: tuple[str, ...],
    lot: str | None,
    crates: int | None,
    holds: tuple[str, ...],
    change: str | None,
    book: bool,
    more: bool,
    once: str | None,
    pdf: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """What to take to the market: by what sold there, what is in stock, and what fits the crates.

    \b
    Example:  labelkit stall load --place "Mill square market" --crates 6 --crate "half pound=24"
              labelkit stall load --place "Mill square market" --jar "one pound=24" --change 80 --book
    """
    with context.work(once) as work:
        if before := booked_once(work, "load"):
            return _answer(before.event, {}, True, [], context.locale)
        event, because = _planned(work, context, place, jars, lot, crates, holds, change, more)
        if book:
            _may_be_booked(work, event, change, more)
            work.add(event)
        written = []
        if pdf:
            from labelkit.sale.load_list import load_list_pdf

            words, locale = words_of(context, language)
            size = paper_size(page, settings_of(work).currency)
            made = load_list_pdf(event, dict(counts(holds, "--crate")), words, locale, page=size)
            written.append(str(write_whole(pdf, made)))
        if book:
            committed(work, *written)
    return _answer(event, because, book, written, context.locale)


def _may_be_booked(work, event: StallLoad, change: str | None, more: bool) -> None:
    from labelkit.errors.sale import AlreadyLoaded, CashFloatMissing

    before = next((b for b in work.events(("load",)) if b.stands and b.event.key == event.key), None)
    if before is not None and not more:
        raise AlreadyLoaded(event.key, before.seq, sum(line.count for line in before.event.jars))
    if change is None and before is None:
        raise CashFloatMissing(str(event.change.amount))


def _planned(work, context, place, jars, lot, crates, holds, change, more) -> tuple[StallLoad, dict[str, str]]:
    from labelkit.measures import Money
    from labelkit.sale.load import Wish, cash_float, into_crates, load_lines, sold_before, wishes
    from labelkit.sale.stall_events import StallLoad

    season = settings_of(work)
    days = market_days(work)
    where = place or (the_place(work, context, None) if days else None)
    if not where:
        raise PlaceMissing("none yet")
    prices = paid_prices(season, work.settings())
    here = [jar for jar in shelf(work) if jar.size in prices and (not lot or jar.lot == lot)]
    if jars:
        wanted = tuple(Wish(season.size(size).size, count, "as you said") for size, count in counts(jars, "--jar"))
    else:
        wanted = wishes(here, sold_before(days, where, context.day))
    if crates:
        wanted = into_crates(wanted, dict(counts(holds, "--crate")), crates, prices)
    _all_there(wanted, here, lot)
    lines = load_lines(here, wanted, prices)
    if change:
        float_ = Money.read(change, season.currency, context.locale)
    else:
        float_ = None if more else cash_float(line.price for line in lines)
    return StallLoad(context.day, where, lines, float_), {wish.size: wish.because for wish in wanted}


def _all_there(wanted, here, lot: str | None) -> None:
    """Jars that were asked for and are not in stock are refused, not left out."""
    from labelkit.errors.record import JarsTooFew

    for wish in wanted:
        have = sum(jar.count for jar in here if jar.size == wish.size)
        if have < wish.count:
            raise JarsTooFew(lot or "all lots", wish.size, wish.count - have, "in stock", 0)


def _answer(event: StallLoad, because: dict[str, str], booked: bool, written: list[str], locale: str) -> Answer:
    rows = [
        (line.size, line.lot, str(line.count), line.price.show(locale), because.get(line.size, ""))
        for line in event.jars
    ]
    worth = [line.count * line.price for line in event.jars]
    together = worth[0]
    for amount in worth[1:]:
        together = together + amount
    text = [
        f"{event.place}, {event.day}",
        "",
        table(("size", "lot", "take", "price", "because"), rows, right=[2, 3]),
        "",
        f"Worth {together.show(locale)} at these prices. Cash float {event.change.show(locale) if event.change else 'none'}.",
        "Booked as loaded." if booked else "Nothing is booked yet; say --book once the jars are in the car.",
        *(f"Written: {name}" for name in written),
    ]
    document = {
        "key": event.key,
        "place": event.place,
        "day": event.day,
        "booked": booked,
        "files": written,
        "jars": [{"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount)} for x in event.jars],
        "change": str(event.change.amount) if event.change else None,
        "because": because,
    }
    return Answer(document, "\n".join(text))
