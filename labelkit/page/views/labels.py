"""Labels: how they look on the true sheet, what the law finds, and printing them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, redirect, request

from labelkit.errors import LabelkitError
from labelkit.labels.content import LOT_BARS
from labelkit.labels.design import INKS, USUAL_DESIGN, designs
from labelkit.labels.label_set import said_on
from labelkit.labels.printed import Printed
from labelkit.labels.sheets import Printer, sheets
from labelkit.measures import Length
from labelkit.page import recent_events, request_context
from labelkit.page.findings import in_order, spots, told
from labelkit.page.forms import booked, step_key, typed
from labelkit.page.language import later, say_count
from labelkit.page.view import href, page
from labelkit.page.views.work import begun
from labelkit.page.worker import Outcome
from labelkit.season import SeasonContext
from labelkit.season.ink_use import ink_use
from labelkit.season.kept_look import LOOKS, dressed, look_named
from labelkit.season.label import (
    DPI,
    DrawnLabels,
    LabelLook,
    LabelPaper,
    LabelPrint,
    book_labels,
    draw_labels,
    lots_with,
    picture_of,
)
from labelkit.season.label_paper import kept, printer_named, sheet_named, usual_sheet
from labelkit.season.label_words import jar_of
from labelkit.season.lot_link import SQUARES, link_maker
from labelkit.season.lot_words import LotLabel, label_of_lots
from labelkit.season.unmet import against_jars, refuse

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

view = Blueprint("labels", __name__)

PREVIEW_DPI = 220


@view.get("/labels")
def labels() -> str:
    """Choose, look, print."""
    return _labels()


@view.get("/labels/look")
def look() -> str:
    """Only the look, the findings and the heights."""
    choice = _choice()
    return page("labels_look.html", **_look(choice), used=choice.skip)


@view.get("/labels/one.png")
def one() -> Response:
    """The label as it will print, cut from the true page."""
    return Response(picture_of(_drawn(_choice()), PREVIEW_DPI), mimetype="image/png")


@view.get("/labels/labels.pdf")
def pdf() -> Response:
    """The file to print; nothing is booked by looking at it, and what may not be printed yet is marked as a proof."""
    choice = _choice()
    drawn = _drawn(choice)
    if drawn.stopped or not _may_go(choice):
        drawn = _drawn(replace(choice, proof=True))
    return Response(
        drawn.drawn[0].printed.pdf,
        mimetype="application/pdf",
        headers={"Content-Disposition": 'inline; filename="labels.pdf"'},
    )


@view.post("/labels/print")
def printed():
    """Book the print, and open the file."""
    return booked(
        lambda: _printed(replace(_choice(), spoiled=_number("spoiled") or 0)),
        _labels,
        lambda _: href("/labels/labels.pdf", **_query()),
        lambda done: say_count(
            "{n} label for lot {lot} is booked.",
            "{n} labels for lot {lot} are booked.",
            done.drawn[0].printed.labels,
            lot=done.lots[0][0],
        ),
    )


def _may_go(choice: Choice) -> bool:
    """Whether nothing stands against these jars getting their labels, or somebody said why they may."""
    context = request_context.context()
    with context.reading() as state:
        found = against_jars(state, {(choice.lot, choice.size): 1}, context.day, printing=True)
    try:
        refuse(found, choice.because)
    except LabelkitError:
        return False
    return True


def _printed(choice: Choice) -> DrawnLabels:
    context = request_context.context()
    drawn = _drawn(choice)
    with context.work(step_key()) as work:
        book_labels(work, drawn, context.day)
    return drawn


@view.post("/labels/every-lot")
def every_lot():
    """Labels of all lots of one size in one file, as long work; each lot's print is booked."""
    try:
        return begun(later("Labels of every lot"), every_lot_task, (_choice(), step_key()), key=step_key() or "")
    except LabelkitError as refusal:
        return _labels(refusal), 422


def every_lot_task(context: SeasonContext, folder: Path, details: tuple[Choice, str | None]) -> Outcome:
    """Draw the labels of every lot of a size into the folder, and book them where nothing must be fixed first."""
    choice, key = details
    with context.reading() as state:
        drawn = draw_labels(
            state,
            replace(_wanted(state, choice, context.day, context.locale, every=True), lots=None),
            context.day,
            context.locale,
        )
    if not drawn.stopped:
        with context.work(key) as work:
            book_labels(work, drawn, context.day)
            (folder / "labels.pdf").write_bytes(drawn.drawn[0].printed.pdf)
    return Outcome(
        "\n".join((*(f"{lot}: {count}" for lot, count in drawn.lots), *drawn.set.notes, *drawn.stops)),
        not drawn.stopped,
    )


