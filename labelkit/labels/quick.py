"""Ten thousand labels, each with its own lot, drawn fast and small.

What the labels share is one form, written once. What differs, a line of text, bars and squares, is a few operators a
label: bars are letters of a small font whose glyphs are the symbols of Code 128, squares are a picture of one bit a
module. Both print exactly as the rectangles do; the decoder reads them alike.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from labelkit.labels.barcodes.linear import Bars, code128
from labelkit.labels.barcodes.matrix import Squares, data_matrix, qr
from labelkit.labels.fonts import Box, Face, face
from labelkit.labels.ink import Ink
from labelkit.labels.marks import BarsMark, Clipped, Mark, SquaresMark, Text
from labelkit.labels.operators import POINTS_PER_UM, text_operators
from labelkit.labels.place.placed import Placed

BAR_FONT = "LkBars"
SYMBOL, STOP = 11, 13


@dataclass(frozen=True)
class Parts:
    """A placed label taken apart: what all share, and the marks that carry the lot."""

    shared: tuple[Mark, ...]
    own: tuple[Text | BarsMark | SquaresMark, ...]


def taken_apart(placed: Placed, lot: str, link: str = "") -> Parts:
    """The marks of a label that change with its lot or the lot's link, and the others."""

    def changes(mark: Mark) -> bool:
        if isinstance(mark, BarsMark):
            return mark.bars.text == lot
        if isinstance(mark, SquaresMark):
            return mark.squares.text in (lot, link)
        return isinstance(mark, Text) and lot in mark.text

    own = tuple(filter(changes, placed.marks))
    return Parts(tuple(mark for mark in placed.marks if not changes(mark)), own)


@lru_cache(maxsize=1)
def symbols() -> dict[str, int]:
    """Every symbol of Code 128 as its eleven modules, and the stop with its last bar, each with a code of the font.

    They are gathered from symbols that use them all, so that python-barcode stays the only one to know them.
    """
    found: dict[str, int] = {}
    texts = (
        [chr(a) + chr(a + 1) for a in range(32, 126)]
        + [f"{a:02}{a + 1:02}{a:02}" for a in range(0, 99)]
        + ["1234A", "A1234B"]
    )
    for text in texts:
        for symbol in cut(code128(text).modules):
            found.setdefault(symbol, len(found))
    return found


def cut(modules: str) -> list[str]:
    """A symbol's modules cut into its signs; the last is the stop.

    >>> [len(part) for part in cut(code128("L1").modules)]
    [11, 11, 11, 11, 13]
    """
    body = len(modules) - STOP
    return [modules[at : at + SYMBOL] for at in range(0, body, SYMBOL)] + [modules[body:]]


def glyph(symbol: str) -> str:
    """The operators of one symbol: its bars, one unit a module, one unit high."""
    bars, at = [], 0
    while at < len(symbol):
        end = at
        while end < len(symbol) and symbol[end] == symbol[at]:
            end += 1
        if symbol[at] == "1":
            bars.append(f"{at} 0 {end - at} 1 re")
        at = end
    return f"{len(symbol)} 0 0 0 {len(symbol)} 1 d1 {' '.join(bars)} f"


