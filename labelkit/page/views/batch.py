"""The batch sheet with wet hands: one question at a time, each saved or skipped; and the inspector's folder."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import recent_events, request_context
from labelkit.page.forms import (
    booked,
    count,
    day,
    paper,
    percent,
    scale,
    scale_unit,
    step_key,
    temperature,
    typed,
    value,
)
from labelkit.page.language import chosen, later, of_papers, say
from labelkit.page.view import href, page, weight_unit
from labelkit.page.views.filling import on_scale
from labelkit.run.batch_sheet import LINES, STRAINER_STATES, BatchLine, Breakage
from labelkit.season.batch import SheetEntry, batch, batch_sheet
from labelkit.season.batch_paper import batch_sheet_pdf
from labelkit.season.inspection import InspectionAsked, inspection
from labelkit.season.inspection_papers import inspection_papers
from labelkit.season.papers import paper_size
from labelkit.shipped.catalogues import wording

if TYPE_CHECKING:
    from labelkit.season.batch import LineBooked

view = Blueprint("batch", __name__)


@dataclass(frozen=True, slots=True)
class Kind:
    """How a line of the sheet is asked: which fields it has, and how they are read."""

    fields: str
    read: Callable[[str], SheetEntry]


def _warmth(line: str) -> SheetEntry:
    return SheetEntry(line, read=value("read", temperature), against=value("against", temperature))


def _weighed(line: str) -> SheetEntry:
    read, against = value("read", on_scale), value("against", on_scale)
    return SheetEntry(line, read=read and read.g, against=against and against.g)


def _refracted(line: str) -> SheetEntry:
    return SheetEntry(line, "", value("read", percent), value("against", percent), typed("instrument"))


def _looked_at(line: str) -> SheetEntry:
    return SheetEntry(line, looked_at=value("looked_at", count), rejected=value("rejected", count))


def _broken(line: str) -> SheetEntry:
    broken = Breakage(typed("size"), value("broken", count) or 0, value("beside", count) or 0)
    return SheetEntry(line, broken=(broken,))


_KINDS = {
    "scale": Kind("scale", _weighed),
    "ice": Kind("warmth", _warmth),
    "boiling": Kind("boiling", _warmth),
    "refractometer": Kind("refractometer", _refracted),
    "jars": Kind("jars", _looked_at),
    "honey": Kind("warmth", _warmth),
    "air": Kind("warmth", _warmth),
    "breakage": Kind("breakage", _broken),
    "strainer-before": Kind("strainer", lambda line: SheetEntry(line, typed("words"))),
    "strainer-after": Kind("strainer", lambda line: SheetEntry(line, typed("words"))),
    "hands": Kind("yes", SheetEntry),
    "signed": Kind("yes", SheetEntry),
    "sample": Kind("day", lambda line: SheetEntry(line, until=value("until", day))),
}
_WORDS = Kind("words", lambda line: SheetEntry(line, typed("words")))
_ORDER = tuple(LINES)


@view.before_request
def _begun():
    return None if request_context.has_record() else redirect("/start", 303)


@view.get("/batch")
def sheet() -> str:
    """What stands on today's sheet, and where to go on."""
    return _sheet("")


@view.get("/batch/<line>")
def ask(line: str) -> str:
    """One question of the sheet."""
    return _sheet(_known(line))


@view.post("/batch/<line>")
def answered(line: str):
    """Save one line, and go on to the next question."""
    _known(line)
    return booked(
        lambda: _booked(line),
        lambda refused: _sheet(line, refused),
        lambda _: _next(line),
        lambda done: say("Booked: {what}", what=done.line.describe(request_context.context().locale)),
    )


@view.get("/batch/sheet.pdf")
def sheet_pdf() -> Response:
    """The sheet on paper, with blanks for what is not entered."""
    context, lots = request_context.context(), _lots()
    with context.reading() as state:
        lines: list[BatchLine] = [each.event for each in batch_sheet(state, context.day, lots)]
    season = request_context.season()
    words, locale = of_papers()
    return paper(batch_sheet_pdf(context.day, lots, lines, paper_size(season), words, locale), "batch-sheet.pdf")


@view.get("/inspection/<int:number>.pdf")
def inspected(number: int) -> Response:
    """One paper of the inspector's folder of this year."""
    context = request_context.context()
    words, locale = of_papers()
    since, until = value("since", day) or date(context.day.year, 1, 1), value("until", day) or context.day
    with context.reading() as state:
        found = inspection(state, InspectionAsked(since, until, typed("lot")), locale)
    papers = inspection_papers(found, paper_size(request_context.season()), locale, words)
    for name, content in papers.items():
        if name.startswith(f"{number}-"):
            return paper(content, name)
    raise NoSuchPage(f"/inspection/{number}.pdf")


def _known(line: str) -> str:
    if line not in LINES:
        raise NoSuchPage(f"/batch/{line[:60]}")
    return line


def _lots() -> tuple[str, ...]:
    return (typed("of"),) if typed("of") else ()


def _next(line: str) -> str:
    """The address of the next question; of the whole sheet after the last."""
    at = _ORDER.index(line) + 1
    return href(f"/batch/{_ORDER[at]}" if at < len(_ORDER) else "/batch", of=typed("of"))


def _booked(line: str) -> LineBooked:
    context = request_context.context()
    entry = replace(_KINDS.get(line, _WORDS).read(line), because=typed("because"))
    with context.work(step_key()) as work:
        return batch(work, _lots(), [entry], context.day, context.locale)[0]


def _sheet(line: str, refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        lines = batch_sheet(state, context.day, _lots())
        runs = [each.event.lot for each in state.latest(("run",), since=context.day) if each.stands]
        choices = [*(state.call(bucket.id) for bucket in state.buckets(full=True)), *runs]
        ever = any(each.stands for each in state.latest(("run",)))
        undo = recent_events.undoable(state, context.locale)
    words = wording("labelkit", chosen())
    return page(
        "batch.html",
        refused=refused,
        line=line,
        questions=LINES,
        place=_ORDER.index(line) + 1 if line else 0,
        fields=_KINDS.get(line, _WORDS).fields if line else "",
        skip=_next(line) if line else "",
        first_line=_ORDER[0],
        sheet=[(LINES[each.event.line][1], each.event.says(context.locale, words), each.event) for each in lines],
        choices=[(each, each) for each in dict.fromkeys(choices)],
        of=typed("of"),
        sizes=[(size, size) for size in request_context.season().prices],
        states=STRAINER_STATES,
        degrees="°C" if weight_unit() == "kg" else "°F",
        small=scale_unit(scale()),
        ever=ever,
        undo=undo,
        papers=PAPERS,
    )


PAPERS = (
    (1, later("Hazard plan")),
    (2, later("Batch sheets and runs")),
    (3, later("Calibration log")),
    (4, later("Glass breakage")),
    (5, later("Cleaning and pests")),
    (6, later("Trace of the last lot")),
)
