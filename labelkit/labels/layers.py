"""Layers: one thing that differs from label to label, drawn for a whole page of labels at a stroke.

Lengths within a page are dots of the printer, so that every move from one label to the next is a whole number and no
rounding gathers. What a layer says of itself (font, size, colour) it says once a page; a label adds a move and its own
signs. Pages then differ in nothing but those signs, and the rest compresses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from operator import add

from labelkit.barcodes.dots import INCH_UM, on_grid
from labelkit.barcodes.linear import code128_patterns, code128_values
from labelkit.barcodes.matrix import MatrixCode
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BarcodeMark, MatrixMark, Text
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.pdf_operators import fill_of, number_of

#: What a layer holds for one label: how far it is shifted along the line, in dots, and what is shown there.
Piece = tuple[int, str]
#: The lower left corner of a label on its page, in dots.
Corner = tuple[int, int]

#: How the codes of the bars' font are written that have a meaning of their own in a PDF's string.
_ESCAPES = str.maketrans({"\n": "\\n", "\r": "\\r", "(": "\\(", ")": "\\)", "\\": "\\\\"})
_END = "\0"


class TextLayer:
    """A line of text with the lot in it; one that is centred under the bars stays so."""

    def __init__(self, writer: PdfWriter, mark: Text, lot: str, centred: bool, free: Callable[[Box], bool]) -> None:
        self._writer, self._mark, self._lot, self._centred, self._free = writer, mark, lot, centred, free
        self._font = writer.glyph_code(mark.face, mark.text[0])[0]
        self._elsewhere: set[str] = set()
        self._pairs, self._wide = Memo(self._pair), mark.width
        dots = writer.dpi / INCH_UM
        spread = f" {number_of(mark.tracking * dots)} Tc" if mark.tracking else ""
        self._head = f"BT {fill_of(mark.colour)} {self._font} {number_of(mark.size * dots)} Tf{spread}"
        self._start = mark.x * dots, mark.y * dots

    def ready(self, lots: Sequence[str]) -> list[Piece | None]:
        """Each lot's line; None where it does not fit, or has letters of another part of the font."""
        return [self._line(self._mark.text.replace(self._lot, lot)) for lot in lots]

    def drawn(self, corners: Iterable[Corner], pieces: Iterable[Piece]) -> str:
        """The operators of a page's labels."""
        return _lines(self._head, self._start, corners, pieces) + (" 0 Tc" if self._mark.tracking else "")

    def _line(self, text: str) -> Piece | None:
        mark = self._mark
        pairs = [self._pairs[pair] for pair in map(add, text, text[1:] + _END)]
        if self._elsewhere and self._elsewhere.intersection(text):
            return None
        units = sum([step for _, step in pairs])
        narrower = self._wide - (-(-units * mark.size // mark.face.units) + mark.tracking * (len(text) - 1))
        if narrower < 0 and not self._free(replace(mark, text=text).box):
            return None
        shift = on_grid(narrower // 2, self._writer.dpi) if self._centred else 0
        return shift, f"[({''.join([said for said, _ in pairs])})]TJ"

    def _pair(self, pair: str) -> tuple[str, int]:
        """A letter as it is written before the next one, and how far it moves the pen, in font units."""
        mark, sign, following = self._mark, pair[0], pair[1]
        part, code = self._writer.glyph_code(mark.face, sign)
        if part != self._font:
            self._elsewhere.add(sign)
        kern = 0 if following == _END else mark.face.kern(sign, following)
        between = kern * 1000 / mark.face.units
        return f"{code}){number_of(-between)}(" if between else code, mark.face.advance(sign) + kern


class BarcodeLayer:
    """A Code 128 of the lot, as letters of a small font whose glyphs are its symbol characters."""

    def __init__(self, writer: PdfWriter, mark: BarcodeMark, font: str) -> None:
        self._mark, high = mark, mark.high * writer.dpi / INCH_UM / mark.module.dots
        patterns = code128_patterns()
        writer.picture_font(font, [glyph(one, high) for one in patterns], [len(one) for one in patterns], high)
        self._head = f"BT {fill_of(mark.colour)} /{font} {mark.module.dots} Tf"
        left, low, quiet = mark.x_dots, mark.y * writer.dpi / INCH_UM, mark.bars.quiet[0] * mark.module.dots
        self._start = (left, round(low) + quiet) if mark.ladder else (left + quiet, low)

    def ready(self, lots: Sequence[str]) -> list[Piece | None]:
        """Each lot's bars, in the middle of the room there is; None where they need more."""
        room, module = len(self._mark.bars.modules), self._mark.module.dots
        found: list[Piece | None] = []
        for values in map(code128_values, lots):
            spare = room - 11 * len(values) - 2
            said = values.decode("ascii").translate(_ESCAPES)
            found.append((spare // 2 * module, f"({said})Tj") if spare >= 0 else None)
        return found

    def drawn(self, corners: Iterable[Corner], pieces: Iterable[Piece]) -> str:
        """The operators of a page's labels."""
        return _lines(self._head, self._start, corners, pieces, self._mark.ladder)


class MatrixLayer:
    """A QR Code or Data Matrix, as a picture of one bit a module."""

    def __init__(self, mark: MatrixMark, symbol: Callable[[str], MatrixCode]) -> None:
        self._mark, self._symbol = mark, symbol
        squares, dots = mark.squares, mark.module.dots
        self._start = mark.x_dots + squares.quiet * dots, mark.y_dots + squares.quiet * dots
        self._wide, side = squares.wide, squares.wide * dots
        self._head = (
            f"q 0 -{side} -{side} 0 {side} {side} cm BI/W {squares.high}/H {squares.wide}/IM true/D[1 0]/F/AHx ID "
        )

    def ready(self, lots: Sequence[str]) -> list[Piece | None]:
        """Each lot's squares; None where they are more than there is room for."""
        symbols = map(self._symbol, lots)
        return [(0, symbol.columns().hex()) if symbol.wide == self._wide else None for symbol in symbols]

    def drawn(self, corners: Iterable[Corner], pieces: Iterable[Piece]) -> str:
        """The operators of a page's labels."""
        (at_x, at_y), parts = (-self._start[0], -self._start[1]), []
        for (x, y), (_, said) in zip(corners, pieces, strict=True):
            parts.append(f"1 0 0 1 {x - at_x} {y - at_y} cm {self._head}{said}>EI Q ")
            at_x, at_y = x, y
        return f"q {fill_of(self._mark.colour)} {''.join(parts)}Q"


class Memo(dict):
    """What a question was answered, asked once for each key."""

    def __init__(self, ask: Callable) -> None:
        super().__init__()
        self._ask = ask

    def __missing__(self, key):
        self[key] = self._ask(key)
        return self[key]


def _lines(
    head: str, start: tuple[float, float], corners: Iterable[Corner], pieces: Iterable[Piece], upwards: bool = False
) -> str:
    """Lines of one kind, each said by how far it lies from the one before it.

    Lines that run upwards are mirrored as well, which no bar minds.
    """
    parts, last = [head], None
    for (x, y), (shift, said) in zip(corners, pieces, strict=True):
        at = (x, y + shift) if upwards else (x + shift, y)
        if last is None:
            turn = "0 1 1 0" if upwards else "1 0 0 1"
            parts.append(f" {turn} {number_of(at[0] + start[0])} {number_of(at[1] + start[1])} Tm{said}")
        else:
            move = at[0] - last[0], at[1] - last[1]
            along, across = move[::-1] if upwards else move
            parts.append(f" {along} {across} Td{said}")
        last = at
    return "".join(parts) + " ET"


def glyph(pattern: str, high: float = 1) -> str:
    """The operators of one symbol character: its bars, one unit a module, so many units high.

    >>> glyph("11010010000", 30)
    '11 0 0 0 11 30 d1 0 0 2 30 re 3 0 1 30 re 6 0 1 30 re f'
    """
    tall = number_of(high)
    bars = [f"{bar.start()} 0 {bar.end() - bar.start()} {tall} re" for bar in re.finditer("1+", pattern)]
    return f"{len(pattern)} 0 0 0 {len(pattern)} {tall} d1 {' '.join(bars)} f"
