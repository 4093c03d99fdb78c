"""Labels: words and look on one screen, the true print beside them, what the law finds, and printing them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, redirect

from labelkit.errors import LabelkitError
from labelkit.labels.design import designs
from labelkit.labels.label_set import said_on
from labelkit.labels.printed import Printed
from labelkit.labels.sheets import sheets
from labelkit.page import recent_events, request_context
from labelkit.page.findings import on_desk, spots, told, unruled
from labelkit.page.forms import booked, step_key, typed
from labelkit.page.label_choice import (
    Choice,
    choice,
    drawn,
    keep_said,
    query,
    shown_sides,
    wanted,
    whole,
    words_mark,
    words_of,
)
from labelkit.page.language import later, say, say_count
from labelkit.page.sheet_drawing import sheet_drawing
from labelkit.page.view import href, page
from labelkit.page.views.work import begun
from labelkit.page.worker import Outcome
from labelkit.rules import market
from labelkit.rules.address import address_lines
from labelkit.season import SeasonContext
from labelkit.season.ink_use import ink_use
from labelkit.season.kept_look import LOOKS
from labelkit.season.kept_plan import planned_ahead, still_planned
from labelkit.season.label import DrawnLabels, book_labels, draw_labels, picture_of
from labelkit.season.label_desk import Saying, borne_words
from labelkit.season.label_paper import kept, sheet_named
from labelkit.season.unmet import Unmet, against_buckets, against_jars, refuse

if TYPE_CHECKING:
    from labelkit.labels.sheets import Sheet
    from labelkit.record.reading import Reading

view = Blueprint("labels", __name__)

PREVIEW_DPI, SMALL_DPI = 200, 72


@view.get("/labels")
def labels() -> str:
    """Choose, say, look, print."""
    return _labels()


@view.post("/labels")
def looked_at() -> str:
    """The same with what was typed, where no script shows it at once; nothing is kept."""
    return _labels()


@view.get("/labels/look")
def look() -> str:
    """Only the print, and what changes with it: the findings at their fields, the sheet, the button."""
    return page("labels_look.html", live=True, **_desk(choice()))


@view.get("/labels/one.png")
def one() -> Response:
    """The label as it will print, cut from the true page."""
    return Response(picture_of(drawn(choice()), PREVIEW_DPI), mimetype="image/png")


@view.get("/labels/design.png")
def design() -> Response:
    """The label in a design, small, with the words as they are kept; the record's head is in its address."""
    asked = replace(choice(), design=typed("design"), look="", count=1, skip=frozenset())
    context = request_context.context()
    with context.reading() as state:
        head = state.head().hash
    answer = Response(_small(context.record, head, context.locale, asked), mimetype="image/png")
    answer.headers["Cache-Control"] = "private, max-age=600"
    return answer


@lru_cache(maxsize=64)
def _small(record: str | None, head: str, locale: str, asked: Choice) -> bytes:
    try:
        return picture_of(drawn(asked), SMALL_DPI)
    except LabelkitError:  # nothing is said of the honey or its jar yet: a usual jar shows what the design is like
        jar = (("diameter", "3 in"), ("height", "3.2 in"))
        return picture_of(drawn(replace(asked, said=Saying((("name", say("Honey")),), jar=jar))), SMALL_DPI)


@view.get("/labels/labels.pdf")
def pdf() -> Response:
    """The file to print; nothing is booked by looking at it, and what may not be printed yet is marked as a proof."""
    asked = choice()
    made = drawn(asked)
    if made.stopped or not _may_go(asked):
        made = drawn(replace(asked, proof=True))
    return Response(
        made.drawn[0].printed.pdf,
        mimetype="application/pdf",
        headers={"Content-Disposition": 'inline; filename="labels.pdf"'},
    )


@view.post("/labels/print")
def printed():
    """Book the print with the words it says, and open the file."""
    return booked(
        lambda: _printed(replace(choice(), spoiled=whole("spoiled") or 0)),
        _labels,
        lambda _: href("/labels/labels.pdf", **query(words=False)),
        lambda done: say_count(
            "{n} label for lot {lot} is booked.",
            "{n} labels for lot {lot} are booked.",
            done.drawn[0].printed.labels,
            lot=done.lots[0][0],
        ),
    )


