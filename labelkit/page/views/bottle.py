"""Bottling: what was really filled, what is left, and the lot code to print on every jar of the run."""

from __future__ import annotations

from itertools import islice

from flask import Blueprint

from labelkit.cli._season import season_book
from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.language import say
from labelkit.page.verbs import booked, by_size, do, once, option, typed, with_unit
from labelkit.page.view import first, href, page, percent, weight_unit

view = Blueprint("bottle", __name__)

RUNS = 12


@view.get("/bottle")
def bottle() -> str:
    """The form; a plan fills it in."""
    return _bottle()


@view.post("/bottle")
def bottled():
    """Book the run."""
    words = [word for name, given in _said().items() for value in given for word in option(name, value)]
    return booked(
        lambda: do("bottle", f"--bucket={typed('bucket')}", *words, *once()),
        _bottle,
        lambda answer: f"/lot/{answer.document['lot']}",
        lambda answer: say("Booked as lot {lot}.", lot=answer.document["lot"]),
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
    with season_book(context, to_read=True) as book, book.reading() as state:
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


def _said() -> dict[str, list[str]]:
    unit = weight_unit()
    return {
        "jar": [f"{size}={count}" for size, count in by_size("jar").items()],
        "fill": [f"{size}={with_unit(fill, 'g' if unit == 'kg' else 'oz')}" for size, fill in by_size("fill").items()],
        "broken": [f"{size}={count}" for size, count in by_size("broken").items()],
        "sample": [f"{size}={count}" for size, count in by_size("sample").items()],
        "left": [with_unit(typed("left"), unit)],
        "lost": [with_unit(typed("lost"), unit)],
    }


def _look() -> dict:
    from labelkit.cli.bottle import run_of

    said = _said()
    if not typed("bucket") or not (said["jar"] or said["broken"] or said["sample"]):
        return {"run": None, "unable": None}
    context = request_context.context()
    try:
        with season_book(context, to_read=True) as book, book.reading() as state:
            run = run_of(
                state,
                context,
                typed("bucket"),
                tuple(said["jar"]),
                fills=tuple(said["fill"]),
                broken=tuple(said["broken"]),
                samples=tuple(said["sample"]),
                left=said["left"][0] or None,
                lost=said["lost"][0] or None,
            )
    except LabelkitError as refusal:
        return {"run": None, "unable": refusal}
    return {"run": run, "unable": None, "why_run": explanations.of_run(run, first, percent)}


def _bottle(refused: LabelkitError | None = None) -> str:
    context, season = request_context.context(), request_context.season()
    with season_book(context, to_read=True) as book, book.reading() as state:
        buckets = state.buckets(full=True)
        runs = list(islice((each for each in state.latest(("run",)) if each.stands), RUNS))
    sizes = [
        {
            "price": p,
            "fill": season.fill(p.size, context.day),
            "why": explanations.of_fill(season, p.size, context.day, first),
        }
        for p in season.prices.values()
    ]
    shown = _look() if refused is None else {"run": None, "unable": None}
    return page(
        "bottle.html",
        **shown,
        refused=refused,
        buckets=buckets,
        sizes=sizes,
        runs=runs,
        unit=weight_unit(),
        small="g" if weight_unit() == "kg" else "oz",
        plan=href("/plan"),
    )
