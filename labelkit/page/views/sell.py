"""Selling: jars that went out, came back, were given away or discarded; the market day."""

from __future__ import annotations

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.language import later, say
from labelkit.page.scanned import lot_in
from labelkit.page.verbs import booked, by_size, do, line_task, once, once_key, option, options, typed
from labelkit.page.view import money, page
from labelkit.page.views.work import begun

view = Blueprint("sell", __name__)

WAYS = {"sold": "sold", "given": "given away", "returned": "came back", "discarded": "discarded"}
LONG = 20_000  # events; reckoning through more takes longer than one waits for a page
LISTED, MOST_NAMES = 60, 300
CHANNELS = ("stall", "shop", "door", "honey box", "mail", "own use")


@view.get("/sell")
def sell() -> str:
    """The shelf, lot by lot, and the form for one of them."""
    return _sell()


@view.post("/sell")
def sold():
    """Book jars of one lot."""
    words = [word for size, count in by_size("jar").items() for word in option("jar", f"{size}={count}")]
    words += [word for size, amount in by_size("price").items() for word in option("price", f"{size}={amount}")]
    return booked(
        lambda: do(
            "sell",
            *option("lot", typed("lot")),
            *(words or ("--jar=",)),
            *option("as", typed("as")),
            *options(("to", "customer", "place", "reason"), typed),
            *once(),
        ),
        _sell,
        lambda _: "/sell",
        _told,
    )


@view.get("/sell/result")
def result() -> str:
    """What the season brought, as the command reckons it: by size and by market, and what is owed.

    Every event of the season is in it; where those are very many it is begun as long work instead.
    """
    with request_context.context().reading() as state:
        events = state.head().seq
    if events > LONG:
        return page("sell_result.html", result=None, events=events)
    found = do("result").document
    return page("sell_result.html", result=found, amount=_amount, whys=explanations.of_season(found, _amount))


@view.post("/sell/result")
def result_of_a_long_season():
    """The same beside the page: as a paper for the file and a sheet for the tax adviser."""
    return begun(
        later("What the season brought"),
        line_task,
        ["result", "--pdf={folder}/result.pdf", "--csv={folder}/result.csv"],
        key=once_key(),
    )


def _amount(value) -> str:
    from labelkit.measures import Money

    return money(Money.of(str(value), request_context.season().currency))


def _told(answer) -> str:
    lines = ", ".join(f"{line['count']} × {line['size']}" for line in answer.document["lines"])
    amount = answer.document["amount"]
    worth = f", {amount} {request_context.season().currency}" if amount and answer.document["as"] == "sold" else ""
    way = say(WAYS.get(answer.document["as"], "sold"))
    return f"{way[:1].upper()}{way[1:]}: {lines}{worth}."


def _sell(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        at_hand = _by_lot(state.stock(Account.JARS, Account.STALL, Account.HELD))
        chosen, lot = _chosen(at_hand, state)
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
        customers=customers[:MOST_NAMES],
        places=places[:MOST_NAMES],
        ways=WAYS,
        channels=CHANNELS,
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
    everywhere = (Account.JARS, Account.SOLD, Account.STALL, Account.HELD)
    lot = _by_lot(state.stock(*everywhere, lots=[code])).get(code, {}) if code else {}
    return (code, lot) if lot else ("", {})
