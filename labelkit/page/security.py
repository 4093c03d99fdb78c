"""What keeps the page to its owner: address, origin, form tokens, and what the browser is told to forbid.

The measures are those of the OWASP cheat sheets on cross-site request forgery, DNS rebinding and content security
policy: the Host is one of ours, a form comes from our own origin and carries the token of its session, and the browser
may load, run and frame nothing but our own files.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Container

from flask import Response, g, request, session

from labelkit.errors.page import AddressNotOurs, FormFromElsewhere

LARGEST_UPLOAD = 2 * 1024 * 1024
LARGEST_COPY = 200 * 1024 * 1024  # a record that is brought back; some million jars

_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
# A drawing carries its own style sheet; it may run nothing and reach nothing.
DRAWING_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "Cache-Control": "no-store",
}


def check_request(hosts: Container[str], ours: str) -> None:
    """Refuse what does not come from this page itself; ``ours`` is where it is.

    Raises the refusals of :mod:`labelkit.errors.page`.
    """
    host = request.headers.get("Host", "")
    if host not in hosts:
        raise AddressNotOurs(host[:80], ours)
    if request.method in ("GET", "HEAD"):
        return
    origin = request.headers.get("Origin")
    if origin is not None and origin != f"http://{host}":
        raise FormFromElsewhere(f"it comes from {origin[:80]}")
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        raise FormFromElsewhere("the browser says another site sent it")
    if not hmac.compare_digest(request.form.get("token", "").encode(), session.get("token", "").encode() or b"\x00"):
        raise FormFromElsewhere("its token is not one this page gave out since it was started")


def token() -> str:
    """The session's form token, made when first asked for."""
    if "token" not in session:
        session["token"] = secrets.token_urlsafe(24)
    return session["token"]


def step_key() -> str:
    """A name for the step a form books, so that sending it twice books it once."""
    return f"page-{secrets.token_urlsafe(12)}"


def add_headers(response: Response) -> Response:
    """What every answer carries; an answer's own policy or caching stays as it set it. One page may ask for the camera."""
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.endpoint == "trace.form":
        response.headers["Permissions-Policy"] = response.headers["Permissions-Policy"].replace(
            "camera=()", "camera=(self)"
        )
    response.headers.pop("Server", None)
    if getattr(g, "keep", False):
        response.headers["Cache-Control"] = "public, max-age=31536000, immutable"
    return response
