"""Labels: how they look on the true sheet, what the law finds, and printing them."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from flask import Blueprint, Response, redirect, request, session

from labelkit.cli._label_words import label_of_record
from labelkit.cli._labels import Choice, Drawn, book_print, draw
from labelkit.errors import LabelkitError
from labelkit.errors.record import KeyReused
from labelkit.page import recent_events, request_context
from labelkit.page.findings import in_order, spots, told
from labelkit.page.language import later, say, say_count
from labelkit.page.verbs import line_task, once_key, typed
from labelkit.page.view import href, page
from labelkit.page.views.work import begun

view = Blueprint("labels", __name__)

PREVIEW_DPI = 220


@view.get("/labels")
def labels() -> str:
    """Choose, look, print."""
    return _labels()


@view.get("/labels/look")
def look() -> str:
    """Only the look, the findings and the heights."""
    return page("labels_look.html", **_look())


@view.get("/labels/one.png")
def one() -> Response:
    """The label as it will print, cut from the true page."""
    return Response(_picture(*_asked()), mimetype="image/png")


@view.get("/labels/labels.pdf")
def pdf() -> Response:
    """The file to print; nothing is booked by looking at it."""
    drawn = _drawn(*_asked())
    return Response(
        drawn.printed.pdf, mimetype="application/pdf", headers={"Content-Disposition": 'inline; filename="labels.pdf"'}
    )


@view.post("/labels/print")
def printed():
    """Book the print; the file is on the next page."""
    lot, size, choice = _asked()
    spoiled = typed("spoiled")
    try:
        drawn = draw(
            request_context.context(), replace(label_of_record(request_context.context(), size), lot=lot), size, choice
        )
        book_print(
            request_context.context(),
            drawn,
            size,
            choice,
            int(spoiled) if spoiled.isdigit() and len(spoiled) < 6 else 0,
            once_key() or None,
        )
    except KeyReused:
        from labelkit.errors.page import SentBefore

        return _labels(SentBefore()), 409
    except LabelkitError as refusal:
        return _labels(refusal), 422
    request_context.forget()
    booked = say_count(
        "{n} label for lot {lot} is booked.",
        "{n} labels for lot {lot} are booked.",
        drawn.printed.labels,
        lot=drawn.label.lot,
    )
    session["said"] = f"{booked} {say('Print the file at 100 %, never “fit to page”.')}"
    return redirect(href("/labels/done", **_query()), 303)


@view.post("/labels/every-lot")
def every_lot():
    """Labels of all lots of one size in one file, as long work; each lot's print is booked."""
    _, size, choice = _asked()
    more = (("--skip", ",".join(map(str, sorted(choice.skip)))), ("--once", once_key()))
    line = [
        "labels",
        f"--size={size}",
        "--every-lot",
        f"--sheet={choice.sheet}",
        f"--design={choice.design}",
        f"--kind={choice.kind}",
        f"--nudge-right={choice.nudge_right}",
        f"--nudge-up={choice.nudge_up}",
        *(f"{name}={value}" for name, value in more if value),
        *(["--cut-lines"] if choice.cut_lines else []),
    ]
    try:
        return begun(later("Labels of every lot"), line_task, [*line, "--out={folder}/labels.pdf"], key=once_key())
    except LabelkitError as refusal:
        return _labels(refusal), 422


@view.get("/labels/done")
def done() -> str:
    """The file that was booked, to open as often as need be."""
    with request_context.context().reading() as state:
        undo = recent_events.undoable(state, request_context.context().locale)
    return page(
        "labels_done.html", pdf=href("/labels/labels.pdf", **_query()), again=href("/labels", **_query()), undo=undo
    )


def _asked() -> tuple[str, str, Choice]:
    used = frozenset(int(place) for place in request.values.getlist("used") if place.isdigit() and len(place) < 4)
    count = typed("count")
    return (
        typed("lot"),
        typed("size"),
        Choice(
            typed("sheet") or _usual_sheet(),
            typed("design") or "press",
            typed("kind") or "front",
            int(count) if count.isdigit() and 0 < len(count) < 6 and int(count) else None,
            skip=used,
            nudge_right=typed("right") or "0 mm",
            nudge_up=typed("up") or "0 mm",
            cut_lines=bool(typed("cut")),
        ),
    )


