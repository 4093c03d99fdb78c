"""Selling: jars that went out, came back, were given away or discarded; the market day."""

from __future__ import annotations

from flask import Blueprint, request

from labelkit.cli._season import season_book
from labelkit.errors import LabelkitError
from labelkit.page import here, last, why
from labelkit.page.scanned import lot_in
from labelkit.page.verbs import booked, by_size, do, once, option, options, typed
from labelkit.page.view import money, page

room = Blueprint("sell", __name__)

WAYS = {"sold": "sold", "given": "given away", "returned": "came back", "discarded": "discarded"}
CHANNELS = ("stall", "shop", "door", "honey box", "mail", "own use")


@room.get("/sell")
def sell() -> str:
    """The shelf, lot by lot, and the form for one of them."""
    return _sell()


@room.post("/sell")
def sold():
    """Book jars of one lot."""
    words = [word for size, count in by_size("jar").items() for word in option("jar", f"{size}={count}")]
    words += [word for size, amount in by_size("price").items() for word in option("price", f"{size}={amount}")]
    return booked(
        lambda: do("sell", *option("lot", typed("lot")), *(words or ("--jar=",)), *option("as", typed("as")),
                   *options(("to", "customer", "place", "reason"), typed), *once()),
        _sell, lambda _: "/sell", _told,
    )  # fmt: skip


@room.get("/sell/result")
def result() -> str:
    """What the season brought, as the command reckons it: by size and by market, and what is owed."""
    found = do("result").document
    return page("sell_result.html", result=found, amount=_amount, whys=why.of_season(found, _amount))


def _amount(value) -> str:
    from labelkit.measures import Money

    return money(Money.of(str(value), here.season().currency))


def _told(answer) -> str:
    lines = ", ".join(f"{line['count']} × {line['size']}" for line in answer.document["lines"])
    amount = answer.document["amount"]
    worth = f", {amount} {here.season().currency}" if amount and answer.document["as"] == "sold" else ""
    way = WAYS.get(answer.document["as"], "booked")
    return f"{way[:1].upper()}{way[1:]}: {lines}{worth}."


def _sell(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account

    desk = here.desk()
    with season_book(desk, to_read=True) as book, book.reading() as state:
        lots: dict[str, dict] = {}
        for s in state.stock(Account.JARS, Account.SOLD, Account.STALL, Account.HELD):
            if s.count:
                lots.setdefault(s.lot, {"sizes": {}, "held": False})["sizes"].setdefault(s.size, {})[str(s.account)] = (
                    s.count
                )
        for lot in state.holds():
            if lot in lots:
                lots[lot]["held"] = True
        days = {each.event.lot: each.day for each in state.events(("run",)) if each.stands}
        customers, places = sorted(state.names("customer")), sorted(state.names("place"))
        undo = last.undoable(state, desk.locale)
        sold = [
            step
            for step in last.steps(state, desk.locale, 40)
            if step.how in ("sold", "given", "came back", "discarded")
        ]
    return page(
        "sell.html", refused=refused, lots=lots, chosen=_chosen(lots), days=days, customers=customers, places=places,
        ways=WAYS, channels=CHANNELS, prices=here.season().prices, undo=undo, sales=sold[:12],
    )  # fmt: skip


def _chosen(lots: dict) -> str:
    """The lot that was clicked, typed or scanned; the only one where there is only one."""
    from labelkit.errors.lots import LotCodeWrong
    from labelkit.lots.code import read_lot_code

    asked = lot_in(request.values.get("lot", "").strip())
    try:
        code = read_lot_code(asked).code if asked else ""
    except LotCodeWrong:
        code = asked
    at_hand = [lot for lot, held in lots.items() if any("jars" in places for places in held["sizes"].values())]
    return code if code in lots else at_hand[0] if len(at_hand) == 1 and not asked else ""
