"""The front label: which things go on it, and what gives way when room is short.

Three arrangements are tried (:mod:`.arrange`). What cannot be kept moves to another label of the set, the least needed
on the front first; the product name and the net quantity never move. Nothing is ever set under its required height.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design, contrast
from labelkit.labels.layout.arrange import tries
from labelkit.labels.layout.board import Board, Plan, Try, bald, board, closer
from labelkit.labels.layout.codes import (
    Block,
    link_squares,
    lot_symbols,
    turned_note,
)
from labelkit.labels.layout.placed import Placed, rows_of
from labelkit.labels.layout.wanting import front_too_small
from labelkit.labels.ornaments import Drawn, Scene, ornament
from labelkit.labels.outline import RING, Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Clipped, Mark, Shape, Text, ellipse

# What moves to another label when nothing else helps, first the least needed on the front. The product name and the net
# quantity must stand together on it (21 CFR 101.3 and 101.7; Regulation (EU) 1169/2011 Art. 13(5)), so they stay; the
# sentences a law prescribes and the caution on infants are the last to go.
GIVE_WAY = (
    "link",
    "storage",
    "story",
    "line",
    "ingredients",
    "grade",
    "origin",
    "best_before",
    "address",
    "lot",
    "wording",
    "caution",
)
#: What no law asks for: it goes before any word that must be said.
SLOGANS = ("storage", "line", "story")
_FREE_WORDS = {"storage": "how to store it", "story": "your story", "line": "your own lines", "link": "the link"}
LOT_SYMBOLS = {"code128": "bars of the lot", "datamatrix": "Data Matrix of the lot"}


#: The size of the name in thousandths of the label's side: fine as it is; enough not to give up a symbol; enough not to
#: give up the ornament. Giving a thing up has to make the name larger by so many hundredths. Our own eye, no source.
COMFORTABLE, READY, ENOUGH, GAIN = 135, 75, 55, 110
#: A ground of an ornament a symbol may stand on straight. Our own reserve, no source.
SYMBOL_CONTRAST = 12
#: The line a hole is punched by.
_PUNCH, _PUNCH_WIDTH = (150, 150, 150), 100


def place_front(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a front label. Raises :class:`~labelkit.errors.labels.LabelTooSmall` when name and net do not fit.

    What must be said comes first: ornament gives way, then slogans, then symbols, then the size of the name, then the
    margins. Only a front on which all of that is not enough leaves words to another label of the jar.
    """
    bare, found = arranged(content, outline, design, dpi, bleed)
    return finished(bare, content, found, design)


def arranged(
    content: LabelContent, outline: Outline, design: Design, dpi: int, bleed: tuple[int, int]
) -> tuple[Board, Try]:
    """The words of a front where they stand, and the board they stand on, with its ornament or without."""
    bare = board(outline, design, bleed, dpi)
    plain = board(outline, bald(design), bleed, dpi)
    whole = list(kept(content, design, dpi))
    # Beside an ornament the maker's own lines may go for a larger name; symbols and the rest stay.
    fullest = [plan for plan in whole if len(plan.codes) == len(whole[0].codes)]
    best = _largest(bare, fullest) if bare.design.ornament else None
    for room in (plain, closer(plain)):
        lacks = best is None or len(best[1].plan.codes) < len(whole[0].codes)
        if best is None or lacks or (room is plain and not _enough(*best, READY)):
            best = _better(best, _largest(room, whole))
    if best is None:
        best = _largest(closer(plain), list(moved(content.brief)))
        if best is not None:
            # What cannot stay even on the bare label has gone: the ornament may come back where nothing more goes for it.
            best = _largest(bare, [best[1].plan]) or best
    if best is None:
        raise front_too_small(content, closer(plain), content.without(*GIVE_WAY))
    return best


