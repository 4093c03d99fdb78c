"""The season's own page: what is in the buckets, what is due today, what is on the shelf, what was done last."""

from __future__ import annotations

from itertools import islice

from flask import Blueprint, Response

from labelkit.errors import Way
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.bucket_drawing import pail
from labelkit.page.doors import door
from labelkit.page.language import plainly
from labelkit.page.view import first, on, page
from labelkit.season.ahead import ahead, calendar_of
from labelkit.season.due import due_today

view = Blueprint("season", __name__)

EMPTIED = 60
MAKE_BUCKETS = ("weigh", "receive", "blend")
DRAWN = 48  # buckets; more than that are named, not drawn


@view.get("/")
def home() -> str:
    """The whole season at a glance."""
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        full = state.buckets(full=True)
        emptied = _emptied(state, full)
        stock = [s for s in state.stock(Account.JARS, Account.HELD, Account.STALL) if s.count]
        due = due_today(state, context.day, context.locale, full)
        steps = recent_events.steps(state, context.locale, 6)
        undo = recent_events.undoable(state, context.locale)
    return page(
        "season.html",
        full=[_shown(b) for b in full[:DRAWN]],
        more=full[DRAWN:],
        emptied=emptied,
        due=[(one, *door(Way(one.verb, one.about))) for one in due],
        stock=stock,
        last_steps=steps,
        undo=undo,
    )


@view.get("/today.ics")
def calendar() -> Response:
    """What is due, and when, as a calendar file in the reader's language."""
    context = request_context.context()
    with context.reading() as state:
        coming = ahead(state, context.day, context.locale)
    headers = {"Content-Disposition": 'attachment; filename="season.ics"'}
    return Response(calendar_of(coming, context.now, plainly), mimetype="text/calendar", headers=headers)


def _emptied(state, full) -> tuple[list[str], int]:
    """The newest buckets with nothing in them, and how many more there are."""
    held = {bucket.id for bucket in full}
    made = (getattr(each.event, "into", "") or each.event.bucket for each in state.latest(MAKE_BUCKETS) if each.stands)
    named = list(islice((name for name in made if name not in held), EMPTIED))
    return named, max(state.counted(*MAKE_BUCKETS) - len(full) - len(named), 0)


def _shown(bucket):
    return {
        "bucket": bucket,
        "pail": pail(bucket),
        "why": explanations.of_bucket(bucket, first, on),
        "water": explanations.of_moisture(bucket, first),
    }
