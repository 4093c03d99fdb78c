"""Bottling: what was really filled, what is left, and the lot code to print on every jar of the run."""

from __future__ import annotations

from itertools import islice

from flask import Blueprint

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.honey.freezing import rule_text
from labelkit.measures import NOTHING
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.forms import (
    booked,
    booking_day,
    by_size,
    count,
    mass,
    mass_left,
    pieces,
    small_mass,
    small_unit,
    step_key,
    typed,
    value,
)
from labelkit.page.language import of_papers, say
from labelkit.page.view import first, href, page, percent, weight_unit
from labelkit.season.bottle import Bottled, Bottling, bottle
from labelkit.season.kept_plan import beside_plan
from labelkit.season.unmet import against_buckets

view = Blueprint("bottle", __name__)

RUNS = 12


@view.get("/bottle")
def form() -> str:
    """The form; a plan fills it in."""
    return _bottle()


@view.post("/bottle")
def bottled():
    """Book the run."""
    return booked(
        _bottled, _bottle, lambda done: f"/lot/{done.lot}", lambda done: say("Booked as lot {lot}.", lot=done.lot)
    )


@view.get("/bottle/look")
def look() -> str:
    """What the run would come to, and nothing booked."""
    return page("bottle_look.html", **_look())


@view.get("/lot/<code>")
def lot(code: str) -> str:
    """One lot: its code, large, and what became of the honey."""
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        runs = [each for each in state.events_about([code], ("run",)) if each.event.lot == code]
        stock = [
            s for s in state.stock(Account.JARS, Account.STALL, Account.HELD, Account.SOLD, lots=[code]) if s.count
        ]
        undo = recent_events.undoable(state, context.locale)
    if not runs:
        raise NoSuchPage(f"/lot/{code[:60]}")
    booked_run = next((each for each in runs if each.stands), runs[-1])
    return page(
        "lot.html",
        run=booked_run.event,
        booked=booked_run,
        stock=stock,
        undo=undo,
        why_run=explanations.of_run(booked_run.event, first, percent),
    )


def _asked() -> Bottling:
    """The run as the form says it."""
    return Bottling(
        typed("bucket"),
        by_size("jar", count),
        by_size("broken", count),
        by_size("sample", count),
        by_size("fill", small_mass),
        value("left", mass_left),
        value("lost", mass) or NOTHING,
        typed("because"),
        by_size("pieces", pieces),
        typed("product") or None,
        by_size("fell", pieces),
        {typed("comb_of"): comb} if (comb := value("comb", mass)) and typed("comb_of") else {},
    )


def _bottled() -> Bottled:
    context = request_context.context()
    with context.work(step_key()) as work:
        return bottle(work, _asked(), booking_day(), context.locale)


def _look() -> dict:
    """The run as it would be booked beside what was planned, or the refusal; no run while the form is not full."""
    context = request_context.context()
    found: dict = {"run": None, "unable": None, "beside": None, "cut": None}
    try:
        asked = _asked()
        with context.rehearsal() as work:
            if asked.bucket and (asked.jars or asked.broken or asked.samples or asked.pieces):
                found["cut"] = bottle(work, asked, booking_day(), context.locale)
                found["run"] = found["cut"].run
            found["beside"] = beside_plan(work, asked.bucket)
    except LabelkitError as refusal:
        return found | {"unable": refusal}
    return found | {
        "why_run": found["run"] and explanations.of_run(found["run"], first, percent),
        "freezing": rule_text(*of_papers()[::-1]),
    }


def _bottle(refused: LabelkitError | None = None) -> str:
    context, season = request_context.context(), request_context.season()
    with context.reading() as state:
        buckets = state.buckets(full=True)
        unmet = against_buckets(state, buckets, context.day)
        runs = list(islice((each for each in state.latest(("run",)) if each.stands), RUNS))
    sizes = [
        {
            "price": p,
            "fill": season.fill(p.size, context.day),
            "why": explanations.of_fill(season, p.size, context.day, first),
        }
        for p in season.jars(context.day).values()
    ]
    shown = _look() if refused is None else {"run": None, "unable": None, "beside": None, "cut": None}
    return page(
        "bottle.html",
        **shown,
        refused=refused,
        buckets=buckets,
        unmet=unmet,
        sizes=sizes,
        products=[one for one in season.products.values() if one.is_honey and not one.is_retired(context.day)],
        by_weight=[name for name, price in season.offered(context.day).items() if price.by_weight],
        runs=runs,
        unit=weight_unit(),
        small=small_unit(),
        plan=href("/plan"),
    )