class QuickPen:
    """Draws the lot of each label as few operators; one for a file."""

    def __init__(self, ink: Ink, placed: Placed, lot: str, link_of: Callable[[str], str] | None) -> None:
        self.ink, self.placed, self.lot, self.link_of = ink, placed, lot, link_of
        self.parts = taken_apart(placed, lot, link_of(lot) if link_of else "")
        self.form = ""
        self._others = [
            mark.box
            for mark in self.parts.shared
            if not isinstance(mark, Clipped) and not getattr(mark, "behind", False)
        ]
        self._bars = next((mark for mark in self.parts.own if isinstance(mark, BarsMark)), None)
        self._signs: dict[Face, dict[str, tuple[str, str]]] = {}
        self._widths: dict[Text, int] = {}
        self._centred = {mark for mark in self.parts.own if isinstance(mark, Text) and self._under_bars(mark)}
        self._codes = [_octal(code) for code in range(256)]

    def page(self) -> None:
        """Get ready for a new page; on the first one, write down what the labels share."""
        if self.form:
            self.form = self.ink.form_name("L")
            return
        outline = self.placed.outline
        self.ink.define("L", self.parts.shared, outline.wide, outline.high)
        self.form = self.ink.form_name("L")
        if self._bars is not None:
            known = symbols()
            self.ink.picture_font(BAR_FONT, [glyph(symbol) for symbol in known], [len(symbol) for symbol in known], 1)

    def label(self, lot: str, x: int, y: int) -> bool:
        """One label at (x, y); False, and nothing drawn, when this lot's text or bars do not fit where the first one's do."""
        operators = []
        for mark in self.parts.own:
            made = self._own(mark, lot)
            if made is None:
                return False
            operators.append(made)
        self.ink.raw(f"q 1 0 0 1 {self.ink.corner(x, y)} cm {self.form} Do {' '.join(operators)} Q")
        return True

    def _own(self, mark, lot: str) -> str | None:
        if isinstance(mark, Text):
            return self._text(mark, lot)
        if isinstance(mark, BarsMark):
            bars = code128(lot)
            return self._bar_text(mark, bars) if bars.across <= mark.bars.across else None
        squares = data_matrix(lot) if mark.squares.text == self.lot else qr(self.link_of(lot))
        return picture(mark, squares) if squares.wide == mark.squares.wide else None

    def _text(self, mark: Text, lot: str) -> str | None:
        """The line that says the lot; one that is centred under the bars stays so."""
        text = mark.text.replace(self.lot, lot)
        narrower = self._width(mark) - mark.face.width(text, mark.size, mark.tracking)
        if narrower < 0 and not self._free(replace(mark, text=text).box):
            return None
        x = mark.x + narrower // 2 if mark in self._centred else mark.x
        return text_operators(
            Text(mark.face, mark.size, text, x, mark.y, mark.colour, mark.tracking), self._sign_of(mark.face)
        )

    def _width(self, mark: Text) -> int:
        if mark not in self._widths:
            self._widths[mark] = mark.width
        return self._widths[mark]

    def _sign_of(self, which: Face) -> Callable[[str], tuple[str, str]]:
        """The letters of a face as this file writes them, each asked for once."""
        known = self._signs.setdefault(which, {})

        def sign_of(sign: str) -> tuple[str, str]:
            if sign not in known:
                known[sign] = self.ink.sign(which, sign)
            return known[sign]

        return sign_of

    def _under_bars(self, mark: Text) -> bool:
        if self._bars is None:
            return False
        box, bars = mark.box, self._bars.box
        return abs((box.left + box.right) - (bars.left + bars.right)) < 400

    def _free(self, box: Box) -> bool:
        return self.placed.outline.holds(box, 1000) and not any(box.meets(other) for other in self._others)

    def _bar_text(self, mark: BarsMark, bars: Bars) -> str:
        """Bars as letters: as wide as their modules, as high as they are to stand."""
        known, dot = symbols(), 72 / mark.module.dpi
        side = mark.module.dots * dot
        text = "".join(self._codes[known[symbol]] for symbol in cut(bars.modules))
        spare = (mark.bars.across - bars.across) // 2
        x, y, high = mark.x_dots * dot, mark.y * POINTS_PER_UM, mark.high * POINTS_PER_UM
        along = (bars.kind.quiet[0] + spare) * mark.module.dots * dot
        if mark.ladder:
            # The letters run upwards; their bars are mirrored as well, which no rectangle minds.
            low = round(y / dot) * dot + along
            return f"BT 0 g /{BAR_FONT} 1 Tf 0 {side:.4g} {high:.5g} 0 {x:.6g} {low:.6g} Tm ({text}) Tj ET"
        return f"BT 0 g /{BAR_FONT} 1 Tf {side:.4g} 0 0 {high:.5g} {x + along:.6g} {y:.6g} Tm ({text}) Tj ET"


def widest(lots: Sequence[str]) -> str:
    """The lot whose bars and letters take most room: the one to place, so that all others fit where it does.

    >>> widest(["L26195AXR", "L26195A22"])
    'L26195AXR'
    """
    letters, across = face("sans-Regular"), {}

    def room(lot: str) -> tuple[int, int]:
        # How many symbols a text takes hangs on where its figures stand, not on which they are.
        pattern = re.sub(r"[0-9]", "0", re.sub(r"[A-Z]", "A", lot))
        if pattern not in across:
            across[pattern] = code128(lot).across
        return across[pattern], sum(map(letters.advance, lot))

    return max(lots, key=room)


def _octal(code: int) -> str:
    sign = chr(code)
    return sign if " " <= sign <= "~" and sign not in "()\\" else f"\\{code:03o}"


def picture(mark: SquaresMark, squares: Squares) -> str:
    """Squares as a picture of one bit a module, laid on its side.

    Symbols of one batch begin with the same signs, and those fill the same columns from the right; laid on its side a
    symbol has them in neighbouring bytes, which compress.
    """
    dot, side = 72 / mark.module.dpi, squares.wide * mark.module.dots * 72 / mark.module.dpi
    x = mark.x_dots * dot + squares.quiet * mark.module.dots * dot
    y = mark.y_dots * dot + squares.quiet * mark.module.dots * dot
    flat = b"".join(squares.rows).translate(_DIGITS)
    blank = b"0" * (-squares.high % 8)
    columns = b"".join([flat[place :: squares.wide] + blank for place in range(squares.wide)])
    data = int(columns, 2).to_bytes(len(columns) // 8, "big").decode("latin-1")
    head = f"BI/W {squares.high}/H {squares.wide}/IM true/D[1 0]ID"
    return f"q 0 g 0 -{side:.6g} -{side:.6g} 0 {x + side:.6g} {y + side:.6g} cm {head} {data}\nEI Q"


_DIGITS = bytes([48, 49]) + bytes(254)
