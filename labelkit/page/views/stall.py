"""The market day: what to take, its papers and its page for the telephone, and settling it in the evening."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, request

from labelkit.cli._stall import loads, market_days, shelf
from labelkit.errors import LabelkitError
from labelkit.errors.page import FileNotGiven, NoSuchPage
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.language import later, say, say_count
from labelkit.page.verbs import booked, by_size, do, made, once, option, options, paper, typed, with_file
from labelkit.page.view import href, money, page

view = Blueprint("stall", __name__)

WAYS = {
    "sold": later("Sold"),
    "tasted": later("Tasted"),
    "given": later("Given"),
    "broken": later("Broken"),
    "back": later("Back"),
}
AMOUNTS = ("cash", "cards", "off", "fee")
# Papers of a loaded day: the command that makes each, and the name it is kept under.
PAPERS = {"cards": ("cards", "price-cards.pdf"), "tally": ("sheet", "tally-sheet.pdf"), "sign": ("sign", "sign.pdf")}


@view.get("/stall")
def stall() -> str:
    """What is loaded, or what to take; the days before."""
    return _stall()


@view.get("/stall/look")
def look() -> str:
    """What the load comes to, and nothing booked."""
    return page("stall_load_look.html", **_proposed())


@view.post("/stall/load")
def load():
    """The jars are in the car."""
    more = ("--more",) if typed("more") else ()
    return booked(
        lambda: do("stall", "load", *_load_words(), *option("change", typed("change")), "--book", *more, *once()),
        _stall,
        lambda answer: href("/stall", day=answer.document["key"]),
        _told_load,
    )


@view.get("/stall/list.pdf")
def load_list() -> Response:
    """The load list: of the day that is loaded, else of what is proposed."""
    with request_context.context().reading() as state:
        mine = [one for one in loads(state) if one.key == typed("day")]
    if not mine:
        return paper(made("pdf", "load-list.pdf", "stall", "load", *_load_words(), *_language()), "load-list.pdf")
    from labelkit.cli._sale import paper_size, words_of
    from labelkit.sale.load_list import load_list_pdf
    from labelkit.sale.settlement import loaded
    from labelkit.sale.stall_events import StallLoad

    whole = loaded(mine, mine[0].key)
    words, locale = words_of(request_context.context(), request_context.settings().get("language"))
    one = StallLoad(whole.day, whole.place, whole.lines, whole.change)
    return paper(
        load_list_pdf(one, {}, words, locale, page=paper_size(None, request_context.season().currency)), "load-list.pdf"
    )


@view.get("/stall/<which>.pdf")
def papers(which: str) -> Response:
    """Price cards, tally sheet or sign of a loaded day."""
    if which not in PAPERS:
        raise NoSuchPage(f"/stall/{which[:60]}.pdf")
    verb, name = PAPERS[which]
    words = [*_language()]
    if which == "sign":
        return paper(made("out", name, "stall", verb, *words), name)
    if which == "cards":
        words += option("product", request_context.settings().get("label", {}).get("name", ""))
    day = _day_named()
    return paper(made("out", name, "stall", verb, f"--place={day.place}", *words, day=day.day), name)


@view.get("/stall/day.html")
def telephone() -> Response:
    """The market day as one file for the telephone."""
    from labelkit.sale.day_page import file_name

    day = _day_named()
    name = file_name(day.key).replace(".json", ".html")
    return paper(
        made("out", name, "stall", "file", f"--place={day.place}", *_language(), day=day.day), name, "text/html"
    )


@view.post("/stall/settle")
def settle():
    """Close a day by what was counted."""
    return booked(
        lambda: _settled_by_hand(),
        _stall,
        lambda answer: href("/stall/outcome", day=answer.document["key"]),
        _told_settled,
    )


@view.post("/stall/settle/file")
def settle_file():
    """Close a day by the file, or the text, its page gave back."""
    upload = request.files.get("file")
    content = (upload.read() if upload else b"") or typed("text").encode()
    return booked(
        lambda: _settled_by_file(content),
        _stall,
        lambda answer: href("/stall/outcome", day=answer.document["key"]),
        _told_settled,
    )


@view.get("/stall/outcome")
def outcome() -> str:
    """What a settled day came to: every jar, the cash, the cost, what is left."""
    from labelkit.sale.result import entries, sum_of
    from labelkit.sale.settlement import balance_of

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


def _settled_by_hand():
    day = _day_named()
    counted = [word for way in WAYS for item, count in _counts(way) for word in option(way, f"{item}={count}")]
    return do("stall", "settle", f"--place={day.place}", *counted, *options(AMOUNTS, typed), day=day.day)


def _settled_by_file(content: bytes):
    if not content.strip():
        raise FileNotGiven()
    return with_file(content, "day.json", lambda file: do("stall", "settle", file))


def _counts(way: str):
    """What was typed for each lot and size; a nought counts too, since “none came back” is a count."""
    mark = f"{way}:"
    return [
        (name[len(mark) :], value.strip())
        for name, value in request.form.items()
        if name.startswith(mark) and value.strip()
    ]


def _load_words() -> tuple[str, ...]:
    jars = [word for size, count in by_size("jar").items() for word in option("jar", f"{size}={count}")]
    return (*option("place", typed("place")), *jars, *option("lot", typed("lot")))


def _language() -> tuple[str, ...]:
    return option("language", request_context.settings().get("language"))


def _day_named():
    """The loaded day of the form or address. Raises :class:`~labelkit.errors.sale.NothingLoaded`."""
    from labelkit.errors.sale import NothingLoaded

    with request_context.context().reading() as state:
        found = next((one for one in loads(state) if one.key == typed("day")), None)
    if found is None:
        raise NothingLoaded(typed("day")[:80])
    return found


def _told_load(answer) -> str:
    jars = sum(line["count"] for line in answer.document["jars"])
    return say_count(
        "{n} jar is loaded for {place}.", "{n} jars are loaded for {place}.", jars, place=answer.document["place"]
    )


def _told_settled(answer) -> str:
    if answer.document["settled_before"]:
        return say("This day was settled before; nothing was changed.")
    return say("{day} is settled.", day=answer.document["key"])


def _proposed() -> dict[str, Any]:
    """What the command would load; the refusal where it cannot."""
    from labelkit.measures import Money

    nothing = {"proposal": None, "unable": None, "change": "–"}
    if not typed("place"):
        return nothing
    try:
        found = do("stall", "load", *_load_words(), *option("change", typed("change"))).document
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    change = money(Money.of(found["change"], request_context.season().currency)) if found["change"] else "–"
    return {"proposal": found, "unable": None, "change": change}


def _rows(day) -> list[dict]:
    """A settled day by lot and size: how many went which way."""
    ends = {
        "sold": day.lines,
        "tasted": day.tasted,
        "given": day.given,
        "broken": day.broken,
        "back": day.back,
        "missing": day.missing,
    }
    items = dict.fromkeys((line.size, line.lot) for lines in ends.values() for line in lines)
    return [
        {
            "size": size,
            "lot": lot,
            **{way: sum(x.count for x in lines if (x.size, x.lot) == (size, lot)) for way, lines in ends.items()},
        }
        for size, lot in items
    ]


def _stall(refused: LabelkitError | None = None) -> str:
    from labelkit.cli._stall import loaded_day
    from labelkit.sale.settlement import balance_of

    context = request_context.context()
    with context.reading() as state:
        settled, loaded = market_days(state), loads(state)
        done = {one.key for one in settled}
        waiting = list(dict.fromkeys(one.key for one in sorted(loaded, key=lambda x: x.day) if one.key not in done))
        jars = shelf(state)
        places = sorted({one.place for one in loaded} | set(state.names("place")))
        chosen = typed("day") if typed("day") in waiting else waiting[0] if waiting and not typed("new") else ""
        load_ = loaded_day(state, context, key=chosen) if chosen else None
        undo = recent_events.undoable(state, context.locale)
    stock: dict[str, int] = {}
    for jar in jars:
        stock[jar.size] = stock.get(jar.size, 0) + jar.count
    proposed = _proposed() if not load_ else {"proposal": None, "unable": None, "change": "–"}
    taken = {} if not proposed["proposal"] else _by_size(proposed["proposal"]["jars"])
    return page(
        "stall.html",
        refused=refused,
        load=load_,
        key=chosen,
        waiting=waiting,
        stock=stock,
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


def _by_size(jars: list[dict]) -> dict[str, int]:
    taken: dict[str, int] = {}
    for jar in jars:
        taken[jar["size"]] = taken.get(jar["size"], 0) + jar["count"]
    return taken
