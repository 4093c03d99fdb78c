"""Jar sizes and their prices: what a jar declares, brings and costs, with the unit price the market asks for."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, request

from labelkit.cli._sale import markets_of, price_rows
from labelkit.errors import LabelkitError
from labelkit.page import explanations, request_context
from labelkit.page.language import say
from labelkit.page.verbs import booked, do, made, once, option, options, paper, typed
from labelkit.page.view import first, money, page

view = Blueprint("jars", __name__)

PAPERS = {"pdf": "price-list.pdf", "cards": "price-cards.pdf"}


@view.get("/prices")
def prices() -> str:
    """The list and the form."""
    return _prices()


@view.post("/prices")
def set_price():
    """Set what a size declares, sells for and costs."""
    return booked(
        lambda: do("price", *option("set", typed("size")), *options(("declares", "price", "cost"), typed), *once()),
        _prices,
        lambda _: "/prices",
        lambda _: say(
            "{size}: from today {price} {currency}.",
            size=typed("size"),
            price=typed("price"),
            currency=request_context.season().currency,
        ),
    )


@view.get("/prices/<which>.pdf")
def papers(which: str) -> Response:
    """The price list to hang up, or the cards to cut out."""
    from labelkit.errors.page import NoSuchPage

    kind = {"list": "pdf", "cards": "cards"}.get(which)
    if kind is None:
        raise NoSuchPage(f"/prices/{which[:60]}.pdf")
    content = made(
        kind,
        PAPERS[kind],
        "price",
        *option("product", request.args.get("product")),
        *option("language", request_context.settings().get("language")),
    )
    return paper(content, PAPERS[kind])


def _prices(refused: LabelkitError | None = None) -> str:
    from labelkit.sale.price_words import notes, priced

    context, season = request_context.context(), request_context.season()
    every: tuple[Any, ...] = ()
    faults: list[Any] = []
    if season.prices:
        every = priced(
            price_rows(season.prices.values(), context, lambda p: p.size), markets_of(season.markets, context)
        )
        faults = notes(every)
    rows = [
        {
            "row": p.row,
            "unit": p.unit_text(context.locale),
            "why": explanations.of_price(p.row.size, p.units, context.locale) if p.units else None,
            "fill": season.fill(p.row.size, context.day),
            "fill_why": explanations.of_fill(season, p.row.size, context.day, first),
            "margin_why": explanations.of_margin(p.row.size, p.row.price, p.row.cost, money),
        }
        for p in every
    ]
    fill = request.values if request.values else {}
    if not refused and (chosen := season.prices.get(request.args.get("size", ""))):
        fill = {
            "size": chosen.size,
            "declares": chosen.declares.show(context.locale),
            "price": str(chosen.price.amount),
            "cost": str(chosen.cost.amount),
        }
    return page(
        "prices.html",
        refused=refused,
        rows=rows,
        faults=faults,
        fill=fill,
        currency=season.currency,
        product=request_context.settings().get("label", {}).get("name", ""),
    )
