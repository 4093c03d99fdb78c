"""The market day: what to take, its papers and its page for the telephone, and settling it in the evening."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import FileNotGiven, NoSuchPage
from labelkit.lots.movement import Account
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.forms import (
    amount,
    booked,
    booking_day,
    by_size,
    count,
    paper,
    step_key,
    text_of,
    typed,
    value,
)
from labelkit.page.language import later, say, say_count
from labelkit.page.view import href, money, page
from labelkit.reading.day_file import read_day_file
from labelkit.sale.day_page import day_page, file_name
from labelkit.sale.load_list import load_list_pdf
from labelkit.sale.price_list import maker_lines
from labelkit.sale.settlement import Loaded, Till, balance_of, loaded
from labelkit.sale.sign import sign_pdf, sign_words
from labelkit.sale.stall_events import StallLoad, day_key
from labelkit.sale.tally import tally_pdf
from labelkit.season import stall as season
from labelkit.season.known_jars import known_of
from labelkit.season.papers import paper_size, paper_words
from labelkit.season.shelf import on_shelf
from labelkit.season.unmet import held_jars

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.record.reading import Reading

view = Blueprint("stall", __name__)

WAYS = {
    "sold": later("Sold"),
    "tasted": later("Tasted"),
    "given": later("Given"),
    "broken": later("Broken"),
    "back": later("Back"),
}


@view.get("/stall")
def stall() -> str:
    """What is loaded, or what to take; the days before."""
    return _stall()


@view.get("/stall/look")
def look() -> str:
    """What the load comes to, and nothing booked."""
    return page("stall_load_look.html", **_proposed())


@view.post("/stall/load")
def load_car():
    """The jars are in the car."""
    return booked(_loaded, _stall, lambda done: href("/stall", day=done.load.key), _told_load)


def _loaded() -> season.LoadPlan:
    context = request_context.context()
    with context.work(step_key()) as work:
        return season.load(work, _loading(), booking_day())


@view.get("/stall/list.pdf")
def load_list() -> Response:
    """The load list: of the day that is loaded, else of what is proposed."""
    context = request_context.context()
    with context.reading() as state:
        mine = [one for one in season.loads(state) if one.key == typed("day")]
        if mine:
            whole = loaded(mine, mine[0].key)
            one = StallLoad(whole.day, whole.place, whole.lines, whole.change)
        else:
            one = season.plan_load(state, _loading(), context.day).load
    words, locale = _words()
    return paper(load_list_pdf(one, {}, words, locale, page=_page_size()), "load-list.pdf")


@view.get("/stall/<which>.pdf")
def papers(which: str) -> Response:
    """Price cards, tally sheet or sign of a loaded day."""
    if which not in PAPERS:
        raise NoSuchPage(f"/stall/{which[:60]}.pdf")
    return paper(PAPERS[which](), f"{which}.pdf")


def _cards() -> bytes:
    words, locale = _words()
    product = request_context.settings().get("label", {}).get("name", "")
    with request_context.context().reading() as state:
        return season.paper_cards(state, _day_named(state), words, locale, product=product)[0]


def _tally() -> bytes:
    words, locale = _words()
    with request_context.context().reading() as state:
        load = _day_named(state)
    author = request_context.season().maker.get("name", "")
    return tally_pdf(load, words, locale, page=_page_size(), author=author)


def _sign() -> bytes:
    words, _ = _words()
    context, mine = request_context.context(), request_context.season()
    situation = request_context.settings().get("situation", {})
    told = sign_words(mine.places(context.day), lambda market: dict(situation))
    return sign_pdf(told, words, page=_page_size(), maker=maker_lines(mine.maker, mine.first_market))


# Papers of a loaded day, by the name each is kept under.
PAPERS = {"cards": _cards, "tally": _tally, "sign": _sign}


@view.get("/stall/day.html")
def telephone() -> Response:
    """The stall day as one file for the telephone."""
    words, locale = _words()
    with request_context.context().reading() as state:
        load = _day_named(state)
    name = file_name(day_key(load.day, load.place)).replace(".json", ".html")
    return paper(day_page(load, words, locale, request_context.season().currency).encode(), name, "text/html")


@view.post("/stall/settle")
def settle():
    """Close a day by what was counted."""
    return booked(_settled_by_hand, _stall, _to_outcome, _told_settled)


@view.post("/stall/settle/file")
def settle_by_file():
    """Close a day by the file, or the text, its page gave back."""
    return booked(_settled_by_file, _stall, _to_outcome, _told_settled)


def _to_outcome(done: season.DaySettled) -> str:
    return href("/stall/outcome", day=done.day.key)


@view.get("/stall/outcome")
def outcome() -> str:
    """What a settled day came to: every jar, the cash, the cost, what is left."""
    from labelkit.sale.result import entries, sum_of

    with request_context.context().reading() as state:
        found = next(
            (each for each in state.events(("unload",)) if each.stands and each.event.key == typed("day")), None
        )
        prices = [each.event for each in state.events(("price",)) if each.stands]
        undo = recent_events.undoable(state, request_context.context().locale)
    if found is None:
        raise NoSuchPage(f"/stall/outcome?day={typed('day')[:60]}")
    day = found.event
    made_of = entries([*prices, day], request_context.season().currency)
    whole = sum_of(day.key, made_of, request_context.season().currency)
    balance = balance_of(day)
    return page(
        "stall_outcome.html",
        settled=day,
        balance=balance,
        whole=whole,
        rows=_rows(day),
        ways=WAYS,
        undo=undo if undo and undo.seq == found.seq else None,
        why_cash=explanations.of_cash(day, balance, money),
        why_left=explanations.of_market_day(made_of, whole, money),
    )


def _settled_by_hand() -> season.DaySettled:
    till = Till(value("cash", amount), value("cards", amount), value("off", amount), None, value("fee", amount))
    # A nought counts too, since “none came back” is a count.
    counts = {way: by_size(way, count) for way in WAYS}
    with request_context.context().work() as work:
        return season.settle_counted(work, _day_named(work), counts, till)


def _settled_by_file() -> season.DaySettled:
    upload = request.files.get("file")
    content = (upload.read() if upload else b"") or typed("text").encode()
    if not content.strip():
        raise FileNotGiven()
    context = request_context.context()
    file = read_day_file(text_of(content), "Your file")
    with context.work() as work:
        return season.settle_file(work, file, context.day)


def _loading() -> season.Loading:
    jars = {size: jars for size, jars in by_size("jar", count).items() if jars}
    return season.Loading(
        typed("place"),
        jars,
        typed("lot") or None,
        change=value("change", amount),
        more=bool(typed("more")),
        because=typed("because"),
    )


def _words() -> tuple[Wording, str]:
    return paper_words(request_context.settings().get("language"), request_context.context().locale)


def _page_size() -> str:
    return paper_size(request_context.season())


def _day_named(state: Reading) -> Loaded:
    """The loaded day of the form or address. Raises :class:`~labelkit.errors.sale.NothingLoaded`."""
    return season.loaded_day(state, request_context.context().day, key=typed("day")[:80] or "–")


def _told_load(done: season.LoadPlan) -> str:
    jars = sum(line.count for line in done.load.jars)
    return say_count("{n} jar is loaded for {place}.", "{n} jars are loaded for {place}.", jars, place=done.load.place)


def _told_settled(done: season.DaySettled) -> str:
    if done.before:
        return say("This day was settled before; nothing was changed.")
    return say("{day} is settled.", day=done.day.key)


def _proposed() -> dict[str, Any]:
    """What would be loaded; the refusal where it cannot be."""
    nothing = {"proposal": None, "unable": None, "change": "–"}
    if not typed("place"):
        return nothing
    context = request_context.context()
    try:
        with context.reading() as state:
            plan = season.plan_load(state, _loading(), context.day)
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    change = money(plan.load.change) if plan.load.change else "–"
    return {"proposal": plan, "unable": None, "change": change}


def _rows(day) -> list[dict]:
    """A settled day by lot and size: how many went which way."""
    return [{"size": size, "lot": lot, **ways} for (lot, size), ways in day.counted().items()]


def _stall(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        settled, every = season.stall_days(state), season.loads(state)
        done = {one.key for one in settled}
        waiting = list(dict.fromkeys(one.key for one in sorted(every, key=lambda x: x.day) if one.key not in done))
        jars = on_shelf(state)
        held = held_jars(known_of(state, {each.lot for each in state.stock(Account.JARS)}))
        places = sorted({one.place for one in every} | set(state.names("place")))
        chosen = typed("day") if typed("day") in waiting else waiting[0] if waiting and not typed("new") else ""
        load_ = season.loaded_day(state, context.day, key=chosen) if chosen else None
        undo = recent_events.undoable(state, context.locale)
    stock: dict[str, int] = {}
    for jar in jars:
        stock[jar.size] = stock.get(jar.size, 0) + jar.count
    proposed: dict[str, Any] = _proposed() if not load_ else {"proposal": None, "unable": None, "change": "–"}
    taken: Counter[str] = Counter()
    for line in proposed["proposal"].load.jars if proposed["proposal"] else ():
        taken[line.size] += line.count
    return page(
        "stall.html",
        refused=refused,
        load=load_,
        key=chosen,
        waiting=waiting,
        stock=stock,
        held=held,
        taken=taken,
        places=places,
        ways=WAYS,
        days=[(one, balance_of(one)) for one in sorted(settled, key=lambda x: x.day, reverse=True)[:24]],
        **proposed,
        prices=request_context.season().prices,
        undo=undo,
        price_of=_price,
    )


def _price(line) -> str:
    return money(line.price) if line.price else "–"
