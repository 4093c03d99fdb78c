"""Selling: jars that went out, came back, were given away or discarded; the market day."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.forms import (
    amount,
    booked,
    booking_day,
    by_size,
    jar_counts,
    step_key,
    typed,
)
from labelkit.page.language import later, say
from labelkit.page.scanned import lot_in
from labelkit.page.view import money, page
from labelkit.page.views.work import begun
from labelkit.page.worker import Outcome
from labelkit.sale.events import OPENED
from labelkit.sale.year_report import document
from labelkit.season import SeasonContext
from labelkit.season.papers import paper_size, paper_words
from labelkit.season.result import result
from labelkit.season.sell import JarsBooked, JarsGone, sell
from labelkit.season.settings import settings_of
from labelkit.season.unmet import against_jars

view = Blueprint("sell", __name__)

WAYS = {"sold": "sold", "given": "given away", "returned": "came back", "discarded": "discarded"}
HOW = {"whole": later("whole"), OPENED: later("opened"), "recall": later("recall")}
LONG = 20_000  # events; reckoning through more takes longer than one waits for a page
LISTED, MOST_NAMES = 60, 300
CHANNELS = ("stall", "shop", "wholesale", "restaurant", "door", "honey box", "mail", "gift", "own use")


@view.get("/sell")
def form() -> str:
    """The shelf, lot by lot, and the form for one of them."""
    return _sell()


@view.post("/sell")
def sold():
    """Book jars of one lot."""
    return booked(_booked, _sell, lambda _: "/sell", _told)


def _booked() -> JarsBooked:
    context = request_context.context()
    asked = JarsGone(
        typed("lot"),
        jar_counts(),
        typed("as") if typed("as") in WAYS else "sold",
        typed("to") or "stall",
        typed("customer") or None,
        typed("place") or None,
        typed("reason") or None,
        by_size("price", amount),
        phone=typed("phone"),
        because=typed("because"),
        state=typed("state") if typed("state") in HOW else "",
    )
    with context.work(step_key()) as work:
        return sell(work, asked, booking_day())


@view.get("/sell/result")
def season_result() -> str:
    """What the season brought: by size and by market, and what is owed.

    Every event of the season is in it; where those are very many it is begun as a job instead.
    """
    context = request_context.context()
    with context.reading() as state:
        events = state.head().seq
        found = None if events > LONG else document(result(state, context.day))
    if found is None:
        return page("sell_result.html", result=None, events=events)
    return page("sell_result.html", result=found, amount=_amount, whys=explanations.of_season(found, _amount))


@view.post("/sell/result")
def result_of_a_long_season():
    """The same beside the page: as a paper for the file and a sheet for the tax adviser."""
    return begun(later("What the season brought"), write_result, key=step_key() or "")


def write_result(context: SeasonContext, folder: Path, _: None) -> Outcome:
    """The job: the season's result as a paper and as a sheet in the folder."""
    from labelkit.sale.tax_sheet import tax_sheet
    from labelkit.sale.year_paper import year_pdf

    with context.reading() as state:
        season, found, language = settings_of(state), result(state, context.day), state.settings().get("language")
    words, locale = paper_words(language, context.locale)
    made = year_pdf(found, words, locale, page=paper_size(season), maker=season.maker)
    (folder / "result.pdf").write_bytes(made)
    (folder / "result.csv").write_text(tax_sheet(found), encoding="utf-8")
    return Outcome(f"{found.money_in.show(context.locale)} came in, {found.left.show(context.locale)} is left.")


def _amount(value) -> str:
    from labelkit.measures import Money

    return money(Money.of(str(value), request_context.season().currency))


def _told(done: JarsBooked) -> str:
    lines = ", ".join(f"{line.count} × {line.size}" for line in done.lines)
    worth = f", {money(done.amount)}" if done.amount and done.way == "sold" else ""
    way = say(WAYS[done.way])
    who = getattr(done.event, "customer", None)
    missing = say("No phone number of {customer} is known; a recall calls it.", customer=who)
    return f"{way[:1].upper()}{way[1:]}: {lines}{worth}." + (f" {missing}" if done.phone_missing else "")


def _sell(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        at_hand = _by_lot(state.stock(Account.JARS, Account.STALL, Account.HELD))
        chosen, lot = _chosen(at_hand, state)
        # What stands against jars that are set apart is told before they are typed, too.
        here = {(chosen, size): places.get("jars", 0) for size, places in lot.items() if {"jars", "held"} & set(places)}
        unmet = against_jars(state, here, context.day) if here else ()
        held = state.holds()
        customers, places = sorted(state.names("customer")), sorted(state.names("place"))
        undo = recent_events.undoable(state, context.locale)
        sold = [
            step
            for step in recent_events.steps(state, context.locale, 40)
            if step.how in ("sold", "given", "came back", "discarded")
        ]
        any_jars = bool(at_hand) or bool(state.counted("run"))
    shown = dict(list(at_hand.items())[:LISTED])
    return page(
        "sell.html",
        refused=refused,
        any_jars=any_jars,
        lots=shown,
        more=len(at_hand) - len(shown),
        chosen=chosen,
        lot=lot,
        held=held,
        unmet=unmet,
        customers=customers[:MOST_NAMES],
        places=places[:MOST_NAMES],
        ways=WAYS,
        channels=CHANNELS,
        states=HOW,
        prices=request_context.season().prices,
        undo=undo,
        sales=sold[:12],
    )


def _by_lot(stock) -> dict[str, dict[str, dict[str, int]]]:
    """Counts by lot, size and place."""
    lots: dict[str, dict[str, dict[str, int]]] = {}
    for s in stock:
        if s.count:
            lots.setdefault(s.lot, {}).setdefault(s.size, {})[str(s.account)] = s.count
    return lots


def _chosen(at_hand: dict, state) -> tuple[str, dict[str, dict[str, int]]]:
    """The lot that was clicked, typed or scanned, sold out ones too; the only one in stock where there is only one."""
    from labelkit.errors.lots import LotCodeWrong
    from labelkit.lots.code import read_lot_code
    from labelkit.lots.movement import Account

    asked = lot_in(request.values.get("lot", "").strip())
    try:
        code = read_lot_code(asked).code if asked else ""
    except LotCodeWrong:
        code = asked
    in_stock = [lot for lot, sizes in at_hand.items() if any("jars" in places for places in sizes.values())]
    if not asked and len(in_stock) == 1:
        code = in_stock[0]
    everywhere = (Account.JARS, Account.SOLD, Account.GIVEN, Account.STALL, Account.HELD)
    lot = _by_lot(state.stock(*everywhere, lots=[code])).get(code, {}) if code else {}
    return (code, lot) if lot else ("", {})
