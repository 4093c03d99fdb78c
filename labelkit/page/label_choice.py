"""What the form of the label desk chooses, as far as it can be read before the record is, and the labels that makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from flask import request

from labelkit.errors import LabelkitError
from labelkit.labels.content import LOT_BARS
from labelkit.labels.design import INKS, USUAL_DESIGN
from labelkit.labels.sheets import Printer
from labelkit.measures import Length
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.units import LENGTH, rewritten
from labelkit.page import request_context
from labelkit.page.forms import lines, typed
from labelkit.page.language import say
from labelkit.reading.address import read_address
from labelkit.reading.situation import fact_value
from labelkit.season.kept_look import dressed, look_named
from labelkit.season.label import DPI, DrawnLabels, LabelLook, LabelPaper, LabelPrint, draw_labels, lots_with
from labelkit.season.label_desk import LISTS, TEXTS, Saying, borne_words, keep_saying
from labelkit.season.label_paper import printer_named, sheet_named, usual_sheet
from labelkit.season.label_words import jar_of
from labelkit.season.lot_link import SQUARES, link_maker
from labelkit.season.lot_words import LotLabel, label_of_lots

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True)
class Choice:
    """What the page's form says of a print; ``said`` where its fields of words were sent along."""

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
    said: Saying | None = None
    bucket: str = ""  # in place of a lot: labels of jars that are not filled yet

    @property
    def lots(self) -> list[str]:
        """Its lot; none where the jars are not filled yet."""
        return [self.lot] if self.lot else []


#: What an address says of a print beside its words.
ASKED = (
    "lot",
    "bucket",
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
    "product",
    "new_words",
)


def query(*, words: bool = True) -> dict[str, Any]:
    """The choice as an address asks for it; with its ``words`` as they are typed."""
    # An address leaves empty fields out; a word that was taken out of its field stands as a blank.
    said = {name: value or " " for name, value in request.values.items() if _is_word(name)} if words and _sent() else {}
    several = {name: request.values.getlist(name) for name in ("fact:sells_to",) if name in said}
    return {name: typed(name) for name in ASKED} | {"used": request.values.getlist("used")} | said | several


def _is_word(name: str) -> bool:
    return name in (*TEXTS, *LISTS, "maker", "address", "wide", "high", "desk") or name.startswith("fact:")


def choice() -> Choice:
    """The choice of this request."""
    used = frozenset(int(place) for place in request.values.getlist("used") if place.isdigit() and len(place) < 4)
    kind, size, lot, product = typed("kind") or "front", typed("size"), typed("lot"), typed("product")
    jar = jar_of(request_context.settings(), size)
    look = _kept_look()
    return Choice(
        lot,
        size,
        typed("sheet") or look.get("sheets", {}).get(kind) or usual_sheet(kind, request_context.season().markets, jar),
        look.get("design") or typed("design") or _usual_design([lot] if lot else [], size, product),
        kind,
        typed("lot_bars") if typed("lot_bars") in LOT_BARS else look.get("lot_bars", "none"),
        whole("count"),
        used,
        typed("right") or "0 mm",
        typed("up") or "0 mm",
        bool(typed("cut")),
        because=typed("because"),
        product=product,
        new_words=bool(typed("new_words")),
        look=typed("look"),
        ink=typed("ink") if typed("ink") in INKS else "full",
        said=saying() if _sent() else None,
        bucket="" if lot else typed("bucket"),
    )


def words_mark() -> str:
    """Which words the fields of the form hold: of the product that is chosen, and whether they are those of today."""
    return f"{typed('product')}/{'today' if typed('new_words') else ''}"


def _sent() -> bool:
    """Whether the fields of words were sent along, and are of the product that is chosen now."""
    return typed("desk") == words_mark()


def whole(name: str) -> int | None:
    """A small whole number of a field; nothing where there is none."""
    text = typed(name)
    return int(text) or None if text.isdigit() and len(text) < 6 else None


def shown_sides(jar: Mapping[str, str]) -> dict[str, str]:
    """The sides of a jar as the words hold them, written as whoever reads the page writes them."""
    locale = request_context.context().locale
    return {side: rewritten(text, LENGTH, DEFAULT_LOCALE, locale) for side, text in jar.items()}


def saying(texts: Sequence[str] = TEXTS, lists: Sequence[str] = LISTS) -> Saying:
    """What the fields of words say; one that was not sent says nothing."""
    locale = request_context.context().locale
    facts = {name[5:]: request.values.getlist(name) for name in request.values if name.startswith("fact:")}
    answers = {
        name: fact_value(name, ", ".join(filter(None, said)), locale) for name, said in facts.items() if any(said)
    }
    maker = read_address(request.values["address"]) if "address" in request.values else {}
    maker |= {"name": typed("maker")} if "maker" in request.values else {}
    sent = request.values
    return Saying(
        tuple((key, typed(key).upper() if key == "origin" else typed(key)) for key in texts if key in sent),
        tuple((key, tuple(_lines(key))) for key in lists if key in sent),
        tuple(maker.items()),
        tuple((name, tuple(value) if isinstance(value, list) else value) for name, value in answers.items()),
        tuple(
            (key, rewritten(typed(field), LENGTH, locale, DEFAULT_LOCALE))
            for key, field in (("diameter", "wide"), ("height", "high"))
            if typed(field)
        ),
    )


