"""``labelkit sell``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import AMOUNT, JAR_AMOUNT, JAR_COUNT, because_option, by_size, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import phone_missing, table

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.season.sell import JarsBooked

from labelkit.sale.events import OPENED, STATES

WAYS = ("sold", "given", "returned", "discarded")


@click.command()
@click.option("--lot", metavar="CODE", default="", help="The lot code on the jars.")
@click.option("--jar", "jars", type=JAR_COUNT, multiple=True, required=True, help="How many of which size.")
@click.option("--price", "prices", type=JAR_AMOUNT, multiple=True, help="The price of one jar, if not the list price.")
@click.option("--as", "way", type=click.Choice(WAYS), default="sold", show_default=True, help="What became of them.")
@click.option("--to", default="stall", show_default=True, metavar="CHANNEL", help="stall, shop, door, gift, …")
@click.option("--customer", metavar="NAME", help="Who has them; a shop, wholesaler or restaurant is named.")
@click.option(
    "--phone", metavar="NUMBER", default="", help="The customer's phone number; a recall calls it. Remembered."
)
@click.option("--place", metavar="PLACE", help="The market or the address.")
@click.option("--reason", metavar="WORDS", help="Why they came back or were discarded.")
@click.option("--state", type=click.Choice(STATES), help="How they came back; opened jars never go out again.")
@click.option("--taken", type=AMOUNT, help="What was really in the honey box, where nobody stood beside it.")
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    lot: str,
    jars: tuple[tuple[str, int], ...],
    prices: tuple[tuple[str, Money], ...],
    way: str,
    to: str,
    customer: str | None,
    place: str | None,
    reason: str | None,
    taken: Money | None,
    phone: str,
    because: str,
    state: str | None,
    once: str | None,
) -> Answer:
    """Record jars sold, given, returned or discarded.

    \b
    Example:  labelkit sell --lot L26201AXN --jar "one pound=12" --to stall --place "Saturday market"
              labelkit sell --lot L26201AXN --jar "half pound=5" --to "honey box" --taken 30
              labelkit sell --lot L26201AXN --jar "half pound=1" --as given --to "own use"
    """
    from labelkit.season.sell import JarsGone, sell

    asked = JarsGone(
        lot,
        by_size(jars, "--jar"),
        way,
        to,
        customer,
        place,
        reason,
        by_size(prices, "--price"),
        taken,
        phone,
        because,
        state or "",
    )
    with context.work(once) as work:
        booked = sell(work, asked, context.day)
    return Answer(_document(booked), _shown(booked, context.locale))


def _document(booked: JarsBooked) -> dict[str, Any]:
    return {
        "as": booked.way,
        "day": booked.event.day,
        "lines": [
            {"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount) if x.price else None}
            for x in booked.lines
        ],
        "amount": str(booked.amount.amount) if booked.amount else None,
        "phone_missing": booked.phone_missing,
    }


def _apart(booked: JarsBooked) -> str:
    if booked.way != "returned":
        return ""
    if getattr(booked.event, "state", "") == OPENED:
        return "\n\nOpened jars never go out again. They stand apart until you discard them."
    return "\n\nThey stand apart until you release or discard them."


def _shown(booked: JarsBooked, locale: str) -> str:
    rows = [(x.lot, x.size, str(x.count), (x.price * x.count).show(locale) if x.price else "–") for x in booked.lines]
    total = f"\n\nTogether {booked.amount.show(locale)}." if booked.amount else ""
    taken = getattr(booked.event, "taken", None)
    box = f" In the box: {taken.show(locale)}." if taken is not None else ""
    apart = _apart(booked)
    missing = phone_missing(getattr(booked.event, "customer", None)) if booked.phone_missing else ""
    return table(("lot", "size", "jars", "amount"), rows, right=[2, 3]) + total + box + apart + missing