def _better(one: tuple[Board, Try] | None, other: tuple[Board, Try] | None) -> tuple[Board, Try] | None:
    """The one with more symbols if its name is large enough, else the one with the larger name."""
    if one is None or other is None:
        return one or other
    more = len(other[1].plan.codes) - len(one[1].plan.codes)
    if more:
        return other if more > 0 and _enough(*other, READY) else one
    return other if other[1].title.size > one[1].title.size else one


def _largest(bare: Board, plans: Sequence[Plan]) -> tuple[Board, Try] | None:
    """What fits with the largest name; a plan that gives up more is tried only where the name is not large enough."""
    best: Try | None = None
    for plan in plans:
        # Two names share the room of one.
        comfortable = COMFORTABLE if len(plan.content.the("name").all) == 1 else READY
        if best is not None and plan.level > best.plan.level and _enough(bare, best, plan.wanted):
            break
        for found in tries(bare, plan):
            if found.title.size >= bare.small * comfortable // 1000:
                return bare, found
            if best is None or found.title.size * 100 > best.title.size * (
                GAIN if plan.level > best.plan.level else 100
            ):
                best = found
    return (bare, best) if best is not None else None


def _enough(bare: Board, best: Try, wanted: int) -> bool:
    """Whether the name of the best arrangement so far is large enough not to give up more."""
    return best.title.size >= bare.small * wanted // 1000


def kept(content: LabelContent, design: Design, dpi: int) -> Iterator[Plan]:
    """Every word that must be said, the fullest label first; slogans go before symbols do."""
    said = (content, content.without(*SLOGANS)) if content.every(*SLOGANS) else (content,)
    groups = list(_codes(content, design, dpi))
    for level, (codes, words) in enumerate(product(groups, said)):
        gone = () if words is content else tuple(role for role in SLOGANS if content.of(role))
        bare = codes == [()]
        wanted = (COMFORTABLE if level == 1 and bare else ENOUGH) if words is not content or bare else READY
        for one in codes:
            link = ("link",) if content.link and not any(block.kind == "link" for block in one) else ()
            yield Plan(words, one, (*gone, *link), level, wanted)
    short = said[-1].brief
    if short is not said[-1]:
        gone = tuple(role for role in SLOGANS if content.of(role))
        yield Plan(short, (), (*gone, *(("link",) if content.link else ())), level + 1, ENOUGH)


def _codes(content: LabelContent, design: Design, dpi: int) -> Iterator[list[tuple[Block, ...]]]:
    """The symbols a front may bear, in groups of equal worth; the last has none."""
    link, lots = link_squares(content, dpi), lot_symbols(content, design, dpi)
    if link:
        for group in lots:
            yield [(lot, link) for lot in group]
        yield [(link,)]
    for group in lots:
        yield [(lot,) for lot in group]
    yield [()]


def moved(content: LabelContent) -> Iterator[Plan]:
    """What to try where not every word finds room: one role after the other moves to another label of the jar."""
    gone: list[str] = []
    for role in GIVE_WAY:
        if content.link if role == "link" else content.of(role):
            gone.append(role)
            yield Plan(content.without(*gone), (), tuple(gone), len(gone), 0)


def finished(bare: Board, content: LabelContent, found: Try, asked: Design, kind: str = "front") -> Placed:
    """The label as it is drawn; ``asked`` is its design with all the ornament that may have given way."""
    languages = len(content.the("name").all)
    scene = Scene(
        kind, bare.design, bare.outline, bare.bleed, found.marks, found.edge, languages=languages, year=content.harvest
    )
    marks, drawn = dressed(scene)
    rows = rows_of(found.plan.content, marks, bare.outline, bare.inset)
    notes = notes_of(content, found, drawn, asked)
    return Placed(found.plan.content, asked.name, bare.outline, marks, rows, found.plan.moved, notes)


def notes_of(content: LabelContent, found: Try, drawn: Drawn | None, asked: Design) -> tuple[str, ...]:
    """What of words, symbols and ornament found no room."""
    return (*_notes(content, found), *left_out(drawn, asked))