def _usual_sheet() -> str:
    return "letter-2x5-102x51" if request_context.season().currency in ("USD", "CAD") else "a4-2x4-99x68"


def _query() -> dict:
    names = ("lot", "size", "sheet", "design", "kind", "count", "right", "up", "cut")
    return {name: typed(name) for name in names} | {"used": request.values.getlist("used")}


def _drawn(lot: str, size: str, choice: Choice) -> Drawn:
    """The labels as they will print, kept for the few requests of one look; the record's head is part of the key."""
    context = request_context.context()
    with context.reading() as state:
        head = state.head().hash
    kept = (context.record, context.day, context.locale, head, lot, size, choice)
    return _draw_once(kept)


@lru_cache(maxsize=12)
def _draw_once(kept: tuple) -> Drawn:
    lot, size, choice = kept[4:]
    context = request_context.context()
    return draw(context, replace(label_of_record(context, size), lot=lot), size, choice)


def _picture(lot: str, size: str, choice: Choice) -> bytes:
    """The first label of the page that will print, cut out while it is drawn, on the design's paper."""
    from labelkit.labels.design import design
    from labelkit.labels.printing import preview_png

    drawn = _drawn(lot, size, choice)
    box, sheet = _first_place(drawn, choice), drawn.paper
    around = (box.left, box.bottom, sheet.page_wide - box.right, sheet.page_high - box.top)
    return preview_png(drawn.printed.pdf, dpi=PREVIEW_DPI, paper=design(choice.design).paper, crop=around)


def _first_place(drawn: Drawn, choice: Choice):
    from labelkit.labels.sheets import free_places

    _, place = next(free_places(drawn.paper, choice.start_at, choice.skip))
    return drawn.paper.place(place)


def _look() -> dict:
    """The look at what is chosen; the refusal where it cannot be."""
    lot, size, choice = _asked()
    nothing = {"drawn": None, "unable": None, "findings": (), "spots": (), "notes": (), "used": choice.skip}
    if not lot or not size:
        return nothing
    try:
        drawn = _drawn(lot, size, choice)
    except LabelkitError as refusal:
        return nothing | {"unable": refusal, "findings": told(_checked(lot, size))}
    findings = in_order(drawn.made.checked.findings)
    placed = drawn.printed.placed[0]
    return {
        "drawn": drawn,
        "unable": None,
        "used": choice.skip,
        "placed": placed,
        "query": _query(),
        "findings": told(findings),
        "spots": spots(findings, placed),
        "rows": drawn.printed.rows,
        "says": [text for words in drawn.made.content.words for text in words.all],
        "notes": (*drawn.printed.notes, *drawn.made.asked.notes),
    }


def _checked(lot: str, size: str):
    """What the rules say of a label that cannot be drawn as it is; nothing where that is refused too."""
    from labelkit.rules import market
    from labelkit.rules.checking import check

    context = request_context.context()
    try:
        label = replace(label_of_record(context, size), lot=lot)
        return check(label, [market(name, context.day) for name in label.markets]).findings
    except LabelkitError:
        return ()


def _labels(refused: LabelkitError | None = None) -> str:
    from labelkit.labels.design import designs
    from labelkit.labels.layout.kinds import OF_A_JAR
    from labelkit.labels.sheets import sheets
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        stock = [s for s in state.stock(Account.JARS, Account.STALL, Account.HELD) if s.count]
        undo = recent_events.undoable(state, context.locale)
    jars = list(dict.fromkeys((s.lot, s.size) for s in stock))
    lot, size, choice = _asked()
    ready = bool(request_context.settings().get("label", {}).get("name"))
    shown = (
        _look()
        if ready and refused is None
        else {"drawn": None, "unable": None, "findings": (), "spots": (), "notes": ()}
    )
    papers = sheets()
    return page(
        "labels.html",
        **{**shown, "used": choice.skip},
        refused=refused,
        jars=jars,
        lot=lot,
        size=size,
        choice=choice,
        ready=ready,
        designs=list(designs().values()),
        sheets=list(papers.values()),
        paper=papers.get(choice.sheet),
        kinds=OF_A_JAR,
        undo=undo,
        count=typed("count"),
        many=sum(of == size for _, of in jars) > 1,
    )
