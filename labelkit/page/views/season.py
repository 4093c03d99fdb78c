"""The season's own page: what is in the buckets, what is due today, what is on the shelf, what was done last."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from flask import Blueprint, Response

from labelkit.errors import Way
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.bucket_drawing import pail
from labelkit.page.doors import door
from labelkit.page.language import later, plainly
from labelkit.page.view import first, on, page
from labelkit.season.ahead import ahead, calendar_of
from labelkit.season.due import URGENT, Due, due_today

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
        due=_grouped(due),
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


#: What is to be done, in the order of the day, and the verbs that do it; whatever is urgent comes before all of them.
GROUPS = (
    (later("Fill"), ("bottle", "bottle cut")),
    (later("Label"), ("labels", "label-words")),
    (later("Sell"), ("price", "stall file", "stall settle", "deliver", "pay")),
    (later("Count"), ("stock",)),
    (later("Weigh and measure"), ("bucket moisture", "bucket weigh-again", "drain", "weigh")),
)


def _grouped(due: Sequence[Due]) -> list[tuple[str, list[tuple[Due, str, str]]]]:
    """What is due under the verb that does it, each with its link."""
    of = {verb: group for group, verbs in GROUPS for verb in verbs}
    found: dict[str, list[tuple[Due, str, str]]] = {later("Prevent harm"): [], **{group: [] for group, _ in GROUPS}}
    for one in due:
        group = "Prevent harm" if one.level == URGENT else of.get(one.verb, later("Look into"))
        found.setdefault(group, []).append((one, *door(Way(one.verb, one.about))))
    return [(group, some) for group, some in found.items() if some]


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
