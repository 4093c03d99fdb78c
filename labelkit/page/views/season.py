"""The season's own page: what is in the buckets, what is due today, what is on the shelf, what was done last."""

from __future__ import annotations

from itertools import islice

from flask import Blueprint

from labelkit.page import explanations, recent_events, request_context
from labelkit.page.bucket_drawing import pail
from labelkit.page.view import first, href, on, page
from labelkit.season.due import due_today

view = Blueprint("season", __name__)

EMPTIED = 60
MAKE_BUCKETS = ("weigh", "receive", "blend")
DRAWN = 48  # buckets; more than that are named, not drawn

# Where each verb of the command line is on the page, and what the button says.
_DOORS = {
    "bottle": ("/bottle", "Bottle it", "bucket"),
    "drain": ("/drain", "Add it", "bucket"),
    "weigh": ("/trace", "Look at it", "code"),
    "price": ("/prices", "Name them", ""),
    "labels": ("/labels", "Print them", ""),
    "recall": ("/trace", "Trace it", "code"),
    "rules": ("", "", ""),
    "stall settle": ("/stall", "Settle it", "day"),
    "trace": ("/trace", "Trace it", "code"),
    "stall file": ("/stall", "To the market day", "day"),
}


@view.get("/")
def home() -> str:
    """The whole season at a glance."""
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        full = state.buckets(full=True)
        emptied = _emptied(state, full)
        stock = [s for s in state.stock(Account.JARS, Account.HELD, Account.STALL) if s.count]
        due = due_today(state, context.day, full)
        steps = recent_events.steps(state, context.locale, 6)
        undo = recent_events.undoable(state, context.locale)
    return page(
        "season.html",
        full=[_shown(b) for b in full[:DRAWN]],
        more=full[DRAWN:],
        emptied=emptied,
        due=[(one, *_door(one)) for one in due],
        stock=stock,
        last_steps=steps,
        undo=undo,
    )


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


def _door(due) -> tuple[str, str]:
    path, word, name = _DOORS.get(due.verb, ("", "", ""))
    if due.verb == "labels":
        lot, _, size = due.about.partition("=")
        return href(path, lot=lot, size=size), word
    return (href(path, **{name: due.about.partition(", ")[0]}) if name else path), word
