"""Style, script, icon and typefaces: all from this machine."""

from __future__ import annotations

import gzip
import hashlib
from functools import lru_cache

from flask import Blueprint, Response, g, request

from labelkit.errors.page import NoSuchPage
from labelkit.shipped import template_text

view = Blueprint("files", __name__)

FACES = ("sans-Regular", "sans-Semibold", "serif-Semibold", "narrow-Medium")
_FILES = {"page.css": "text/css", "page.js": "text/javascript", "icon.svg": "image/svg+xml"}


@lru_cache(maxsize=1)
def version() -> str:
    """A name for the files as they are now, so that a browser may keep them until they change."""
    whole = "".join(template_text(f"page/{name}") for name in _FILES)
    return hashlib.sha256(whole.encode()).hexdigest()[:10]


@view.get("/file/<kept>/<name>")
def file(kept: str, name: str) -> Response:
    """One of our few files; ``kept`` is the version in its address."""
    if name not in _FILES:
        raise NoSuchPage(f"/file/{name[:60]}")
    g.keep = kept == version()
    answer = Response(template_text(f"page/{name}"), mimetype=_FILES[name])
    if "gzip" in request.accept_encodings:
        answer = Response(_packed(name), mimetype=_FILES[name], headers={"Content-Encoding": "gzip"})
    answer.vary.add("Accept-Encoding")
    return answer


@lru_cache(maxsize=8)
def _packed(name: str) -> bytes:
    return gzip.compress(template_text(f"page/{name}").encode(), mtime=0)


@view.get("/face/<key>-<part>.woff2")
def face(key: str, part: str) -> Response:
    """The letters of one part of a typeface, from the package the labels are set with."""
    from labelkit.paper.web_fonts import PARTS, web_font

    if key not in FACES or part not in PARTS:
        raise NoSuchPage(f"/face/{key[:60]}")
    g.keep = True
    return Response(web_font(key, part), mimetype="font/woff2")


@view.get("/favicon.ico")
def icon() -> Response:
    """What browsers ask for unasked."""
    return Response(template_text("page/icon.svg"), mimetype="image/svg+xml")
