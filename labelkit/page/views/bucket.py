"""A bucket's own page: what is in it, what happened to it, and one small form for what happened now."""

from __future__ import annotations

from collections.abc import Callable
from itertools import islice
from typing import Any

from flask import Blueprint, Response, redirect, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoJarsCounted, NoSuchPage
from labelkit.lots.bucket_life import DISCARDED, FED, GIVEN, SOLD, TakenOut
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.bucket_drawing import pail
from labelkit.page.forms import (
    about,
    amount,
    booked,
    booking_day,
    count,
    mass,
    number,
    paper,
    percent,
    step_key,
    temperature,
    typed,
    value,
)
from labelkit.page.forms import lines as lines_of
from labelkit.page.language import later, say
from labelkit.page.view import first, href, on, page, weight_unit
from labelkit.season.measure import Happened, Measuring, Weighed, measure
from labelkit.season.note import note
from labelkit.season.shelf import on_shelf
from labelkit.season.stock import states_of
from labelkit.season.take_out import TakingOut, declaration, take_out
from labelkit.season.treat import Drying, Skimming, Stirring, Warming, dry_out, skim, stir, warm

view = Blueprint("bucket", __name__)

SHOWN = 12
_JAR = "jar"  # marks seed out of jars: jar:SIZE@LOT
# What may have happened, as the form says it, in the order it mostly does.
WHAT = {
    "weigh-again": later("Weighed again"),
    "moisture": later("Moisture measured"),
    "skim": later("Skimmed"),
    "dry": later("Dried"),
    "warm": later("Warmed"),
    "stir": later("Stirred"),
    "sell": later("Sold in bulk"),
    "feed": later("Fed back"),
    "give": later("Given away"),
    "discard": later("Discarded"),
    "note": later("Note"),
}


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/bucket")
@view.get("/bucket/<what>")
def bucket(what: str = "") -> str:
    """The bucket, and the form for what happened to it."""
    return _bucket(_known(what or "weigh-again"))


@view.post("/bucket/<what>")
def happened(what: str):
    """Book what happened."""
    _known(what)
    name = typed("bucket")
    return booked(
        lambda: _booked(what, name),
        lambda refused: _bucket(what, refused),
        lambda _: href("/bucket", bucket=name),
        lambda said: say("Booked: {what}", what=said),
    )


@view.get("/bucket/declaration.pdf")
def declared() -> Response:
    """The paper that goes with honey sold in bulk."""
    context = request_context.context()
    with context.reading() as state:
        sold = state.event(value("event", count) or 0)
        if sold is None or not isinstance(sold.event, TakenOut) or sold.event.how != SOLD:
            raise NoSuchPage("/bucket/declaration.pdf")
        done = Happened(sold.event, sold.seq, state.bucket(sold.event.bucket))
        made = declaration(state, done, state.settings().get("language"), context.locale)
    return paper(made, f"bucket-{sold.seq}.pdf")


def _known(what: str) -> str:
    if what not in WHAT:
        raise NoSuchPage(f"/bucket/{what[:60]}")
    return what


def _booked(what: str, name: str) -> str:
    """Book it on the day the form says; in words what was booked."""
    context = request_context.context()
    when = booking_day()
    because = typed("because")
    if what == "note":
        with context.work(step_key()) as work:
            return note(work, [name], typed("note"), when, typed("customer") or None).note.describe(context.locale)
    verb, asked = _STEPS[what](name, because)
    with context.work(step_key()) as work:
        return verb(work, asked, when, context.locale).step.describe(context.locale)


def _weighed() -> Weighed:
    return Weighed(**{each: value(each, mass) for each in ("net", "gross", "tare", "division")})


def _dried(name: str, because: str) -> tuple[Any, Drying]:
    weights = {each: value(each, mass) for each in ("before", "after")}
    moistures = {each: value(each, percent) for each in ("moisture_before", "moisture_after")}
    warmth = {"hottest_c": value("highest", temperature), "hours": value("hours", number)}
    return dry_out, Drying(name, **weights, **moistures, **warmth, instrument=typed("instrument"), because=because)


def _stirred(name: str, because: str) -> tuple[Any, Stirring]:
    """With seed out of a bucket, or out of jars of a lot: those are chosen as ``jar:SIZE@LOT``."""
    mark, _, jar = typed("seed").partition(":")
    if mark != _JAR or "@" not in jar:
        return stir, Stirring(name, typed("seed") or None, value("seed_mass", mass), because)
    size, _, lot = jar.rpartition("@")
    opened = value("seed_jars", count)
    if not opened:
        with about("seed_jars"):
            raise NoJarsCounted()
    return stir, Stirring(name, lot, value("seed_mass", mass), because, jars={size: opened})


def _taken(how: str) -> Callable[[str, str], tuple[Any, TakingOut]]:
    def asked(name: str, because: str) -> tuple[Any, TakingOut]:
        sale: dict[str, Any] = {}
        if how == SOLD:
            address = tuple(lines_of("address"))
            sale = {"weighed": _weighed(), "rate": value("rate", amount), "per": weight_unit(), "address": address}
        customer = typed("customer") or None
        return take_out, TakingOut(name, how, value("part", mass), customer=customer, because=because, **sale)

    return asked


_STEPS: dict[str, Callable[[str, str], tuple[Any, Any]]] = {
    "weigh-again": lambda name, because: (measure, Measuring(name, _weighed(), because=because)),
    "moisture": lambda name, because: (
        measure,
        Measuring(name, moisture=value("moisture", percent), instrument=typed("instrument"), because=because),
    ),
    "skim": lambda name, because: (skim, Skimming(name, value("removed", mass), _weighed(), because)),
    "dry": _dried,
    "warm": lambda name, because: (
        warm,
        Warming(name, value("highest", temperature), value("hours", number), because),
    ),
    "stir": _stirred,
    "sell": _taken(SOLD),
    "feed": _taken(FED),
    "give": _taken(GIVEN),
    "discard": _taken(DISCARDED),
}


def _bucket(what: str, refused: LabelkitError | None = None) -> str:
    context, name = request_context.context(), typed("bucket")
    with context.reading() as state:
        found = state.bucket(state.fill(name))
        name, call = found.id, state.call(found.id)
        seeds = [(each.id, each.id) for each in state.buckets(full=True) if each.id != name]
        seeds += [(f"{_JAR}:{jar.size}@{jar.lot}", f"{jar.lot}: {jar.count} × {jar.size}") for jar in on_shelf(state)]
        story = [each for each in state.events_about([name]) if each.kind != "correct"]
        bucket_state = states_of(state, [found], context.day)[name]
        last = next((each for each in reversed(story) if each.stands and each.event.voidable), None)
        undo = recent_events.step(last, context.locale) if last else None
        steps = [recent_events.step(each, context.locale) for each in islice(reversed(story), SHOWN)]
    sold = [each.seq for each in story if each.stands and isinstance(each.event, TakenOut) and each.event.how == SOLD]
    return page(
        "bucket.html",
        refused=refused,
        bucket=found,
        call=call,
        pail=pail(found),
        state=bucket_state,
        holds=explanations.of_bucket(found, first, on),
        water=explanations.of_moisture(found, first),
        what=what,
        whats=WHAT,
        choices=seeds,
        unit=weight_unit(),
        when=request.values.get("on") or str(context.day),
        story=steps,
        undo=undo,
        sold=sold,
    )
