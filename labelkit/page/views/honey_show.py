"""A honey show: the classes of its schedule typed or from a table, which lots may enter, and the list of entries."""

from __future__ import annotations

from flask import Blueprint, Response, redirect, request

from labelkit.errors import LabelkitError
from labelkit.page import request_context
from labelkit.page.forms import day, paper, typed, value
from labelkit.page.language import later, of_papers
from labelkit.page.view import href, page
from labelkit.reading.open_table import lines_in
from labelkit.reading.schedule import COLUMNS, read_schedule
from labelkit.reading.tables import csv_table
from labelkit.season.honey_show import ShowAsked, ShowEntries, entry_list_pdf, honey_show
from labelkit.season.papers import paper_size

view = Blueprint("honey_show", __name__)

HEADING = ";".join(COLUMNS)


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/honey-show")
def show() -> str:
    """The schedule as it was typed, and what it says of the lots on the shelf."""
    found, refused = None, None
    try:
        found = _found() if typed("rows") else None
    except LabelkitError as refusal:
        refused = refusal
    return _page(found, refused)


@view.post("/honey-show")
def table():
    """The classes of a file, as the lines they would have been typed in."""
    upload = request.files.get("file")
    try:
        content = upload.read() if upload else b""
        rows = (
            lines_in(content, upload.filename or "schedule.csv", request_context.context().locale).text
            if content
            else ""
        )
    except LabelkitError as refusal:
        return _page(None, refusal), 422
    return redirect(_address("", rows=rows.strip() or typed("rows")), 303)


@view.get("/honey-show/entries.pdf")
def entries() -> Response:
    """The list of entries to hand in."""
    words, locale = of_papers()
    return paper(entry_list_pdf(_found(), paper_size(request_context.season()), words, locale), "entries.pdf")


def _page(found: ShowEntries | None, refused: LabelkitError | None) -> str:
    sizes = [name for name, price in request_context.season().prices.items() if not price.piece_of]
    no_jars = later("no jars of this size in stock")
    pdf = _address("/entries.pdf")
    return page("honey_show.html", found=found, refused=refused, heading=HEADING, sizes=sizes, no_jars=no_jars, pdf=pdf)


def _address(under: str, rows: str = "") -> str:
    return href(f"/honey-show{under}", name=typed("name"), on=typed("on"), rows=rows or typed("rows"))


def _found() -> ShowEntries:
    context = request_context.context()
    classes = read_schedule(csv_table(typed("rows"), "schedule.csv"), context.locale)
    with context.reading() as state:
        return honey_show(state, ShowAsked(typed("name"), value("on", day), classes))
