"""The rules as pages: by place and topic, with dates, quotes and certainty, what changes, what is to be read again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response

from labelkit.measures import years_after
from labelkit.page import request_context, security
from labelkit.page.forms import typed
from labelkit.page.view import page
from labelkit.rules import catalogue, market, upkeep
from labelkit.rules.findings import law_line
from labelkit.rules.glossary import glossary
from labelkit.season.law_review import review_page

if TYPE_CHECKING:
    from labelkit.rules.blocks import Law

view = Blueprint("rules", __name__)

YEARS_BACK, YEARS_AHEAD = 1, 2


@dataclass(frozen=True)
class Shown:
    """One rule or value as a page shows it; its anchor is what a finding names."""

    law: Law
    anchor: str
    says: str
    days: str
    source: str


@view.get("/rules")
def places() -> str:
    """Every place whose rules labelkit holds, those of the season first."""
    context = request_context.context()
    mine = request_context.season().markets if request_context.has_record() else ()
    found = sorted(catalogue.summaries(context.day), key=lambda each: each.code not in mine)
    return page("rules.html", places=found, mine=mine)


@view.get("/rules/<code>")
def place(code: str) -> str:
    """The rules of a place and of those it lies in, by topic; only what speaks of the words that were typed."""
    context = request_context.context()
    here = market(code, context.day)
    topics: dict[str, list[Shown]] = {}
    for law in catalogue.held(here, typed("about")):
        topics.setdefault(law.topic, []).append(_shown(law))
    ends = years_after(context.day, -YEARS_BACK), years_after(context.day, YEARS_AHEAD)
    return page(
        "rules_of.html",
        here=here,
        topics=[(glossary().topic(topic), some) for topic, some in topics.items()],
        count=sum(map(len, topics.values())),
        about=typed("about"),
        changes=[_change(each) for each in upkeep.Between(here, *ends).changes],
        again=[_shown(law) for law in upkeep.due(here)],
        not_read=here.not_read(),
        tomorrow=context.day + timedelta(days=1),
    )


@view.get("/rules/<code>/review")
def review(code: str) -> Response:
    """The law review of a place, to print, tick and sign."""
    day = request_context.context().day
    answer = Response(review_page(market(code, day), day), mimetype="text/html")
    answer.headers["Content-Security-Policy"] = security.DRAWING_POLICY
    return answer


def _shown(law: Law) -> Shown:
    return Shown(
        law,
        getattr(law, "rule", law.label).replace(" ", "-"),
        catalogue.shown(law),
        catalogue.days(law),
        law_line(law.cite, law.sure),
    )


def _change(change: upkeep.Change) -> dict[str, Any]:
    """A change with what held before and holds after, in words."""
    return {
        "day": change.day,
        "law": _shown(change.law),
        "before": catalogue.shown(change.before) if change.before else "",
        "after": catalogue.shown(change.after) if change.after else "",
    }
