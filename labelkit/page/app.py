"""The application: its rooms, its guards, and how it says no."""

from __future__ import annotations

import logging
import secrets

from flask import Flask, g, redirect, request, session
from werkzeug.exceptions import HTTPException, MethodNotAllowed, NotFound, RequestEntityTooLarge

from labelkit.errors import LabelkitError, RecordRefused
from labelkit.errors.cli import InternalError
from labelkit.errors.page import (
    AddressNotOurs,
    FormFromElsewhere,
    NoSuchPage,
    NotOfThisNetwork,
    SessionOver,
    TooManyJobs,
    UploadTooLarge,
)
from labelkit.page import request_context, security
from labelkit.page.request_context import Station
from labelkit.page.view import refused_page
from labelkit.page.views import every_view

LOG = logging.getLogger("labelkit.page")
_OPEN_WITHOUT_RECORD = ("start.", "files.", "record.", "login.", "copies.")
_OPEN_TO_DAMAGE = ("copies.", "files.")  # where a copy is brought back
_OPEN_TO_STRANGERS = ("files.", "login.enter", "start.language")
_STATUS = {
    AddressNotOurs: 421,
    FormFromElsewhere: 403,
    NoSuchPage: 404,
    UploadTooLarge: 413,
    TooManyJobs: 429,
    SessionOver: 401,
    NotOfThisNetwork: 403,
}


def make_app(station: Station) -> Flask:
    """The page as a WSGI application for one station."""
    app = Flask("labelkit", static_folder=None, template_folder=None)
    app.config.update(
        SECRET_KEY=secrets.token_bytes(32),  # a new one each time: a form handed out before is not taken after
        SESSION_COOKIE_NAME=f"labelkit-{station.port}",  # a browser sends one host's cookies to all its ports
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Strict",
        MAX_CONTENT_LENGTH=security.LARGEST_UPLOAD,
        MAX_FORM_MEMORY_SIZE=security.LARGEST_UPLOAD,
        MAX_FORM_PARTS=2_000,
    )
    app.extensions[request_context.KEY] = station
    app.before_request(_guard)
    app.after_request(security.add_headers)
    app.register_error_handler(LabelkitError, _refuse)
    app.register_error_handler(HTTPException, _refuse_plain)
    app.register_error_handler(Exception, _trouble)
    for view in every_view():
        app.register_blueprint(view)
    return app


def _guard():
    at = request_context.station()
    if request.endpoint == "copies.bring":
        request.max_content_length = security.LARGEST_COPY
    security.check_request(at.hosts, at.address)
    if at.lan:
        at.lan.check_visitor(request.remote_addr)
        if not (request.endpoint or "").startswith(_OPEN_TO_STRANGERS) and not at.lan.gate.holds(
            session.get("entered")
        ):
            if request.headers.get("Sec-Fetch-Dest", "document") != "document":
                raise SessionOver()
            return redirect("/enter", 303)
    # A page that is not there and a fault keep the way back to the others.
    try:
        g.may_see = request_context.has_record()
    except RecordRefused:
        if not (request.endpoint or "").startswith(_OPEN_TO_DAMAGE):
            raise
        return None
    if request.endpoint and not request.endpoint.startswith(_OPEN_WITHOUT_RECORD) and not g.may_see:
        return redirect("/start", 303)
    return None


def _refuse(refusal: LabelkitError):
    status = _STATUS.get(type(refusal), 409 if isinstance(refusal, RecordRefused) else 422)
    return refused_page(refusal), status


def _refuse_plain(answer: HTTPException):
    if isinstance(answer, RequestEntityTooLarge):
        return _refuse(UploadTooLarge(security.LARGEST_UPLOAD // 1024))
    if isinstance(answer, NotFound | MethodNotAllowed):
        return refused_page(NoSuchPage(request.path[:120])), answer.code
    if answer.code and answer.code < 400:
        return answer
    return refused_page(FormFromElsewhere("it could not be read")), answer.code or 400


def _trouble(trouble: Exception):
    LOG.error("a fault in the page at %s", request.path, exc_info=trouble)
    return refused_page(InternalError(trouble)), 500
