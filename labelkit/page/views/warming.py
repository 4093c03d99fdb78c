"""The warming calendar: which bucket goes into the warming cabinet when, for the day it is to be filled."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.honey.warmth import CAUTIONS, SOURCE
from labelkit.page import request_context
from labelkit.page.forms import day, percent, typed, value
from labelkit.page.view import href, number, page
from labelkit.paper.calendar import calendar_file
from labelkit.season.warming import WarmingAsked, WarmingPlan, appointments, warming

view = Blueprint("warming", __name__)

UNTIL, HARDNESS, SEED_OF = ("clear", "soft"), ("usual", "soft", "hard"), ("liquid", "whole")
TENTH = Decimal("0.1")


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/warming")
def calendar() -> str:
    """Ask for the filling day; with one, the buckets in the order they go in. Nothing is booked."""
    plan, unable = None, None
    try:
        plan = _plan() if typed("fill_on") else None
    except LabelkitError as refusal:
        unable = refusal
    rows = [
        {
            "one": one,
            "low": number(one.hmf.low.quantize(TENTH), 1),
            "high": number(one.hmf.high.quantize(TENTH), 1),
            "warmth": number(one.warm.temperature_c, 0),
        }
        for one in (plan.buckets if plan else ())
    ]
    names = ("fill_on", "until", "hardness", "seed", "seed_of")
    return page(
        "warming.html",
        plan=plan,
        rows=rows,
        unable=unable,
        cautions=(SOURCE.caution, *CAUTIONS),
        ics=href("/warming/warming.ics", **{name: typed(name) for name in names}),
    )


@view.get("/warming/warming.ics")
def ics() -> Response:
    """The days as a calendar file."""
    context, plan = request_context.context(), _plan()
    with context.reading() as state:
        head, first = state.head(), state.event(1)
    made = calendar_file(appointments(plan), first.hash if first else "", context.now, head.seq)
    return Response(
        made, mimetype="text/calendar", headers={"Content-Disposition": 'attachment; filename="warming.ics"'}
    )


def _plan() -> WarmingPlan:
    fill_on: date = value("fill_on", day) or request_context.context().day
    chosen = [typed(name) if typed(name) in some else some[0] for name, some in _CHOICES]
    with request_context.context().reading() as state:
        return warming(state, WarmingAsked(fill_on, (), chosen[0], chosen[1], value("seed", percent), chosen[2]))


_CHOICES = (("until", UNTIL), ("hardness", HARDNESS), ("seed_of", SEED_OF))
