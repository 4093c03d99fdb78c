"""Jar sizes and their prices: what a jar declares, brings and costs, with the unit price the market asks for."""

from __future__ import annotations

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.measures.locales import currency_digits
from labelkit.page import explanations, request_context
from labelkit.page.forms import (
    about,
    amount,
    booked,
    booking_day,
    count,
    declared,
    paper,
    percent,
    small_mass,
    small_unit,
    step_key,
    typed,
    value,
    volume,
)
from labelkit.page.language import later, say
from labelkit.page.view import first, money, number, page
from labelkit.page.views.sell import CHANNELS
from labelkit.reading.tax import read_tax
from labelkit.sale import PriceSet
from labelkit.sale.price_words import notes
from labelkit.sale.tax import ADDED, EXEMPT, INCLUDED, REVERSE_CHARGE, Rate
from labelkit.season.context import SeasonContext
from labelkit.season.papers import paper_words
from labelkit.season.price import SizePrice, price_list, set_price
from labelkit.season.price_papers import price_cards, price_list_paper, priced_sizes
from labelkit.season.settings import SeasonSettings
from labelkit.season.stock import make
from labelkit.season.tax import TaxFrom, set_tax

view = Blueprint("jars", __name__)

TAXES = {
    "none": later("no tax"),
    INCLUDED: later("included in the price"),
    ADDED: later("added to the price"),
    EXEMPT: later("none: exempt small seller"),
    REVERSE_CHARGE: later("none: the buyer accounts for it"),
}

PAPERS = {"list": (price_list_paper, "price-list.pdf"), "cards": (price_cards, "price-cards.pdf")}


@view.get("/prices")
def prices() -> str:
    """The list and the form."""
    return _prices()


@view.post("/prices")
def price_set():
    """Set what a size declares, sells for and costs."""
    return booked(
        _set,
        _prices,
        lambda _: "/prices",
        lambda done: say("{size}: from today {price}.", size=done.size, price=money(done.price)),
    )


@view.post("/prices/made")
def made():
    """Book goods that were made or bought."""
    return booked(
        _made,
        _prices,
        lambda _: "/prices",
        lambda done: say("{size}: in stock as lot {lot}.", size=done[0], lot=done[1]),
    )


@view.get("/prices/<which>.pdf")
def papers(which: str) -> Response:
    """The price list to hang up, or the cards to cut out."""
    from labelkit.errors.page import NoSuchPage

    if which not in PAPERS:
        raise NoSuchPage(f"/prices/{which[:60]}.pdf")
    make, name = PAPERS[which]
    context = request_context.context()
    with context.reading() as state:
        found = price_list(state, context.day)
    words, locale = paper_words(found.settings.get("language"), context.locale)
    product = request.args.get("product", "").strip()
    return paper(make(found.every, found.season, words, locale, context.day, product=product), name)


@view.post("/prices/tax")
def taxed():
    """State the tax that is in the prices from today on."""
    return booked(_taxed, _prices, lambda _: "/prices", lambda one: say("Tax from today: {tax}.", tax=str(one.tax)))


def _taxed() -> Rate:
    context = request_context.context()
    how, rate = typed("how"), typed("rate")
    with about("rate"):
        tax = read_tax(f"{how} {rate}".strip(), context.locale)
    with context.work(step_key()) as work:
        return set_tax(work, TaxFrom(tax, typed("of"), typed("channel")), context.day)


def _made() -> tuple[str, str]:
    context, size = request_context.context(), typed("goods")
    with context.work(step_key()) as work:
        return size, make(work, size, value("pieces", count) or 0, booking_day())


def _set() -> PriceSet:
    context = request_context.context()
    asked = SizePrice(
        typed("size"),
        value("price", amount),
        value("declares", declared),
        value("cost", amount),
        product=typed("product"),
        retire=bool(typed("retire")),
        by_weight=bool(typed("by_weight")),
        **_room(),
    )
    with context.work(step_key()) as work:
        return set_price(work, asked, booking_day())


def _room() -> dict:
    """What a jar takes to its fill line: a weight, or its brimful volume and the headspace."""
    return {
        "uses": value("uses", small_mass),
        "brimful_ml": value("brimful", volume),
        "headspace": value("headspace", percent),
    }


def _prices(refused: LabelkitError | None = None) -> str:
    context, season = request_context.context(), request_context.season()
    every = priced_sizes(season, context.day)
    digits = currency_digits(season.currency)
    rows = [
        {
            "row": p.row,
            "product": season.sold_in(p.row.size).called if p.row.called != p.row.size else "",
            "unit": p.unit_text(context.locale),
            "why": explanations.of_price(p.row.size, p.units, context.locale) if p.units else None,
            "fill": season.fill(p.row.size, context.day) if p.row.declares else None,
            "fill_why": explanations.of_fill(season, p.row.size, context.day, first) if p.row.declares else None,
            "margin_why": explanations.of_margin(p.row.size, p.row.price, p.row.cost, money),
        }
        for p in every
    ]
    fill = request.values if request.values else {}
    if not refused and (chosen := season.prices.get(request.args.get("size", ""))):
        fill = {
            "size": chosen.size,
            "declares": chosen.declares.show(context.locale) if chosen.declares else "",
            "product": chosen.product,
            "by_weight": "yes" if chosen.by_weight else "",
            "price": number(chosen.price.amount, digits),
            "cost": number(chosen.cost.amount, digits),
        }
    return page(
        "prices.html",
        refused=refused,
        rows=rows,
        faults=[*notes(every), *_misfits(season, context)] if every else [],
        small=small_unit(),
        fill=fill,
        currency=season.currency,
        product=season.products[""].called,
        products=[product for product in season.products.values() if not product.is_retired(context.day)],
        taxes=TAXES,
        channels=CHANNELS,
        rates=season.taxes.rates,
        goods=[name for name in season.offered(context.day) if not season.sold_in(name).is_honey],
    )


def _misfits(season: SeasonSettings, context: SeasonContext) -> list[str]:
    rooms = (season.room(name, context.day) for name in season.jars(context.day))
    return [words for room in rooms if room and (words := room.words(context.locale))]
