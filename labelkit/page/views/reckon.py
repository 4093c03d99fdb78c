"""Calculators: drying, freezing comb, what boxes give, when honey sets. Nothing is read from the record or booked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from flask import Blueprint

from labelkit.errors import LabelkitError
from labelkit.errors.sentence import Sentence
from labelkit.honey.crystals import FLOWERS
from labelkit.page.forms import count, mass, percent, temperature, typed, value
from labelkit.page.language import later, say
from labelkit.page.view import page, weight_unit
from labelkit.season import reckon

view = Blueprint("reckon", __name__)

# A box by its name in the table of hives: the hive, and which of its boxes where it has several.
HIVES = {
    "langstroth": "Langstroth, 10",
    "langstroth8": "Langstroth, 8",
    "dadant": "Dadant",
    "national": "National",
    "zander": "Zander",
    "deutsch": "Deutsch Normal",
    "warre": "Warré",
}
DEPTHS = {
    "deep": later("deep"),
    "medium": later("medium"),
    "shallow": later("shallow"),
    "brood": later("brood box"),
    "super": later("honey super"),
}


@dataclass(frozen=True, slots=True)
class Answer:
    """What a question comes to, its notes, and its sources with how sure each is."""

    says: Sentence
    notes: Sequence[Sentence] = ()
    sources: Sequence[tuple[str, str]] = ()


@view.get("/reckon")
def calculators() -> str:
    """Four questions; the one that was sent has its answer under it."""
    which, refused, answer = typed("of"), None, None
    if which in _ANSWERS:
        try:
            answer = _ANSWERS[which]()
        except LabelkitError as refusal:
            refused = refusal
    by_word = {say(flower): flower for flower in FLOWERS}
    flowers = [(by_word[word], word) for word in sorted(by_word)]
    boxes = [(name, _called(name)) for name in reckon.BOXES if not name.startswith("langstroth-")]
    return page(
        "reckon.html", of=which, refused=refused, answer=answer, flowers=flowers, boxes=boxes, unit=weight_unit()
    )


def _called(box: str) -> str:
    """The name of a box: of a ten-frame Langstroth hive where it names no hive."""
    hive, _, depth = box.partition("-") if "-" in box else ("", "", box)
    if depth in DEPTHS:
        return f"{HIVES[hive or 'langstroth']}, {say(DEPTHS[depth])}"
    return HIVES[hive or depth]


def _drying() -> Answer | None:
    honey, moisture, to = value("honey", mass), value("moisture", percent), value("to", percent)
    if honey is None or moisture is None or to is None:
        return None
    found = reckon.drying(honey, moisture, to)
    return Answer(found.says, found.notes)


def _freezing() -> Answer | None:
    cold = value("temperature", temperature)
    if cold is None:
        return None
    found = reckon.freezing(cold)
    return Answer(found.says, found.notes, ((found.source, found.sure),))


def _boxes() -> Answer | None:
    box, boxes, frames = typed("box"), value("boxes", count), value("frames", count)
    if box not in reckon.BOXES or not (boxes or frames):
        return None
    found = reckon.expected_yield(
        [(box, boxes)] if boxes else [], [(box, frames)] if frames else [], value("own", mass)
    )
    return Answer(found.says, (), found.sources)


def _flower() -> Answer | None:
    if not typed("flower"):
        return None
    found = reckon.setting(typed("flower"))
    return Answer(found.found.sentence, found.notes)


_ANSWERS: dict[str, Callable[[], Answer | None]] = {
    "drying": _drying,
    "freezing": _freezing,
    "boxes": _boxes,
    "flower": _flower,
}
