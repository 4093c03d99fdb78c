"""Looks of one's own: shown, made and changed; a label is printed in one on the page of labels."""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response

from labelkit.errors import LabelkitError
from labelkit.errors.labels import DesignUnclear, SheetUnknown
from labelkit.labels.backdrop.boxes import must_lie_apart
from labelkit.labels.backdrop.picture import WordBox, laid
from labelkit.labels.content import LOT_BARS
from labelkit.labels.design import INKS, USUAL_DESIGN, colour_of, designs
from labelkit.labels.layout.placed import mm
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import Sheet, sheets
from labelkit.page import request_context
from labelkit.page.forms import booked, length, step_key, typed, uploaded, value, with_unit
from labelkit.page.language import later, say
from labelkit.page.view import href, page
from labelkit.season.kept_look import LOOKS, dressed, keep_look, look_named
from labelkit.season.label_paper import kept, sheet_named, usual_sheet

if TYPE_CHECKING:
    from labelkit.measures import Length
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

view = Blueprint("looks", __name__)

#: What may bear a colour of one's own.
COLOURS = {
    "name": later("name"),
    "maker": later("maker"),
    "line": later("lines"),
    "net": later("net weight"),
    "info": later("small words"),
    "ground": later("ground"),
    "ornament": later("ornament"),
}
#: What a box may say that the form offers; a box with other words keeps them.
WORDS = {
    "maker,name,line": later("maker, name and lines"),
    "net": later("net weight"),
    "rest": later("all other words"),
}
#: Dots of the picture boxes are placed on, to an inch.
DPI = 150


@view.get("/looks")
def looks() -> str:
    """The looks that are kept, and one to change."""
    return _looks()


@view.post("/looks")
def keep():
    """Keep a look under its name."""
    return booked(
        _kept,
        _looks,
        lambda _: href("/looks", look=typed("name")),
        lambda _: say("The look {name} is kept.", name=typed("name")),
    )


@view.get("/looks/artwork.png")
def artwork() -> Response:
    """The artwork of a look as it lies on a front, without words."""
    from PIL import Image

    with request_context.context().reading() as state:
        look = look_named(state, typed("look"))
        sheet = _sheet(state, look)
    _, _, grounds = dressed(look)
    if "front" not in grounds:
        return Response(status=404)
    under = laid(grounds["front"], _outline(sheet), (0, 0), DPI)
    out = BytesIO()
    Image.open(BytesIO(under.data)).save(out, "PNG")
    return Response(out.getvalue(), mimetype="image/png")


def _kept() -> int:
    context = request_context.context()
    with context.reading() as state:
        old = look_named(state, typed("look")) if typed("look") in kept(state, LOOKS) else {}
    made = _asked(old)
    # A look nothing can be drawn in is refused before it is kept.
    dressed(made)
    with context.work(step_key()) as work:
        must_lie_apart(made["artwork_boxes"].get("front", ()), _outline(_sheet(work, made)))
        return keep_look(work, typed("name"), made, context.day)


def _asked(old: Mapping[str, Any]) -> dict[str, Any]:
    """The look of the form; what the form has no field for stays as it was."""
    design, sheet = typed("design"), typed("sheet")
    if design not in designs():
        raise DesignUnclear(design, "there is none of that name", list(designs()))
    front = {"front": sheet} if sheet else {}
    ground = _colour("artwork_ground")
    artwork = {**old.get("artwork", {}), **_file("artwork", "front")}
    if typed("no_artwork"):
        artwork.pop("front", None)
    boxes = {**old.get("artwork_boxes", {}), "front": _boxes(old)}
    return {
        **old,
        "design": design,
        "ink": typed("ink") if typed("ink") in INKS else "full",
        "colours": {role: typed(f"colour:{role}") for role in COLOURS if typed(f"colour:{role}")},
        "logo": None if typed("no_logo") else _file("logo", "logo").get("logo", old.get("logo")),
        "sheets": {**{kind: name for kind, name in old.get("sheets", {}).items() if kind != "front"}, **front},
        "lot_bars": typed("lot_bars") if typed("lot_bars") in LOT_BARS else "none",
        "artwork": artwork,
        "artwork_ground": ground if artwork else None,
        "artwork_boxes": {kind: held for kind, held in boxes.items() if held and kind in artwork},
    }


def _file(field: str, key: str) -> dict[str, tuple[str, bytes]]:
    """A file that was chosen; nothing where none was."""
    file = uploaded(field)
    return {key: file} if file else {}


def _colour(name: str) -> tuple[int, int, int] | None:
    text = typed(name)
    try:
        return colour_of(text) if text else None
    except ValueError:
        raise DesignUnclear(typed("design"), f"“{text}” is not a colour like #7A4A12", list(designs())) from None


def _boxes(old: Mapping[str, Any]) -> tuple[WordBox, ...]:
    """The boxes whose four lengths were given."""
    held = old.get("artwork_boxes", {}).get("front", ())
    found = []
    for number in range(len(held) + len(WORDS)):
        lengths = (value(f"box:{number}:{side}", _mm) for side in ("left", "top", "width", "height"))
        place = [one.um for one in lengths if one is not None]
        words = tuple(filter(None, typed(f"box:{number}:words").split(",")))
        if not words or len(place) < 4:
            continue
        left, top, wide, high = place
        ground = _colour(f"box:{number}:ground")
        before = next((box for box in held if box.words == words), None)
        found.append(
            WordBox(
                words, left, top, wide, high, ground, before.ink if before else None, before.align if before else ""
            )
        )
    return tuple(found)


def _mm(text: str, locale: str) -> Length:
    return length(with_unit(text, "mm"), locale)


def _sheet(state: Reading | Work, look: Mapping[str, Any]) -> Sheet:
    """The sheet fronts of a look are printed on."""
    return sheet_named(
        state, look.get("sheets", {}).get("front") or usual_sheet("front", request_context.season().markets)
    )


def _outline(sheet: Sheet) -> Outline:
    return sheet.outline


def _looks(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        names = list(kept(state, LOOKS))
        look = look_named(state, typed("look")) if typed("look") in names else {}
        try:
            paper = _sheet(state, look)
        except SheetUnknown:
            paper = _sheet(state, {})
    boxes = list(look.get("artwork_boxes", {}).get("front", ()))
    said = {",".join(box.words) for box in boxes}
    rows = [(",".join(box.words), box) for box in boxes] + [(words, None) for words in WORDS if words not in said]
    return page(
        "looks.html",
        refused=refused,
        names=names,
        name=typed("look") if look else "",
        look=look,
        design=look.get("design") or USUAL_DESIGN,
        designs=list(designs().values()),
        sheets=list(sheets().values()),
        paper=paper,
        colours=COLOURS,
        rows=rows,
        words=WORDS,
        mm=mm,
        written="#{:02X}{:02X}{:02X}".format,
    )
