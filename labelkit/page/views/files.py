"""Style, script, icon and typefaces: all from this machine."""

from __future__ import annotations

import hashlib
from functools import lru_cache

from flask import Blueprint, Response, g

from labelkit.errors.page import NoSuchPage
from labelkit.shipped import template_text

view = Blueprint("files", __name__)

FACES = ("sans-Regular", "sans-Semibold", "sans-It", "serif-Semibold", "narrow-Medium")
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
    return Response(template_text(f"page/{name}"), mimetype=_FILES[name])


@view.get("/face/<key>.ttf")
def face(key: str) -> Response:
    """A typeface, from the package the labels are set with."""
    from labelkit.paper.fonts import face as face_named

    if key not in FACES:
        raise NoSuchPage(f"/face/{key[:60]}")
    g.keep = True
    return Response(face_named(key).data, mimetype="font/ttf")


@view.get("/favicon.ico")
def icon() -> Response:
    """What browsers ask for unasked."""
    return Response(template_text("page/icon.svg"), mimetype="image/svg+xml")
