"""``labelkit deliver``."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import committed, markets_of, paper_options, paper_size, words_of
from labelkit.cli._season import booked_once, counts, pairs
from labelkit.cli._show import table
from labelkit.cli._stall import shelf
from labelkit.errors.cli import UsageUnclear
from labelkit.season.settings import settings_of


@click.command()
@click.option("--customer", metavar="NAME", required=True, help="The business that receives the jars.")
@click.option("--jar", "jars", metavar="SIZE=COUNT", multiple=True, required=True, help="How many of which size.")
@click.option("--lot", metavar="CODE", help="The lot of the jars; the oldest in stock unless given.")
@click.option(
    "--price", "prices", metavar="SIZE=AMOUNT", multiple=True, help="What this customer pays for a jar; remembered."
)
@click.option("--address", metavar="'STREET; TOWN'", help="Where it is; remembered.")
@click.option("--carrier", metavar="NAME", default="", help="Who takes it there, if not you.")
@click.option("--to", default="shop", show_default=True, metavar="CHANNEL", help="shop, restaurant, wholesale …")
@click.option("--number", metavar="NUMBER", help="The note's number; the next of the year unless given.")
@click.option("--out", metavar="FILE.pdf", help="Where the delivery note goes; named after its number unless given.")
@click.option("--no-prices", is_flag=True, help="A note without prices.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@paper_options
@answering
def command(
    context: CommandContext,
    customer: str,
    jars: tuple[str, ...],
    lot: str | None,
    prices: tuple[str, ...],
    address: str | None,
    carrier: str,
    to: str,
    number: str | None,
    out: str | None,
    no_prices: bool,
    once: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Book a delivery to a shop and print the delivery note that carries the lots.

    \b
    Example:  labelkit deliver --customer "Corner shop" --address "1 Made-up Row; Sampleton"
                  --jar "one pound=24" --price "one pound=8.40"
    """
    from labelkit.record.settings import Setting
    from labelkit.sale.delivery import note_acts, note_fields
    from labelkit.sale.delivery_note import delivery_note_pdf

    with context.work(once) as work:
        season = settings_of(work)
        before = booked_once(work, "deliver")
        if before:
            event = before.event
        else:
            name, known = f"customer {customer}", dict(work.settings().get(f"customer {customer}", {}))
            told = _told(known, prices, address)
            event = _delivery(work, season, context, customer, jars, lot, told, carrier, to, number)
            note_fields(event, season.maker, context.locale)
            if told != known:
                work.add(Setting(context.day, name, told))
            work.add(event)
        words, locale = words_of(context, language)
        size = paper_size(page, season.currency)
        acts = note_acts(markets_of(season.markets, context), words.lang)
        made = delivery_note_pdf(event, season.maker, words, locale, page=size, prices=not no_prices, acts=acts)
        written = str(write_whole(out or f"delivery-{event.number}.pdf", made))
        # The note is written first: a delivery without a note would be repeated, and then stand twice.
        committed(work, written)
    return _answer(event, written, context.locale, _law(season, context))


def _told(known: dict[str, Any], prices: tuple[str, ...], address: str | None) -> dict[str, Any]:
    """What is known about the customer, with what was said now."""
    told = dict(known)
    if address:
        told["address"] = [part.strip() for part in address.split(";") if part.strip()]
    if prices:
        told["prices"] = {**known.get("prices", {}), **dict(pairs(prices, "--price", "one pound=8.40"))}
    return told


def _delivery(work, season, context, customer, jars, lot, told, carrier, to, number):
    from labelkit.errors.record import JarsTooFew
    from labelkit.lots.code import read_lot_code
    from labelkit.measures import Money
    from labelkit.sale.delivery import next_number
    from labelkit.sale.load import Wish, load_lines
    from labelkit.sale.stall_events import Delivery

    code = read_lot_code(lot, near=work.lot_codes_taken()).code if lot else None
    here = [jar for jar in shelf(work) if code in (None, jar.lot)]
    own = told.get("prices", {})
    wanted = [Wish(season.size(size).size, count, "") for size, count in counts(jars, "--jar")]
    missing = [w.size for w in wanted if w.size not in own]
    if missing:
        raise UsageUnclear(
            f"What does {customer} pay for {', '.join(missing)}? Give --price '{missing[0]}=8.40'; it is remembered.",
            "labelkit deliver --help",
        )
    paid = {w.size: Money.read(str(own[w.size]), season.currency, context.locale) for w in wanted}
    for wish in wanted:
        have = sum(jar.count for jar in here if jar.size == wish.size)
        if have < wish.count:
            raise JarsTooFew(code or "all lots", wish.size, wish.count - have, "in stock", 0)
    lines = load_lines(here, wanted, paid)
    made = [b.event for b in work.events(("deliver",))]
    return Delivery(
        context.day,
        number or next_number(made, context.day.year),
        customer,
        lines,
        tuple(told.get("address", ())),
        carrier,
        to=to,
    )


def _law(season, context: CommandContext) -> list[str]:
    """Where the note's fields are asked for, what the season's markets want of whoever sells to shops, and for how long."""
    from labelkit.rules.findings import CHECK_LOCAL, law_line
    from labelkit.sale.delivery import note_laws
    from labelkit.sale.selling_rules import duties, kept_for

    markets = markets_of(season.markets, context)
    said = [f"The note holds what is asked for by {law_line(law.cite, law.sure)}." for law in note_laws(markets)]
    return [*said, *duties(markets, {"sells_to": ["shop"]}, "records", asking=False), *kept_for(markets), CHECK_LOCAL]


def _answer(event, written: str, locale: str, law: list[str]) -> Answer:
    rows = [(x.size, x.lot, str(x.count), x.price.show(locale), (x.count * x.price).show(locale)) for x in event.lines]
    text = [
        f"Delivery {event.number} to {event.customer}, {event.day}",
        "",
        table(("size", "lot", "jars", "price", "amount"), rows, right=[2, 3, 4]),
        "",
        f'Owed: {event.owed.show(locale)}. When it is paid: labelkit pay --customer "{event.customer}" --amount …',
        f"Written: {written}",
        "",
        *law,
    ]
    document = {
        "number": event.number,
        "customer": event.customer,
        "day": event.day,
        "owed": str(event.owed.amount),
        "file": written,
        "lines": [{"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount)} for x in event.lines],
    }
    return Answer(document, "\n".join(text))
