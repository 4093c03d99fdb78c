"""Long work: how far it is, stopping it, and fetching what it made; a closed tab loses nothing of it."""

from __future__ import annotations

from dataclasses import replace

from flask import Blueprint, Response, redirect, request, session

from labelkit.errors.page import NoSuchPage
from labelkit.page import jobs, request_context, security
from labelkit.page.forms import step_key
from labelkit.page.jobs import Job
from labelkit.page.language import later, say
from labelkit.page.view import page
from labelkit.page.worker import Task

view = Blueprint("work", __name__)

STATES = {
    jobs.WAITING: later("waits for the work before it"),
    jobs.RUNNING: later("under way"),
    jobs.DONE: later("done"),
    jobs.REFUSED: later("not done"),
    jobs.STOPPED: later("stopped; nothing was booked"),
}
PATIENCE = 20  # times the usual search
_KINDS = {".pdf": "application/pdf", ".png": "image/png", ".svg": "image/svg+xml"}


@view.get("/job/<id>")
def work(id: str) -> str:
    """One piece of work; the page asks again by itself until it is over."""
    return page("work.html", job=_job(id), states=STATES)


@view.post("/job/plan")
def plan():
    """The plan of these limits, searched for longer than anybody waits for a page."""
    from labelkit.page.views.plan import plan_longer
    from labelkit.page.wishes import planning

    longer = replace(planning(), patience=PATIENCE)
    return begun(later("Plan the jars"), plan_longer, longer, key=step_key() or "")


@view.get("/job/<id>/look")
def look(id: str) -> str:
    """Only how far it is."""
    return page("work_look.html", job=_job(id), states=STATES)


@view.post("/job/<id>/stop")
def stop(id: str):
    """Stop it; nothing half done is kept."""
    job = _job(id)
    request_context.station().jobs.stop(job)
    return redirect(f"/job/{job.id}", 303)


@view.post("/job/<id>/away")
def throw_away(id: str):
    """Forget it, with what it made."""
    request_context.station().jobs.throw_away(_job(id))
    session["said"] = say("It is thrown away; what was booked stays booked.")
    return redirect("/record", 303)


@view.get("/job/<id>/<name>")
def fetch(id: str, name: str) -> Response:
    """One of the files it made, under the name it gave it."""
    found = next((file for file in _job(id).files if file.name == name), None)
    if found is None:
        raise NoSuchPage(request.path[:120])
    kind = _KINDS.get(found.suffix, "application/octet-stream")
    way = "inline" if kind == "application/pdf" else "attachment"
    told = {"Content-Disposition": f'{way}; filename="{found.name}"'}
    if found.suffix == ".svg":
        told["Content-Security-Policy"] = security.DRAWING_POLICY
    return Response(found.read_bytes(), mimetype=kind, headers=told)


def begun(what: str, task: Task, details=None, **more):
    """Begin a job on this request's record, and go to its page."""
    job = request_context.station().jobs.begin(request_context.context(), what, task, details, **more)
    return redirect(f"/job/{job.id}", 303)


def _job(id: str) -> Job:
    job = request_context.station().jobs.find(id, request_context.context().record or "")
    if job is None:
        raise NoSuchPage(f"/job/{id[:40]}")
    return job
