"""Tracing: a code typed or scanned, back to the hives and on to everybody who has a jar."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import islice
from typing import Any

from flask import Blueprint, Response, redirect, request

from labelkit.errors import LabelkitError
from labelkit.lots.movement import Account
from labelkit.page import request_context, security
from labelkit.page.forms import booked, step_key, typed
from labelkit.page.language import later, of_papers, say
from labelkit.page.scanned import lot_in
from labelkit.page.view import href, page
from labelkit.season import recall
from labelkit.season.deliver import CustomerFacts, note_customer
from labelkit.season.known_jars import known_of
from labelkit.season.papers import paper_size
from labelkit.season.shelf import customer_facts
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.unmet import SHORT, held_jars

view = Blueprint("trace", __name__)

SHOWN = 24
BEGINS = ("code", "yard", "hive", "supplier", "customer", "place")
# Where the jars are that the picture names without a trace of their own.
_SHELVES = {"In stock": "/sell", "At the stall": "/stall", "On hold": "/recall"}


@view.get("/trace")
def form() -> str:
    """The question, and the answer where one was asked."""
    return _trace()


@view.post("/trace/hold")
def hold():
    """Put a lot on hold: none of it goes out until it is released."""
    return _held(
        recall.hold, later("{lots} is on hold: none of it can be sold, given, loaded or bottled until it is released.")
    )


@view.post("/trace/release")
def release():
    """Release a lot from hold."""
    return _held(recall.release, later("{lots} is released; its jars are in stock again."))


@view.post("/trace/reach")
def reach():
    """Note how a customer is reached."""
    facts = CustomerFacts(typed("customer"), typed("phone"))

    def step() -> Mapping[str, Any]:
        context = request_context.context()
        with context.work(step_key()) as work:
            return note_customer(work, facts, context.day)

    return booked(
        step,
        _trace,
        lambda _: href("/trace", customer=facts.customer),
        lambda _: say("{customer}: noted.", customer=facts.customer),
    )


def _held(verb: Callable[..., recall.HeldLots], outcome: str):
    def step() -> recall.HeldLots:
        context = request_context.context()
        with context.work(step_key()) as work:
            return verb(work, [typed("code")], typed("because"), context.day)

    return booked(
        step,
        _trace,
        lambda done: href("/trace", code=done.lots[0]),
        lambda done: say(outcome, lots=", ".join(done.lots)),
    )


def _trace(unbooked: LabelkitError | None = None) -> str:
    asked = {name: typed(name) for name in BEGINS if typed(name)}
    found, refused = None, None
    if asked:
        try:
            found = _followed().trace
        except LabelkitError as refusal:
            refused = refusal
    lot = found.start.lots[0] if found and found.start.what in ("lot", "bucket") else ""
    with request_context.context().reading() as state:
        known = _newest(state)
        held = dict(state.holds())
        calls = {name: state.call(name) for name in found.buckets} if found else {}
        short = [each for each in held_jars(known_of(state, [lot])) if each.kind == SHORT] if lot not in held else []
        held |= {each.of: (each.what.facts["day"], each.what) for each in short}
        phone = customer_facts(state, asked.get("customer")).get("phone", "")
        apart = sum(jars.count for jars in state.stock(Account.HELD, lots=[lot])) if lot and lot not in held else 0
    return page(
        "trace.html",
        refused=unbooked or refused,
        known=known,
        asked=asked,
        lot=lot,
        held=held,
        apart=apart,
        phone=phone,
        **_facts(found, calls),
    )


@view.get("/trace/scanned")
def scanned():
    """On to the trace of the lot in what a camera read."""
    return redirect(href("/trace", code=lot_in(request.args.get("text", "")[:600])), 303)


@view.get("/trace/flow.svg")
def flow() -> Response:
    """The way drawn: bands as wide as the honey is heavy."""
    from labelkit.trace.picture import picture

    words, locale = of_papers()
    drawn = Response(picture(_followed().trace, locale, words), mimetype="image/svg+xml")
    drawn.headers["Content-Security-Policy"] = security.DRAWING_POLICY
    return drawn


@view.get("/trace/steps.csv")
def steps() -> Response:
    """Every step as a spreadsheet file."""
    from labelkit.trace.sheet import sheet

    content = sheet(_followed().trace)
    return Response(content, mimetype="text/csv", headers={"Content-Disposition": 'attachment; filename="trace.csv"'})


@view.get("/trace/paper.pdf")
def paper() -> Response:
    """The trace on paper."""
    from labelkit.trace.papers import trace_paper

    found = _followed()
    words, locale = of_papers()
    content = trace_paper(
        found.trace, paper_size(request_context.season()), locale=locale, words=words, limits=found.limits
    )
    return Response(
        content, mimetype="application/pdf", headers={"Content-Disposition": 'inline; filename="trace.pdf"'}
    )


def _followed():
    with request_context.context().reading() as state:
        code = typed("code")
        code = code if not code or state.knows(state.fill(code)) else lot_in(code)
        place = "" if typed("customer") else typed("place")
        return trace(
            state, TraceFrom(code, typed("yard"), typed("hive"), None, typed("customer"), place, typed("supplier"))
        )


def _newest(state) -> dict[str, list[str]]:
    """What a trace may begin at, the newest lots and buckets first, no more of each than one looks through."""

    def made(kinds: tuple[str, ...], name: str) -> list[str]:
        return [getattr(each.event, name) for each in islice(state.latest(kinds), SHOWN) if each.stands]

    return {
        "lots": made(("run",), "lot"),
        "buckets": [*made(("blend",), "into"), *made(("weigh", "receive"), "bucket")][:SHOWN],
        **{f"{what}s": sorted(state.names(what))[:SHOWN] for what in ("yard", "supplier", "customer", "place")},
    }


def _way(found, calls):
    """The picture, placed, and where each of its bars leads."""
    from labelkit.trace.layout import layout

    words, locale = of_papers()
    placed = layout(found, locale, words)
    return {"way": placed, "leads": {each.node.id: _lead(each.node, found, calls) for each in placed.nodes}}


def _lead(node, found, calls) -> str:
    """The page a bar of the picture leads to: its own trace, or the shelf it stands on; nothing where there is none."""
    if node.sort == "yard":
        known = any(source.yard == node.name for each in found.intakes for source in each.sources)
        return href("/trace", yard=node.name) if known else ""
    if node.sort == "supplier":
        return href("/trace", supplier=node.name)
    if node.id.startswith("b:"):
        return href("/trace", code=calls.get(node.name, node.name))
    for kind in ("customer", "place"):
        if any(getattr(went, kind) == node.name for went in found.went):
            return href("/trace", **{kind: node.name})
    return _SHELVES.get(node.id, "")


def _facts(found, calls) -> dict:
    if found is None:
        return {"trace": None, "sections": (), "headline": "", "query": {}, "linked": frozenset(), "calls": {}}
    from labelkit.trace.sections import headline, sections

    words, locale = of_papers()
    query = {name: request.args[name] for name in BEGINS if request.args.get(name)}
    return _way(found, calls) | {
        "calls": calls,
        "trace": found,
        "linked": frozenset((*found.lots, *found.sisters, *found.buckets)),
        "sections": sections(found, locale, words),
        "headline": headline(found, words),
        "query": query,
    }
