"""``labelkit sell``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import paid_prices
from labelkit.cli._season import booked_once, counts, pairs
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import LotNotNamed
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.sale import SaleLine

KINDS = {"sold": "sell", "given": "give", "returned": "return", "discarded": "discard"}
WAYS = tuple(KINDS)


@click.command()
@click.option("--lot", metavar="CODE", help="The lot code on the jars.")
@click.option("--jar", "jars", metavar="SIZE=COUNT", multiple=True, required=True, help="How many of which size.")
@click.option(
    "--price", "prices", metavar="SIZE=AMOUNT", multiple=True, help="The price of one jar, if not the list price."
)
@click.option("--as", "way", type=click.Choice(WAYS), default="sold", show_default=True, help="What became of them.")
@click.option("--to", default="stall", show_default=True, metavar="CHANNEL", help="stall, shop, door, gift, …")
@click.option("--customer", metavar="NAME", help="A business that sells or uses them on; a recall needs it.")
@click.option("--place", metavar="PLACE", help="The market or the address.")
@click.option("--reason", metavar="WORDS", help="Why they came back or were discarded.")
@click.option("--taken", metavar="AMOUNT", help="What was really in the honey box, where nobody stood beside it.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext,
    lot: str | None,
    jars: tuple[str, ...],
    prices: tuple[str, ...],
    way: str,
    to: str,
    customer: str | None,
    place: str | None,
    reason: str | None,
    taken: str | None,
    once: str | None,
) -> Answer:
    """Book jars that were sold, given away, brought back or discarded.

    \b
    Example:  labelkit sell --lot L26201AXN --jar "one pound=12" --to stall --place "Saturday market"
              labelkit sell --lot L26201AXN --jar "half pound=5" --to "honey box" --taken 30
              labelkit sell --lot L26201AXN --jar "half pound=1" --as given --to "own use"
    """
    from labelkit.lots.movement import Account
    from labelkit.measures import Money

    if way in ("returned", "discarded") and not reason:
        raise UsageUnclear(f"Jars that were {way} need a --reason.", "labelkit sell --help")
    with context.work(once) as work:
        typed = counts(jars, "--jar")
        before = booked_once(work, KINDS[way], lambda event: [(x.size, x.count) for x in event.lines] == typed)
        if before:
            return _report(before.event, way, context.locale)
        season = settings_of(work)
        code = _lot(lot, work, context)
        agreed = work.settings().get(f"customer {customer}", {}).get("prices", {}) if customer else {}
        said = {**agreed, **dict(pairs(prices, "--price", "one pound=11.50"))}
        own = {size: Money.read(str(text), season.currency, context.locale) for size, text in said.items()}
        held = way == "discarded" and _all_on_hold(work, code, typed)
        shelf = Account.SOLD if way == "returned" else Account.HELD if held else Account.JARS
        lines = tuple(
            _line(work, season, code, size, count, own, shelf, priced=way in ("sold", "returned"))
            for size, count in typed
        )
        found = Money.read(taken, season.currency, context.locale) if taken else None
        event = _event(way, context, lines, to, customer, place, reason, found, held)
        work.add(event)
        work.commit()
    return _report(event, way, context.locale)


def _lot(typed: str | None, work, context: CommandContext) -> str:
    from labelkit.lots.code import read_lot_code

    if not typed:
        rows = sorted({stock.lot for stock in work.stock()})
        raise LotNotNamed(", ".join(rows) or "none yet")
    return read_lot_code(typed, near=work.lot_codes_taken()).code


def _all_on_hold(work, lot: str, typed: list[tuple[str, int]]) -> bool:
    """Whether the shelf of what is on hold has all these jars; then they are destroyed from there."""
    from labelkit.lots.movement import Account

    there = {s.size: s.count for s in work.stock(Account.HELD, lots=[lot])}
    return all(there.get(size, 0) >= count for size, count in typed)


def _line(work, season, lot: str, size: str, count: int, own: dict, shelf, *, priced: bool) -> SaleLine:
    from labelkit.measures import Mass
    from labelkit.sale import SaleLine

    found = next((s for s in work.stock(shelf, lots=[lot]) if s.size == size and s.count), None)
    fill = Mass(found.mass.mg // found.count) if found else season.fill(size, work.at.date())
    price = own.get(size) or (paid_prices(season, work.settings())[season.size(size).size] if priced else None)
    return SaleLine(lot, size, count, fill, price)


def _event(way: str, context: CommandContext, lines, to: str, customer, place, reason, taken, held: bool):
    from labelkit.sale import Discard, Give, Return, Sale

    if way == "sold":
        return Sale(context.day, lines, to, customer, place, taken)
    if way == "given":
        return Give(context.day, lines, to, customer)
    if way == "returned":
        return Return(context.day, lines, reason, customer)
    return Discard(context.day, lines, reason, held)


def _report(event, way: str, locale: str) -> Answer:
    rows, whole = [], None
    for line in event.lines:
        amount = line.price * line.count if line.price else None
        whole = amount if whole is None else whole + amount if amount else whole
        rows.append((line.lot, line.size, str(line.count), amount.show(locale) if amount else "–"))
    document = {
        "as": way,
        "day": event.day,
        "lines": [
            {"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount) if x.price else None}
            for x in event.lines
        ],
        "amount": str(whole.amount) if whole else None,
    }
    total = f"\n\nTogether {whole.show(locale)}." if whole else ""
    if getattr(event, "taken", None) is not None:
        total += f" In the box: {event.taken.show(locale)}."
    return Answer(document, table(("lot", "size", "jars", "amount"), rows, right=[2, 3]) + total)
