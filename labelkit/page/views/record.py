"""The record: what was booked, verifying, sealing, copying."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.page import recent_events, request_context
from labelkit.page.forms import paper, typed
from labelkit.page.language import later
from labelkit.page.view import page
from labelkit.page.views.work import STATES, begun
from labelkit.page.worker import Outcome
from labelkit.record.chain import read_seal, seal_of
from labelkit.record.verify import Verdict
from labelkit.record.verify import verify as verify_whole
from labelkit.season import SeasonContext
from labelkit.season.progress import progress
from labelkit.trace.papers import seal_paper

view = Blueprint("record", __name__)

A_PAGE = 60
AT_ONCE = 5_000  # events verified while one waits: about a second


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/record")
def record() -> str:
    """Everything booked, newest first."""
    return _record()


@view.post("/record/verify")
def verify():
    """Check every event, against a seal too where one was typed in."""
    context = request_context.context()
    try:
        with context.season(to_read=True) as season, season.record.as_it_is() as state:
            long = state.head().seq > AT_ONCE
        if long:
            return begun(later("Verify the record"), verify_record, typed("seal"))
        verdict = _verdict(context, typed("seal"))
    except LabelkitError as refusal:
        return _record(refusal), 422
    return _record(verdict=verdict, sealed=bool(typed("seal")))


def verify_record(context: SeasonContext, folder: Path, seal: str) -> Outcome:
    """The job: check every event of a long record."""
    verdict = _verdict(context, seal)
    if verdict.clean:
        return Outcome(f"{verdict.events} events, each as it was booked.")
    return Outcome("\n".join(fault.found for fault in verdict.faults), clean=False)


def _verdict(context: SeasonContext, seal: str) -> Verdict:
    sealed = read_seal(seal) if seal else None
    with context.season(to_read=True) as season:
        return verify_whole(season.record, sealed, progress)


@view.get("/record/seal.pdf")
def seal_pdf() -> Response:
    """The seal on a sheet to sign and file."""
    with request_context.context().reading() as state:
        head, where = state.head(), state.where
    booked_at = f"{head.at:%Y-%m-%d %H:%M %z}" if head.at else ""
    return paper(seal_paper(where, head.seq, head.hash, str(seal_of(head.seq, head.hash)), booked_at), "seal.pdf")


def _record(refused: LabelkitError | None = None, verdict: Verdict | None = None, sealed: bool = False) -> str:
    context = request_context.context()
    before = int(typed("before")) if typed("before").isdigit() and len(typed("before")) < 12 else None
    with context.reading() as state:
        steps = recent_events.steps(state, context.locale, A_PAGE, before)
        head = state.head()
    whole, seal = head.seq, str(seal_of(head.seq, head.hash)) if head.seq else ""
    return page(
        "record.html",
        refused=refused,
        verdict=verdict,
        sealed=sealed,
        last_steps=steps,
        whole=whole,
        seal=seal,
        where=context.shown,
        older=steps[-1].seq if steps and steps[-1].seq > 1 else None,
        on_file="://" not in context.where,
        works=request_context.station().jobs.of(context.record or ""),
        work_states=STATES,
    )
