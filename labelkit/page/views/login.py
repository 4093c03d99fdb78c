"""Coming in over the local network: the passphrase, leaving again, and the address to open on a telephone."""

from __future__ import annotations

from flask import Blueprint, Response, redirect, request, session

from labelkit.errors.page import NoSuchPage, PassphraseWrong, TooManyTries
from labelkit.page import request_context, security
from labelkit.page.view import bare_page, page

view = Blueprint("login", __name__)


@view.get("/enter")
def enter():
    """The question for the passphrase; it says nothing of the record."""
    lan = _lan("/enter")
    return redirect("/", 303) if lan.gate.holds(session.get("entered")) else _asked()


@view.post("/enter", endpoint="entered")
def entered():
    """Let in whoever knows it, under a session of their own."""
    lan = _lan("/enter")
    try:
        key = lan.gate.enter(request.form.get("passphrase", ""), request.remote_addr or "")
    except PassphraseWrong as wrong:
        return _asked(wrong), 403
    except TooManyTries as wait:
        return _asked(wait), 429, {"Retry-After": str(wait.seconds)}
    language = session.get("language")
    session.clear()  # nothing a stranger was given holds inside
    session["entered"] = key
    if language:
        session["language"] = language
    return redirect("/", 303)


@view.post("/leave")
def leave():
    """End this visit."""
    _lan("/leave").gate.leave(session.get("entered"))
    session.clear()
    return redirect("/enter", 303)


@view.get("/telephone")
def telephone() -> str:
    """The address and its code, to open the page on a telephone."""
    _lan("/telephone")
    return page("telephone.html")


@view.get("/telephone/code.svg")
def code() -> Response:
    """The address as a QR Code."""
    from labelkit.barcodes.matrix import qr

    made = qr(_lan("/telephone").address)
    whole = made.wide + 2 * made.quiet
    dark = "".join(
        f"M{x + made.quiet} {y + made.quiet}h1v1h-1z"
        for y, row in enumerate(made.rows)
        for x, on in enumerate(row)
        if on
    )
    drawn = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {whole} {whole}" shape-rendering="crispEdges">'
        f'<rect width="{whole}" height="{whole}" fill="#fff"/><path d="{dark}" fill="#000"/></svg>'
    )
    return Response(drawn, mimetype="image/svg+xml", headers={"Content-Security-Policy": security.DRAWING_POLICY})


def _asked(refused=None) -> str:
    return bare_page("enter.html", refused=refused, token=security.token(), here_again="/enter")


def _lan(path: str):
    lan = request_context.station().lan
    if lan is None:
        raise NoSuchPage(path)
    return lan