def _lines(key: str) -> list[str]:
    """The lines of a field, without the one that was to be taken out."""
    out = typed("take_out").casefold()
    return [line for line in lines(key) if not (out and out in line.casefold())]


def _kept_look() -> Mapping[str, Any]:
    """The look that is chosen, as it was kept; nothing where none is."""
    if not typed("look"):
        return {}
    with request_context.context().reading() as state:
        return look_named(state, typed("look"))


def _usual_design(lots: list[str], size: str, product: str) -> str:
    """The design of a lot's last labels, or of its product."""
    try:
        context = request_context.context()
        with context.reading() as state:
            return words_of(state, context.day, lots, size, product).design if size else USUAL_DESIGN
    except LabelkitError:
        return USUAL_DESIGN


def words_of(state: Reading, day: date, lots: list[str], size: str, product: str, new_words: bool = False) -> LotLabel:
    """What the labels of these lots say on a day."""
    return label_of_lots(state, size, lots, day, product=product or None, new_words=new_words)


def wanted(state: Reading, chosen: Choice, day: date, locale: str, *, every: bool = False) -> LabelPrint:
    """The print that a choice is of: of its lot, or of every lot of its size."""
    lots = lots_with(state, chosen.size) if every else chosen.lots
    found = words_of(state, day, lots, chosen.size, chosen.product, chosen.new_words)
    label = replace(found.label, lot=chosen.lot) if chosen.lot else found.label
    paper = LabelPaper(chosen.kind, sheet_named(state, chosen.sheet), skip=chosen.skip)
    own = {"design": chosen.design, "ink": chosen.ink}
    held: Mapping[str, Any] = look_named(state, chosen.look) if chosen.look else own
    made, logo, artwork = dressed(held)
    look = LabelLook(
        made,
        _printer(state, chosen, held.get("printer"), locale),
        link_of=link_maker(held.get("link"), held.get("digital_link", False), None),
        link_in=SQUARES[held.get("squares", "qr")],
        lot_bars=chosen.lot_bars,
        logo=logo,
        cut_lines=chosen.cut_lines or held.get("cut_lines", False),
        artwork=artwork,
    )
    return LabelPrint(
        label,
        (paper,),
        look,
        chosen.size,
        lots=None if every else (),
        count=chosen.count,
        spoiled=chosen.spoiled,
        proof=chosen.proof,
        because=chosen.because,
        words=found,
        bucket="" if every else chosen.bucket,
    )


def _printer(state: Reading, chosen: Choice, name: str | None, locale: str) -> Printer:
    """The printer of the look, moved as the form says."""
    right, up = (Length.read_signed(text, locale).um for text in (chosen.right, chosen.up))
    printer = printer_named(state, name) if name else Printer(DPI)
    return replace(printer, nudge_x=printer.nudge_x + right, nudge_y=printer.nudge_y + up)


def drawn(chosen: Choice, *, so_far: bool = True) -> DrawnLabels:
    """The labels as they will print, kept for the few requests of one look; the record's head is part of the key.

    ``so_far`` puts words in the places of those that are still to be said, to be looked at.
    """
    if so_far and chosen.said is not None:
        chosen = replace(chosen, said=named_so_far(chosen.said))
    context = request_context.context()
    with context.reading() as state:
        head = state.head().hash
    return _draw_once(context.record, context.day, context.locale, head, chosen)


@lru_cache(maxsize=24)
def _draw_once(record: str | None, day: date, locale: str, head: str, chosen: Choice) -> DrawnLabels:
    context = request_context.context()
    if chosen.said is None:
        with context.reading() as state:
            return draw_labels(state, wanted(state, chosen, day, locale), day, locale)
    with context.rehearsal() as work:
        return draw_labels(work, wanted(work, keep_said(work, chosen, day), day, locale), day, locale)


def named_so_far(said: Saying) -> Saying:
    """The same with a blank name, of the honey or of its maker, filled."""
    texts, maker = dict(said.texts), dict(said.maker)
    for said_of, blank in ((texts, say("Honey")), (maker, say("Your name"))):
        if said_of.get("name") == "":
            said_of["name"] = blank
    return replace(said, texts=tuple(texts.items()), maker=tuple(maker.items()))


def keep_said(work: Work, chosen: Choice, day: date) -> Choice:
    """Keep the words of the form; the choice with the words of today, where a buyer reads others than the jars bear."""
    if chosen.said is None:
        return chosen
    borne = borne_words(work, chosen.lots, chosen.size, day, chosen.product or None, new_words=chosen.new_words)
    changed = keep_saying(work, borne, chosen.said, chosen.size, day)
    return replace(chosen, new_words=chosen.new_words or changed)
