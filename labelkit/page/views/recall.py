"""A recall step by step: how far it reaches, the hold, whom to call, what was answered, and every jar to the last one."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import request_context
from labelkit.page.language import later, say, say_count
from labelkit.page.verbs import booked, by_size, do, once, once_key, option, paper, typed
from labelkit.page.view import href, page

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
    lots = [word for lot in (*_ticked("take"), *_ticked("bucket")) for word in option("lot", lot)] or ["--lot="]
    return booked(
        lambda: do("recall", "hold", *lots, *option("because", typed("why")), *once()),
        _scope,
        lambda _: href(
            "/recall/scope",
            code=typed("code"),
            cause=typed("cause"),
            why=typed("why"),
            take=_ticked("take"),
            bucket=_ticked("bucket"),
        ),
        lambda answer: say(
            "{lots} are on hold: none of it can be sold, given, loaded or bottled.",
            lots=", ".join(answer.document["lots"]),
        ),
    )


@view.post("/recall/begin")
def begin():
    """Begin the recall of what is ticked."""
    return booked(
        _begun,
        _scope,
        lambda answer: href("/recall/run", name=answer.document["recall"]),
        lambda answer: say(
            "Recall {name} is begun. Call your authority first, then the customers.", name=answer.document["recall"]
        ),
    )


@view.get("/recall/run")
def running() -> str:
    """One recall: whom to call, who answered, what came back, where every jar is."""
    return _running()


@view.post("/recall/tell")
def tell():
    """Note who was told, and what they answered."""
    return _kept(
        lambda: do(
            "recall",
            "tell",
            *option("customer", typed("customer")),
            *option("how", typed("how")),
            *option("has", typed("has")),
            *option("note", typed("note")),
            *once(),
            "--",
            typed("name"),
        ),
        lambda answer: say("{customer}: noted.", customer=answer.document["customer"]),
    )


@view.post("/recall/reach")
def reach():
    """Note how a customer is reached."""
    return _kept(
        lambda: do("record", "customer", *option("phone", typed("phone")), *once(), "--", typed("customer")),
        lambda answer: say("{customer}: noted.", customer=typed("customer")),
    )


@view.post("/recall/returned")
def returned():
    """Jars that came back; they are set apart at once."""
    return _kept(
        _came_back,
        lambda answer: say_count(
            "{n} jar came back and is set apart.", "{n} jars came back and are set apart.", _jars(answer)
        ),
    )


@view.post("/recall/destroyed")
def destroyed():
    """Jars destroyed."""
    return _kept(
        lambda: do(
            "sell",
            "--as=discarded",
            *option("lot", typed("lot")),
            *_lines(),
            *option("reason", typed("reason") or f"recall {typed('name')}"),
            *once(),
        ),
        lambda answer: say_count("{n} jar is booked as destroyed.", "{n} jars are booked as destroyed.", _jars(answer)),
    )


@view.post("/recall/drill")
def drill():
    """Practise, and file the result."""
    return booked(
        lambda: do("recall", "drill", *option("lot", typed("lot")), *once()),
        _recall,
        lambda _: "/recall#drills",
        lambda answer: answer.text.splitlines()[0],
    )


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
    return paper(notice_paper(found, _page_size()), f"{found.id}.pdf")


def _page_size() -> str:
    from labelkit.cli._sale import paper_size

    return paper_size(None, request_context.season().currency)


def _ticked(name: str) -> list[str]:
    return [lot for lot in request.values.getlist(name) if lot.strip()]


def _begun():
    """The buckets are held first, so that nothing of them is filled while the recall is begun."""
    lots, buckets = _ticked("take"), _ticked("bucket")
    if buckets and typed("why"):
        key = option("once", f"{once_key()} buckets" if once_key() else "")
        do("recall", "hold", *(f"--lot={one}" for one in buckets), *option("because", typed("why")), *key)
    return do(
        "recall",
        "begin",
        *option("cause", typed("cause")),
        *option("why", typed("why")),
        *option("name", typed("called")),
        *option("ordered-by", typed("ordered")),
        "--only",
        *once(),
        "--",
        *(lots or [typed("code")]),
    )


def _kept(step, says):
    return booked(step, _running, lambda _: href("/recall/run", name=typed("name")), says)


def _lines() -> list[str]:
    return [word for size, count in by_size("jar").items() for word in option("jar", f"{size}={count}")] or ["--jar="]


def _jars(answer) -> int:
    return sum(line["count"] for line in answer.document["lines"])


def _came_back():
    lot, _, size = typed("jars").partition("@")
    reason = f"recall {typed('name')}"
    answer = do(
        "sell",
        "--as=returned",
        *option("lot", lot),
        f"--jar={size}={typed('count')}",
        *option("customer", typed("customer")),
        f"--reason={reason}",
        *once(),
    )
    key = option("once", f"{once_key()} apart" if once_key() else "")
    do("recall", "hold", f"--lot={lot}", f"--because={reason}", *key)
    return answer


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
    from labelkit.cli.recall import traced
    from labelkit.errors.trace import NothingToRecall
    from labelkit.trace.notices import whom_to_ask
    from labelkit.trace.recall import cause_of, sold_direct, to_tell
    from labelkit.trace.recall import scope as reached

    try:
        cause = cause_of(typed("cause"))
        with request_context.context().reading() as state:
            trace, _ = traced(state, tuple(typed("code").split()))
            if not trace.lots:
                raise NothingToRecall(typed("code")[:60])
            reach = reached(trace, cause, state.events(("print",)))
            trace, _ = traced(state, reach.lots)
            held, settings = state.holds(), state.settings()
    except LabelkitError as unclear:
        return _recall(refused or unclear)
    asked = request.method == "POST" or "take" in request.values
    taken = _ticked("take") if asked else list(reach.lots)
    buckets = _ticked("bucket") if asked else list(reach.buckets)
    return page(
        "recall_scope.html",
        refused=refused,
        reach=reach,
        cause=cause,
        trace=trace,
        held=held,
        taken=taken,
        buckets=buckets,
        customers=to_tell(trace, taken, settings),
        direct=sold_direct(trace, taken),
        ask=whom_to_ask(_market()),
        code=typed("code"),
    )


def _facts() -> dict[str, Any]:
    from labelkit.cli.recall import recall_of, tell_story, traced
    from labelkit.trace.notices import notices, whom_to_ask
    from labelkit.trace.recall import cause_of, closing, sold_direct, to_tell

    with request_context.context().reading() as state:
        one = recall_of(state, typed("name"))
        trace, _ = traced(state, one.lots)
        story = tell_story(state)
        held, settings = state.holds(), state.settings()
    customers = to_tell(trace, one.lots, settings)
    said: dict[str, list] = {}
    for each in story:
        if each.stands and each.event.recall == one.name:
            said.setdefault(each.event.customer, []).append(each)
    return {
        "recall": one,
        "cause": cause_of(one.cause),
        "trace": trace,
        "customers": customers,
        "held": held,
        "tells": said,
        "direct": sold_direct(trace, one.lots),
        "now": closing(trace, one, story),
        "ask": whom_to_ask(_market()),
        "notices": notices(one, trace, customers, settings.get("maker", {}), request_context.context().locale),
        "reach": {each.customer: _reach(each, trace) for each in customers},
    }


def _reach(customer, trace) -> tuple[str, tuple[str, ...]]:
    """The number to dial, and where a customer is: their address, or the place of sale where none was written down."""
    places = dict.fromkeys(went.place for went in trace.went if went.customer == customer.customer and went.place)
    lines = (*(customer.address or places), customer.email)
    return re.sub(r"[^+0-9]", "", customer.phone), tuple(line for line in lines if line and line != customer.phone)


def _running(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account

    facts = _facts()
    now, trace = facts["now"], facts["trace"]
    places = [(field, words, getattr(now, field)) for field, words in PLACES]
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
        share=_share(now),
    )


def _share(now) -> Any:
    from labelkit.trace.document import percent, share

    return percent(share(now.accounted, now.jars_made))


def _bar(places) -> list[dict]:
    """The jars as one bar; floats only here, as places on the page."""
    whole, x, cells = sum(count for _, _, count in places) or 1, 0.0, []
    for field, _, count in places:
        if count:
            cells.append({"field": field, "x": round(x, 2), "wide": round(1000 * count / whole, 2)})
            x += 1000 * count / whole
    return cells