@view.get("/labels/done")
def done():
    """The file that was booked, to open as often as need be; back to the label where nothing was booked after it."""
    with request_context.context().reading() as state:
        undo = recent_events.undoable(state, request_context.context().locale)
        after = _number("after") or 0
        if not any(each.stands for each in state.events((Printed.kind,), after=after)):
            return redirect(href("/labels", **_query()), 303)
    return page(
        "labels_done.html", pdf=href("/labels/labels.pdf", **_query()), again=href("/labels", **_query()), undo=undo
    )


@dataclass(frozen=True)
class Choice:
    """What the page's form says of a print, as far as it can be read before the record is."""

    lot: str
    size: str
    sheet: str
    design: str
    kind: str
    lot_bars: str = "none"
    count: int | None = None
    skip: frozenset[int] = frozenset()
    right: str = "0 mm"
    up: str = "0 mm"
    cut_lines: bool = False
    spoiled: int = 0
    proof: bool = False
    because: str = ""
    product: str = ""
    new_words: bool = False
    look: str = ""
    ink: str = "full"


def _choice() -> Choice:
    used = frozenset(int(place) for place in request.values.getlist("used") if place.isdigit() and len(place) < 4)
    kind, size, lot, product = typed("kind") or "front", typed("size"), typed("lot"), typed("product")
    jar = jar_of(request_context.settings(), size)
    look = _kept_look()
    return Choice(
        lot,
        size,
        typed("sheet") or look.get("sheets", {}).get(kind) or usual_sheet(kind, request_context.season().markets, jar),
        look.get("design") or typed("design") or _usual_design(lot, size, product),
        kind,
        typed("lot_bars") if typed("lot_bars") in LOT_BARS else look.get("lot_bars", "none"),
        _number("count"),
        used,
        typed("right") or "0 mm",
        typed("up") or "0 mm",
        bool(typed("cut")),
        because=typed("because"),
        product=product,
        new_words=bool(typed("new_words")),
        look=typed("look"),
        ink=typed("ink") if typed("ink") in INKS else "full",
    )


def _kept_look() -> Mapping[str, Any]:
    """The look that is chosen, as it was kept; nothing where none is."""
    if not typed("look"):
        return {}
    with request_context.context().reading() as state:
        return look_named(state, typed("look"))


def _usual_design(lot: str, size: str, product: str) -> str:
    """The design of a lot's last labels, or of its product."""
    try:
        context = request_context.context()
        with context.reading() as state:
            return _words(state, context.day, [lot], size, product).design if lot and size else USUAL_DESIGN
    except LabelkitError:
        return USUAL_DESIGN


def _words(state: Reading, day: date, lots: list[str], size: str, product: str, new_words: bool = False) -> LotLabel:
    """What the labels of these lots say on a day."""
    return label_of_lots(state, size, lots, day, product=product or None, new_words=new_words)


def _number(name: str) -> int | None:
    text = typed(name)
    return int(text) or None if text.isdigit() and len(text) < 6 else None


def _wanted(state: Reading, choice: Choice, day: date, locale: str, *, every: bool = False) -> LabelPrint:
    """The print that a choice is of: of its lot, or of every lot of its size."""
    lots = lots_with(state, choice.size) if every else [choice.lot]
    found = _words(state, day, lots, choice.size, choice.product, choice.new_words)
    label = replace(found.label, lot=choice.lot)
    paper = LabelPaper(choice.kind, sheet_named(state, choice.sheet), skip=choice.skip)
    held: Mapping[str, Any] = (
        look_named(state, choice.look) if choice.look else {"design": choice.design, "ink": choice.ink}
    )
    made, logo, artwork = dressed(held)
    look = LabelLook(
        made,
        _printer(state, choice, held.get("printer"), locale),
        link_of=link_maker(held.get("link"), held.get("digital_link", False), None),
        link_in=SQUARES[held.get("squares", "qr")],
        lot_bars=choice.lot_bars,
        logo=logo,
        cut_lines=choice.cut_lines or held.get("cut_lines", False),
        artwork=artwork,
    )
    return LabelPrint(
        label,
        (paper,),
        look,
        choice.size,
        count=choice.count,
        spoiled=choice.spoiled,
        proof=choice.proof,
        because=choice.because,
        words=found,
    )


