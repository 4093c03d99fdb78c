"""A recall step by step: how far it reaches, the hold, whom to call, what was answered, and every jar to the last one."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from itertools import islice
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.measures.wording import language_of
from labelkit.page import request_context
from labelkit.page.forms import booked, count, jar_counts, paper, step_key, typed, value
from labelkit.page.language import later, say, say_count
from labelkit.page.view import href, page
from labelkit.season import recall as season
from labelkit.season.deliver import CustomerFacts, note_customer
from labelkit.season.papers import paper_size
from labelkit.season.sell import JarsBooked, JarsGone, sell

if TYPE_CHECKING:
    from labelkit.record.work import Work

view = Blueprint("recall", __name__)

HOW = {
    "phone": later("by telephone"),
    "in person": later("in person"),
    "letter": later("by letter"),
    "mail": later("by e-mail"),
}
# Where the jars of a recall are, in the order of the bar: a field of the closing count, words, and a tone.
PLACES = (
    ("on_hold", later("on hold with you")),
    ("in_stock", later("in stock or at the stall")),
    ("destroyed", later("destroyed")),
    ("broken_or_sampled", later("broken or sampled")),
    ("opened", later("opened as seed")),
    ("with_customers", later("with customers by name")),
    ("sold_direct", later("sold without a name")),
    ("given", later("given without a name")),
    ("missing", later("unexplained")),
)
LISTED = 60


@view.get("/recall")
def recall() -> str:
    """Recalls so far, the first step of a new one, and the drill."""
    return _recall()


@view.get("/recall/scope")
def scope() -> str:
    """How far it reaches, with boxes to tick; nothing is booked by looking."""
    return _scope()


@view.post("/recall/hold")
def hold():
    """Put what is ticked on hold at once."""
    return booked(
        lambda: _work(lambda work, day: season.hold(work, [*_ticked("take"), *_ticked("bucket")], typed("why"), day)),
        _scope,
        lambda _: href(
            "/recall/scope",
            code=typed("code"),
            cause=typed("cause"),
            why=typed("why"),
            take=_ticked("take"),
            bucket=_ticked("bucket"),
        ),
        lambda done: say(
            "{lots} are on hold: none of it can be sold, given, loaded or bottled.", lots=", ".join(done.lots)
        ),
    )


@view.post("/recall/begin")
def begin():
    """Begin the recall of what is ticked."""
    asked = season.CallingBack(
        tuple(_ticked("take") or [typed("code")]),
        typed("cause"),
        typed("why"),
        typed("called"),
        only=True,
        ordered_by=typed("ordered"),
        buckets=tuple(_ticked("bucket")),
    )
    return booked(
        lambda: _work(lambda work, day: season.begin(work, asked, day)),
        _scope,
        lambda done: href("/recall/run", name=done.running.recall.name),
        lambda done: say(
            "Recall {name} is begun. Call your authority first, then the customers.", name=done.running.recall.name
        ),
    )


@view.get("/recall/run")
def running() -> str:
    """One recall: whom to call, who answered, what came back, where every jar is."""
    return _running()


@view.post("/recall/tell")
def tell():
    """Note who was told, and what they answered."""

    def step(work: Work, day: date):
        how, has, note = typed("how") or "phone", value("has", count), typed("note")
        return season.tell(work, typed("name"), typed("customer"), day, how=how, has=has, note=note)

    return _kept(step, lambda done: say("{customer}: noted.", customer=done.told.customer))


@view.post("/recall/reach")
def reach():
    """Note how a customer is reached."""
    facts = CustomerFacts(typed("customer"), typed("phone"))
    return _kept(
        lambda work, day: note_customer(work, facts, day), lambda _: say("{customer}: noted.", customer=facts.customer)
    )


@view.post("/recall/returned")
def returned():
    """Jars that came back; they stand apart at once."""
    return _kept(
        _came_back,
        lambda done: say_count(
            "{n} jar came back and is set apart.", "{n} jars came back and are set apart.", done.jars
        ),
    )


def _came_back(work: Work, day: date) -> JarsBooked:
    lot, _, size = typed("jars").partition("@")
    reason = f"recall {typed('name')}"
    back = JarsGone(lot, {size: value("count", count) or 0}, "returned", customer=typed("customer"), reason=reason)
    return sell(work, back, day)


@view.post("/recall/destroyed")
def destroyed():
    """Jars destroyed."""

    def step(work: Work, day: date) -> JarsBooked:
        reason = typed("reason") or f"recall {typed('name')}"
        return sell(work, JarsGone(typed("lot"), jar_counts(), "discarded", reason=reason), day)

    return _kept(
        step,
        lambda done: say_count("{n} jar is booked as destroyed.", "{n} jars are booked as destroyed.", done.jars),
    )


@view.post("/recall/drill")
def drill():
    """Practise, and keep the result."""
    return booked(
        lambda: _work(lambda work, day: season.drill(work, day, typed("lot"))),
        _recall,
        lambda _: "/recall#drills",
        lambda done: say(
            "Drill on lot {lot}: {found} of {made} jars found.",
            lot=done.drill.lot,
            found=done.drill.jars_found,
            made=done.drill.jars_made,
        ),
    )


def _work(step: Callable[[Work, date], Any]) -> Any:
    context = request_context.context()
    with context.work(step_key()) as work:
        return step(work, context.day)


@view.get("/recall/notice.<kind>")
def notice(kind: str) -> Response:
    """A letter, notice or sign, as PDF or as text."""
    from labelkit.trace.papers import notice_paper

    facts = _facts()
    found = next((one for one in facts["notices"] if one.id == typed("which")), None)
    if found is None or kind not in ("pdf", "txt"):
        raise NoSuchPage(f"/recall/notice.{kind[:20]}?which={typed('which')[:60]}")
    if kind == "txt":
        return paper(found.text.encode(), f"{found.id}.txt", "text/plain; charset=utf-8")
    return paper(notice_paper(found, paper_size(request_context.season())), f"{found.id}.pdf")


def _ticked(name: str) -> list[str]:
    return [lot for lot in request.values.getlist(name) if lot.strip()]


def _kept(step: Callable[[Work, date], Any], says: Callable[[Any], str]):
    return booked(lambda: _work(step), _running, lambda _: href("/recall/run", name=typed("name")), says)


def _market() -> str:
    markets = request_context.season().markets
    return markets[0] if markets else ""


def _recall(refused: LabelkitError | None = None) -> str:
    from labelkit.trace.notices import whom_to_ask
    from labelkit.trace.recall import CAUSES

    with request_context.context().reading() as state:
        begun = [each for each in state.events(("recall",)) if each.stands]
        drills = [each for each in state.events(("drill",)) if each.stands]
        days = {each.event.lot: each.day for each in islice(state.latest(("run",)), LISTED) if each.stands}
    return page(
        "recall.html",
        refused=refused,
        begun=begun[::-1],
        drills=drills[::-1][:12],
        causes=CAUSES,
        ask=whom_to_ask(_market()),
        lots=list(days),
        days=days,
    )


def _scope(refused: LabelkitError | None = None) -> str:
    from labelkit.trace.notices import whom_to_ask

    try:
        with request_context.context().reading() as state:
            reached = season.look(state, typed("code").split(), typed("cause"))
    except LabelkitError as unclear:
        return _recall(refused or unclear)
    found = reached.scope
    asked = request.method == "POST" or "take" in request.values
    taken = _ticked("take") if asked else list(found.lots)
    buckets = _ticked("bucket") if asked else list(found.buckets)
    return page(
        "recall_scope.html",
        refused=refused,
        reach=found,
        cause=found.cause,
        trace=reached.trace,
        held=reached.held,
        taken=taken,
        buckets=buckets,
        customers=reached.customers(taken),
        direct=reached.direct(taken),
        ask=whom_to_ask(_market()),
        code=typed("code"),
    )


def _facts() -> dict[str, Any]:
    from labelkit.trace.notices import whom_to_ask

    context = request_context.context()
    with context.reading() as state:
        one = season.running(state, typed("name"))
    return {
        "recall": one.recall,
        "cause": one.cause,
        "trace": one.trace,
        "customers": one.customers,
        "held": one.held,
        "tells": one.told,
        "direct": one.direct,
        "now": one.now,
        "ask": whom_to_ask(_market()),
        "notices": season.notices_in(one, (language_of(context.locale),), context.locale)[0][1],
        "reach": {each.customer: _reach(each, one.trace) for each in one.customers},
    }


def _reach(customer, trace) -> tuple[str, tuple[str, ...]]:
    """The number to dial, and where a customer is: their address, or the place of sale where none was written down."""
    places = dict.fromkeys(went.place for went in trace.went if went.customer == customer.customer and went.place)
    lines = (*(customer.address or places), customer.email)
    return re.sub(r"[^+0-9]", "", customer.phone), tuple(line for line in lines if line and line != customer.phone)


def _running(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account
    from labelkit.trace.document import percent

    facts = _facts()
    now, trace = facts["now"], facts["trace"]
    places = [(field, words, getattr(now.count, field)) for field, words in PLACES]
    here_ = [
        jars
        for lot in facts["recall"].lots
        for jars in trace.balance(lot).jars
        if jars.account in (Account.HELD, Account.JARS) and jars.count > 0
    ]
    sizes = {lot: sorted({jars.size for jars in trace.balance(lot).jars}) for lot in facts["recall"].lots}
    return page(
        "recall_run.html",
        refused=refused,
        **facts,
        places=places,
        bar=_bar(places),
        here_jars=here_,
        how=HOW,
        sizes=sizes,
        share=percent(now.count.reachable),
    )


def _bar(places) -> list[dict]:
    """The jars as one bar; floats only here, as places on the page."""
    whole, x, cells = sum(jars for _, _, jars in places) or 1, 0.0, []
    for field, _, jars in places:
        if jars:
            cells.append({"field": field, "x": round(x, 2), "wide": round(1000 * jars / whole, 2)})
            x += 1000 * jars / whole
    return cells