def _may_go(asked: Choice) -> bool:
    """Whether nothing stands against these jars getting their labels, or somebody said why they may."""
    context = request_context.context()
    with context.reading() as state:
        found = _against(state, asked, context.day)
    try:
        refuse(found, asked.because)
    except LabelkitError:
        return False
    return True


def _against(state: Reading, asked: Choice, day: date) -> tuple[Unmet, ...]:
    """What stands against these jars, or against the bucket they will be filled from, getting their labels."""
    if asked.bucket:
        return tuple(against_buckets(state, [state.bucket(state.fill(asked.bucket))], day))
    return tuple(against_jars(state, {(asked.lot, asked.size): 1}, day, printing=True))


def _planned(state: Reading, day: date) -> tuple[tuple[str, str, int], ...]:
    """What the kept plan still fills; nothing where it cannot be planned any more, which the plan's page says."""
    try:
        return planned_ahead(state, day)
    except LabelkitError:
        return ()


def _printed(asked: Choice) -> DrawnLabels:
    context = request_context.context()
    made = drawn(asked, so_far=False)
    with context.work(step_key()) as work:
        keep_said(work, asked, context.day)
        book_labels(work, made, context.day)
    return made


@view.post("/labels/every-lot")
def every_lot():
    """Labels of all lots of one size in one file, as long work; each lot's print is booked."""
    try:
        return begun(later("Labels of every lot"), every_lot_task, (choice(), step_key()), key=step_key() or "")
    except LabelkitError as refusal:
        return _labels(refusal), 422


def every_lot_task(context: SeasonContext, folder: Path, details: tuple[Choice, str | None]) -> Outcome:
    """Draw the labels of every lot of a size into the folder, and book them where nothing must be fixed first."""
    asked, key = details
    with context.rehearsal() as work:
        said = keep_said(work, asked, context.day)
        made = draw_labels(
            work, wanted(work, said, context.day, context.locale, every=True), context.day, context.locale
        )
    if not made.stopped:
        with context.work(key) as work:
            keep_said(work, asked, context.day)
            book_labels(work, made, context.day)
            (folder / "labels.pdf").write_bytes(made.drawn[0].printed.pdf)
    return Outcome(
        "\n".join((*(f"{lot}: {count}" for lot, count in made.lots), *made.set.notes, *made.stops)),
        not made.stopped,
    )


@view.get("/labels/done")
def done():
    """The file that was booked, to open as often as need be; back to the label where nothing was booked after it."""
    with request_context.context().reading() as state:
        undo = recent_events.undoable(state, request_context.context().locale)
        prints = [each.event for each in state.events((Printed.kind,), after=whole("after") or 0) if each.stands]
    if not prints:
        return redirect(href("/labels", **query()), 303)
    # The page that waited may have been asked for before the look was changed: what was booked says how it looks.
    asked = query() | {"sheet": prints[-1].sheet, "design": prints[-1].design, "kind": prints[-1].label}
    return page("labels_done.html", pdf=href("/labels/labels.pdf", **asked), again=href("/labels", **asked), undo=undo)


def _look(asked: Choice) -> dict[str, Any]:
    """The look at what is chosen; the refusal where it cannot be."""
    answered = dict(asked.said.facts) if asked.said else {}
    try:
        made = drawn(asked)
    except LabelkitError as refusal:
        nothing = {"drawn": None, "unable": refusal, "words": None, "untrue": ()}
        return on_desk(told(_checked(asked)), [], answered) | nothing
    first, findings = made.drawn[0], told(made.findings)
    placed = first.printed.placed[0]
    return on_desk(findings, unruled(findings, made.stops), answered) | {
        "drawn": first,
        "made_in": made.asked.look,
        "words": made.asked.words,
        "unable": None,
        "placed": placed,
        "query": query(),
        "untrue": made.untrue,
        "spots": spots(findings, placed),
        "rows": first.printed.rows,
        "says": said_on(placed),
        "notes": (*first.printed.notes, *first.made.asked.notes, *made.set.notes),
    }


