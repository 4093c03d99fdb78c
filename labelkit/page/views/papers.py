"""Papers that run out: noted, renewed, retired, and printed as one file for a market manager."""

from __future__ import annotations

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.page import request_context
from labelkit.page.forms import booked, day, paper, step_key, typed, uploaded, value
from labelkit.page.language import later, say
from labelkit.page.view import page
from labelkit.season.kept_papers import KINDS, PaperAsked, folder_pdf, keep_paper, paper_named, papers_of
from labelkit.season.papers import paper_size, season_words

view = Blueprint("papers", __name__)

STATES = {
    "valid": later("valid"),
    "soon": later("runs out soon"),
    "run out": later("run out"),
    "no end": later("does not run out"),
}


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/papers")
def papers() -> str:
    """Every paper with its last day, and the form."""
    return _papers()


@view.post("/papers")
def kept():
    """Note a paper, renew it, or ask for it no more."""

    def step() -> str:
        retired = bool(typed("retire"))
        asked = PaperAsked(
            typed("name"),
            typed("kind"),
            typed("number"),
            value("until", day),
            uploaded("file"),
            typed("because"),
            retired,
        )
        context = request_context.context()
        with context.work(step_key()) as work:
            one, _ = keep_paper(work, asked, context.day)
        return say("{name} is asked for no more.", name=one.name) if retired else say("{name} is kept.", name=one.name)

    return booked(step, _papers, lambda _: "/papers", lambda said: said)


@view.get("/papers/folder.pdf")
def folder() -> Response:
    """All of them as one file."""
    context, season = request_context.context(), request_context.season()
    words, locale = season_words(season, None, context.locale)
    with context.reading() as state:
        made = folder_pdf(papers_of(state.settings()), season.maker, context.day, paper_size(season), words, locale)
    return paper(made, "papers.pdf")


def _papers(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        held = papers_of(state.settings())
        chosen = paper_named(state, typed("name")) if typed("name") in {each.name for each in held} else None
    return page(
        "papers.html",
        refused=refused,
        papers=held,
        kinds=list(KINDS.items()),
        states=STATES,
        chosen=chosen,
        now=context.day,
    )
