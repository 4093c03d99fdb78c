"""The record: what was booked, undoing the last step, verifying, sealing, copying."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.page import recent_events, request_context
from labelkit.page.language import later, say, say_count
from labelkit.page.verbs import booked, do, line_task, once, option, typed
from labelkit.page.view import own_path, page
from labelkit.page.views.work import STATES, begun

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


@view.post("/undo")
def undo():
    """Strike one event; both it and the correction stay visible."""
    event, because = typed("event"), typed("because") or "undone on the page right after it was booked"
    return booked(
        lambda: do("record", "correct", *option("because", because), *once(), "--", event or "0"),
        _record,
        lambda _: own_path(typed("back"), "/record"),
        lambda answer: say("Taken back: event {n} is struck. Both stay in the record.", n=answer.document["corrects"]),
    )


@view.post("/record/verify")
def verify():
    """Check every event, against a seal too where one was typed in."""
    line = ("record", "verify", *option("seal", typed("seal")))
    try:
        with request_context.context().reading() as state:
            long = state.head().seq > AT_ONCE
        if long:
            return begun(later("Verify the record"), line_task, list(line))
        answer = do(*line)
    except LabelkitError as refusal:
        return _record(refusal), 422
    return _record(verdict=answer.document)


@view.post("/record/copy")
def copy():
    """Copy the record beside itself, verified."""
    folder = _copies()
    folder.mkdir(exist_ok=True)
    return booked(
        lambda: do("record", "copy", f"--to={folder}", "--keep=20"),
        _record,
        lambda _: "/record",
        lambda answer: say_count(
            "{copy}: {n} event, written and verified.",
            "{copy}: {n} events, written and verified.",
            answer.document["events"],
            copy=answer.document["copy"],
        ),
    )


@view.get("/record/seal.pdf")
def seal_paper() -> Response:
    """The seal on a sheet to sign and file."""
    import tempfile

    with tempfile.TemporaryDirectory(prefix="labelkit-") as folder:
        made = Path(folder) / "seal.pdf"
        do("record", "seal", f"--pdf={made}")
        content = made.read_bytes()
    return Response(content, mimetype="application/pdf", headers={"Content-Disposition": 'inline; filename="seal.pdf"'})


def _copies() -> Path:
    """Copies go beside the record; the browser names no folder."""
    return Path(request_context.context().record.removeprefix("sqlite:///")).parent / "copies"


def _record(refused: LabelkitError | None = None, verdict: dict | None = None) -> str:
    context = request_context.context()
    before = int(typed("before")) if typed("before").isdigit() and len(typed("before")) < 12 else None
    with context.reading() as state:
        steps = recent_events.steps(state, context.locale, A_PAGE, before)
        whole = state.head().seq
    seal = do("record", "seal").document["seal"] if whole else ""
    return page(
        "record.html",
        refused=refused,
        verdict=verdict,
        last_steps=steps,
        whole=whole,
        seal=seal,
        where=context.record,
        older=steps[-1].seq if steps and steps[-1].seq > 1 else None,
        on_file="://" not in context.record,
        works=request_context.station().jobs.of(context.record or ""),
        work_states=STATES,
    )