def dressed(scene: Scene) -> tuple[tuple[Mark, ...], Drawn | None]:
    """The ground, the ornament in what the words left, and the words in the colours of what they stand on."""
    design, (across, up) = scene.design, scene.bleed
    edge = scene.outline.path(up, across)
    ground = (Shape(edge, fill=design.ground, behind=True, role="ground"),) if design.ground else ()
    hole = _hole(scene)
    own = ornament(design.ornament)
    drawn = own.draw(scene) if own else None
    if drawn is None:
        return (*ground, *hole, *scene.words), None
    bare = _bare_symbols(scene)
    shown = [mark for mark in drawn.marks if not any(_crosses(mark, box) for box in bare)]
    picture = (Clipped(edge, tuple(replace(mark, behind=True) for mark in shown)),) if shown else ()
    return (*ground, *picture, *hole, *(_on(mark, design, drawn.on) for mark in scene.words)), drawn


def _hole(scene: Scene) -> tuple[Shape, ...]:
    """The hole of a tag as a fine line to punch by, in a plain ring."""
    outline = scene.outline
    if not outline.hole:
        return ()
    ring, light = outline.hole_box.grown(RING), scene.design.under
    return (
        Shape(ellipse(ring), fill=light, behind=True, role="hole"),
        Shape(ellipse(outline.hole_box), stroke=_PUNCH, width=_PUNCH_WIDTH, behind=True, role="hole"),
    )


def _bare_symbols(scene: Scene) -> list[Box]:
    """The symbols with no patch of their own under them."""
    patches = [mark.box for mark in scene.words if isinstance(mark, Shape)]
    return [box for box in scene.symbols if not any(patch.holds(box) for patch in patches)]


def _crosses(mark: Shape, symbol: Box) -> bool:
    """Whether an ornament would be read with a symbol: it meets it, and is no light ground under the whole of it."""
    # A frame goes round it.
    if mark.role == "frame" and mark.fill is None and mark.box.grown(-2 * mark.width).holds(symbol):
        return False
    light = mark.fill is not None and contrast(mark.fill, BLACK) >= SYMBOL_CONTRAST
    return mark.box.meets(symbol) and not (light and mark.box.holds(symbol))


def _on(mark: Mark, design: Design, on: Mapping[Any, str]) -> Mark:
    """A line of words in its colour for the ground it stands on."""
    if not isinstance(mark, Text):
        return mark
    where = on.get(mark) or next((on[role] for role in mark.role.split("+") if role in on), None)
    if where is None:
        return mark
    role = mark.role if mark.role in design.type else "caution" if mark.role in ("caution", "wording") else "info"
    held = design.type[role]
    # What a symbol says for people stands with it on its patch.
    if mark.colour != held.colour:
        return mark
    return replace(mark, colour=(held.on_base if where == "base" else held.on_side) or held.colour)


def left_out(drawn: Drawn | None, asked: Design) -> Iterator[str]:
    """The ornament that gave way to the words, said aloud."""
    gone = drawn.left_out if drawn else ("ornament",) if ornament(asked.ornament) else ()
    if gone:
        yield f"There was no room for the {' and the '.join(gone)} of {asked.name}; a larger label has it."


def _notes(content: LabelContent, found: Try) -> Iterator[str]:
    if content.lot_bars != "none" and not any(block.says == "lot" for block in found.plan.codes):
        yield f"There was no room for the {LOT_SYMBOLS[content.lot_bars]}; the lot stands in plain letters."
    yield from (turned_note(content, block) for block in found.plan.codes if block.ladder)
    gone = [role for role in found.plan.moved if role in SLOGANS or role == "link"]
    if gone:
        yield f"There was no room for {', '.join(_FREE_WORDS[role] for role in gone)}."
    needed = [role.replace("_", " ") for role in found.plan.moved if role not in gone]
    if needed:
        yield f"Not on this label, and needed on another one of the jar: {', '.join(needed)}."