def _checked(asked: Choice):
    """What the rules say of a label that cannot be drawn as it is; nothing where that is refused too."""
    from labelkit.labels.case import label_case

    context = request_context.context()
    try:
        with context.rehearsal() as work:
            chosen = keep_said(work, asked, context.day)
            found = words_of(work, context.day, asked.lots, asked.size, asked.product, chosen.new_words)
        label = replace(found.label, lot=asked.lot) if asked.lot else found.label
        return label_case(label, [market(name, context.day) for name in label.markets], context.locale).checked.findings
    except LabelkitError:
        return ()


def _desk(asked: Choice) -> dict[str, Any]:
    """The print, its findings by field, the questions they ask, the sheet, and what stands against printing."""
    context = request_context.context()
    with context.reading() as state:
        unmet = _against(state, asked, context.day)
        paper = _paper(state, asked.sheet)
    shown = _look(asked)
    return shown | {
        "choice": asked,
        "paper": paper,
        "sheet": sheet_drawing(paper) if paper and paper.count > 1 else None,
        "used": asked.skip,
        "unmet": unmet,
        "changed": bool(shown["words"] and shown["words"].changed),
        "whole": not asked.said or dict(asked.said.texts).get("name") != "",
    }


def _paper(state: Reading, name: str) -> Sheet | None:
    try:
        return sheet_named(state, name)
    except LabelkitError:
        return None


def _labels(refused: LabelkitError | None = None) -> str:
    from labelkit.lots.movement import Account

    context, season = request_context.context(), request_context.season()
    asked = choice()
    with context.reading() as state:
        stock = [s for s in state.stock(Account.JARS, Account.STALL, Account.HELD) if s.count]
        undo = recent_events.undoable(state, context.locale)
    # Pieces sold by weight are printed together, each its own label.
    jars = [(s.lot, season.size(s.size).piece_of or s.size) for s in stock if season.sold_in(s.size).is_honey]
    jars = list(dict.fromkeys(jars))
    if not asked.size or not (asked.lot or asked.bucket):
        with context.reading() as state:
            planned = _planned(state, context.day)
        return page("labels.html", refused=refused, jars=jars, planned=planned, undo=undo)
    desk = _desk(asked)
    # Measured on the drawn page, which would keep whoever types waiting.
    ink = ink_use(desk["drawn"], desk["made_in"]).says if desk["drawn"] else ""
    return page("label_desk.html", refused=refused, undo=undo, ink=ink, **_fields(asked), **desk, jars=jars)


def _fields(asked: Choice) -> dict[str, Any]:
    """What the fields of the desk begin with, and what there is to choose from."""
    from labelkit.labels.layout.kinds import OF_A_JAR

    context, season = request_context.context(), request_context.season()
    with context.reading() as state:
        borne = borne_words(
            state, asked.lots, asked.size, context.day, asked.product or None, new_words=asked.new_words
        )
        head = state.head().seq
        looks = list(kept(state, LOOKS))
        filled = sum(s.count for s in state.stock(lots=asked.lots) if s.size == asked.size)
        if asked.bucket:
            filled = still_planned(state, state.fill(asked.bucket), context.day).get(asked.size, 0)
    said = asked.said
    return {
        "now": {**borne.words, **(dict(said.texts) if said else {}), **(dict(said.lists) if said else {})},
        "maker_now": typed("maker") if said else borne.maker.get("name", ""),
        "address": typed("address") if said else "\n".join(address_lines(borne.maker)),
        "panel": shown_sides(borne.words.get("jars", {}).get(season.jar_of(asked.size), {})),
        "looks": looks,
        "designs": list(designs().values()),
        "sheets": list(sheets().values()),
        "kinds": OF_A_JAR,
        "live": False,
        "filled": filled,
        "place": market(season.first_market, context.day).name if season.first_market else "",
        "head": head,
        "then": href(
            "/labels/done", after=head, lot=asked.lot, bucket=asked.bucket, size=asked.size, product=asked.product
        ),
        "products": [product for product in season.products.values() if product.is_honey],
        "sold_as": borne.product,
        "mark": words_mark(),
    }
