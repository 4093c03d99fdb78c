"""Putting right: one form for every event, filled with what was booked; the same step as “labelkit record correct”."""

from __future__ import annotations

from flask import Blueprint, redirect

from labelkit.errors import LabelkitError
from labelkit.errors.record import CorrectionRefused
from labelkit.page import recent_events, request_context
from labelkit.page.booked_fields import changes_typed, fields_of, form_again
from labelkit.page.forms import booked, count, step_key, typed, value
from labelkit.page.language import say
from labelkit.page.view import own_path, page
from labelkit.record.lookup import find_correctable
from labelkit.record.reading import Reading
from labelkit.season.changes import Changes
from labelkit.season.put_right import PutRight, put_right
from labelkit.trace.booked import Booked

view = Blueprint("correct", __name__)


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/correct")
def form() -> str:
    """The event, and its values in a form."""
    return _form()


@view.post("/correct")
def corrected():
    """Strike the event, and book what is right in its place where the form says so."""
    return booked(_corrected, _form, _onward, _told)


def _corrected() -> PutRight:
    context, event = request_context.context(), value("event", count) or 0
    with context.work(step_key()) as work:
        changes = Changes()
        if typed("do") != "strike" and not work.booked_before:
            changes = changes_typed(_event(work).event, request_context.season().prices)
        return put_right(work, event, typed("because"), changes, context.day)


def _event(state: Reading) -> Booked:
    event = value("event", count) or 0
    found = state.event(event)
    if found is None:
        raise CorrectionRefused(event, "there is no event of this number")
    return found


def _leads_on(state: Reading, event: int) -> CorrectionRefused | None:
    """Where a struck event and a correction lead: to what stands now."""
    try:
        find_correctable(state, event)
    except CorrectionRefused as leads:
        return leads
    return None


def _onward(done: PutRight) -> str:
    """Back to where it was asked for; from a struck event on to its own form, filled with what was booked."""
    again = ""
    if done.booked is None:
        with request_context.context().reading() as state:
            again = form_again(_event(state).event)
    return again or own_path(typed("back"), "/record")


def _told(done: PutRight) -> str:
    if done.booked is None:
        return say("Event {n} is struck; both stay in the record. Book what is right now.", n=done.struck)
    said = say("Event {n} is struck, and event {m} stands instead.", n=done.struck, m=done.booked)
    lots = ", ".join(lot for _, _, lot in done.runs)
    return f"{said} {say('Booked again with their codes: {lots}.', lots=lots)}" if lots else said


def _form(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        found = _event(state)
        step = recent_events.step(found, context.locale)
        if not step.may_undo:
            refused = refused or _leads_on(state, step.seq)
    return page(
        "correct.html",
        refused=refused,
        step=step,
        fields=fields_of(found.event, request_context.season().prices) if step.may_undo else {},
        back=own_path(typed("back"), "/record"),
    )