def _printer(state: Reading, choice: Choice, name: str | None, locale: str) -> Printer:
    """The printer of the look, moved as the form says."""
    right, up = (Length.read_signed(text, locale).um for text in (choice.right, choice.up))
    printer = printer_named(state, name) if name else Printer(DPI)
    return replace(printer, nudge_x=printer.nudge_x + right, nudge_y=printer.nudge_y + up)


_OF_WORDS = ("product", "new_words")


def _query() -> dict:
    names = (
        "lot",
        "size",
        "sheet",
        "design",
        "kind",
        "lot_bars",
        "ink",
        "count",
        "right",
        "up",
        "cut",
        "because",
        "look",
        *_OF_WORDS,
    )
    return {name: typed(name) for name in names} | {"used": request.values.getlist("used")}


def _drawn(choice: Choice) -> DrawnLabels:
    """The labels as they will print, kept for the few requests of one look; the record's head is part of the key."""
    context = request_context.context()
    with context.reading() as state:
        head = state.head().hash
    return _draw_once(context.record, context.day, context.locale, head, choice)


@lru_cache(maxsize=12)
def _draw_once(record: str | None, day: date, locale: str, head: str, choice: Choice) -> DrawnLabels:
    with request_context.context().reading() as state:
        return draw_labels(state, _wanted(state, choice, day, locale), day, locale)


NOTHING = {
    "drawn": None,
    "unable": None,
    "words": None,
    "findings": (),
    "spots": (),
    "notes": (),
    "stops_": (),
}


def _look(choice: Choice) -> dict:
    """The look at what is chosen; the refusal where it cannot be."""
    if not choice.lot or not choice.size:
        return NOTHING
    try:
        drawn = _drawn(choice)
    except LabelkitError as refusal:
        return NOTHING | {"unable": refusal, "findings": told(_checked(choice))}
    one, findings = drawn.drawn[0], in_order(drawn.findings)
    placed = one.printed.placed[0]
    return {
        "drawn": one,
        "words": drawn.asked.words,
        "unable": None,
        "placed": placed,
        "query": _query(),
        "findings": told(findings),
        "stops_": drawn.set.stops,
        "spots": spots(findings, placed),
        "rows": one.printed.rows,
        "says": said_on(placed),
        "notes": (*one.printed.notes, *one.made.asked.notes, *drawn.set.notes, ink_use(one, drawn.asked.look).says),
    }


def _checked(choice: Choice):
    """What the rules say of a label that cannot be drawn as it is; nothing where that is refused too."""
    from labelkit.labels.case import label_case
    from labelkit.rules import market

    context = request_context.context()
    try:
        with context.reading() as state:
            found = _words(state, context.day, [choice.lot], choice.size, choice.product, choice.new_words)
        label = replace(found.label, lot=choice.lot)
        return label_case(label, [market(name, context.day) for name in label.markets], context.locale).checked.findings
    except LabelkitError:
        return ()


def _labels(refused: LabelkitError | None = None) -> str:
    from labelkit.labels.layout.kinds import OF_A_JAR
    from labelkit.lots.movement import Account

    context = request_context.context()
    with context.reading() as state:
        stock = [s for s in state.stock(Account.JARS, Account.STALL, Account.HELD) if s.count]
        undo = recent_events.undoable(state, context.locale)
        head = state.head().seq
        looks = list(kept(state, LOOKS))
        choice = _choice()
        unmet = against_jars(state, {(choice.lot, choice.size): 1}, context.day, printing=True) if choice.lot else ()
    season = request_context.season()
    # Pieces sold by weight are printed together, each its own label.
    jars = [(s.lot, season.size(s.size).piece_of or s.size) for s in stock if season.sold_in(s.size).is_honey]
    jars = list(dict.fromkeys(jars))
    ready = any(product.words.get("name") for product in season.products.values())
    shown = _look(choice) if ready and refused is None else NOTHING
    papers = sheets()
    return page(
        "labels.html",
        **shown,
        used=choice.skip,
        refused=refused,
        jars=jars,
        lot=choice.lot,
        size=choice.size,
        choice=choice,
        unmet=unmet,
        ready=ready,
        looks=looks,
        designs=list(designs().values()),
        sheets=list(papers.values()),
        paper=papers.get(choice.sheet),
        kinds=OF_A_JAR,
        undo=undo,
        then=href("/labels/done", after=head, **_query()),
        count=typed("count"),
        products=[product for product in season.products.values() if product.is_honey],
        many=sum(of == choice.size for _, of in jars) > 1,
    )
