"""Ten thousand labels, each with its own lot, drawn fast and small.

What the labels of a page share is one form, written once. What differs, a line of text, bars and squares, is drawn in
layers (:mod:`.layers`): bars are letters of a small font whose glyphs are the symbol characters of Code 128, squares are
a picture of one bit a module. Both print exactly as the rectangles do; the decoder reads them alike.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from string import ascii_lowercase, ascii_uppercase, digits
from types import MappingProxyType

from labelkit.barcodes.dots import on_grid
from labelkit.barcodes.linear import code128
from labelkit.barcodes.matrix import data_matrix, qr
from labelkit.labels.layers import BarcodeLayer, Corner, MatrixLayer, Memo, Piece, TextLayer
from labelkit.labels.layout.placed import Placed
from labelkit.paper.fonts import Box, face
from labelkit.paper.marks import BarcodeMark, Clipped, Mark, MatrixMark, Text
from labelkit.paper.pdf import PdfWriter

#: So many labels are made ready at a time.
AT_ONCE = 500
_NEXT = {
    ord(sign): after
    for row in (digits, ascii_uppercase, ascii_lowercase)
    for sign, after in zip(row, row[1:] + row[:1], strict=True)
}
_PATTERN = {code: "0" if 48 <= code < 58 else "A" for code in range(32, 127)}


class BatchWriter:
    """Draws the labels of a run a page at a time; one for a file.

    ``placed`` is the label of ``lot``; ``other`` is a lot :func:`like` it, with its label placed. That one is not drawn
    from: it shows that what is taken to change does, and that nothing else does. Where it shows otherwise (a lot 30 on
    a line that also says 30 June, a symbol that has the lot in it among other data), each label is placed by itself. ``seen`` tells by a label's corner how
    far its colour may run over its edge; all of it where nothing is told.
    """

    def __init__(
        self,
        writer: PdfWriter,
        placed: Placed,
        lot: str,
        link_of: Callable[[str], str] | None,
        other: tuple[str, Placed],
        seen: Mapping[tuple[int, int], Box | None] = MappingProxyType({}),
    ) -> None:
        self._writer, self._placed, self._lot, self._link_of, self._seen = writer, placed, lot, link_of, seen
        alike = {"", *map(said_by, other[1].marks)}
        own = [mark for mark in placed.marks if said_by(mark) not in alike]
        shared = [mark for mark in placed.marks if said_by(mark) in alike]
        said = [*filter(None, map(said_by, shared)), *(self._of_lot(mark, other[0]) for mark in own)]
        self._certain = sorted(said) == sorted(filter(None, map(said_by, other[1].marks)))
        self._others = [
            mark.box for mark in shared if not isinstance(mark, Clipped) and not getattr(mark, "behind", False)
        ]
        self._bars = next((mark for mark in own if isinstance(mark, BarcodeMark)), None)
        writer.define("L", shared, placed.outline.wide, placed.outline.high)
        self._layers = [self._layer(mark, place) for place, mark in enumerate(own)] if self._certain else []
        self._corners = Memo(lambda place: tuple(on_grid(um, writer.dpi) for um in place))
        self._backs: dict[tuple[Corner, ...], str] = {}

    def ready(self, lots: Sequence[str]) -> list[tuple[Piece, ...] | None]:
        """Each lot's label; None for one whose text or symbols do not fit where the first one's do."""
        if not self._certain:
            return [None] * len(lots)
        if not self._layers:
            return [()] * len(lots)
        each = list(dict.fromkeys(lots))
        made = zip(*(layer.ready(each) for layer in self._layers), strict=True)
        ready = {lot: None if None in pieces else pieces for lot, pieces in zip(each, made, strict=True)}
        return [ready[lot] for lot in lots]

    def draw(self, labels: Sequence[tuple[tuple[int, int], tuple[Piece, ...]]]) -> None:
        """Labels onto the page that is open, each with its lower left corner in micrometres."""
        if labels:
            places, ready = zip(*labels, strict=True)
            corners = tuple([self._corners[place] for place in places])
            self._writer.raw(f"{self._writer.form_name(self._back(corners, places))} Do")
            pieces = zip(*ready, strict=True)
            self._writer.in_dots([layer.drawn(corners, held) for layer, held in zip(self._layers, pieces, strict=True)])

    def _back(self, corners: tuple[Corner, ...], places: Sequence[tuple[int, int]]) -> str:
        """What all labels share, at each of the corners: the name of a form."""
        if corners not in self._backs:
            self._backs[corners] = f"P{len(self._backs)}"
            seen = map(self._seen.get, places)
            self._writer.define_stamps(self._backs[corners], "L", zip(corners, seen, strict=True))
        return self._backs[corners]

    def _layer(self, mark: Mark, place: int) -> TextLayer | BarcodeLayer | MatrixLayer:
        """How a mark of the lot is drawn for all labels; only text and codes say anything."""
        if isinstance(mark, Text):
            return TextLayer(self._writer, mark, self._lot, self._under_bars(mark), self._free)
        if isinstance(mark, BarcodeMark):
            return BarcodeLayer(self._writer, mark, f"LkBars{place}")
        assert isinstance(mark, MatrixMark)
        says = str if mark.squares.text == self._lot or self._link_of is None else self._link_of
        encode = data_matrix if mark.squares.kind == "Data Matrix" else qr
        return MatrixLayer(mark, lambda lot: encode(says(lot)))

    def _of_lot(self, mark: Mark, lot: str) -> str:
        """What a mark says on the label of another lot; nothing, where that is not known."""
        said = said_by(mark)
        if isinstance(mark, Text):
            return said.replace(self._lot, lot)
        if said == self._lot:
            return lot
        return self._link_of(lot) if self._link_of and said == self._link_of(self._lot) else ""

    def _under_bars(self, mark: Text) -> bool:
        if self._bars is None:
            return False
        box, bars = mark.box, self._bars.box
        return abs((box.left + box.right) - (bars.left + bars.right)) < 400

    def _free(self, box: Box) -> bool:
        return self._placed.outline.holds(box, 1000) and not any(box.meets(other) for other in self._others)


def said_by(mark: Mark) -> str:
    """What a mark says to whoever reads or scans it; nothing, if it is an ornament."""
    if isinstance(mark, Text):
        return mark.text
    return getattr(getattr(mark, "bars", None) or getattr(mark, "squares", None), "text", "")


def like(lot: str) -> str:
    """A lot of the same sort and much the same width, that need not exist: figures and letters change places.

    >>> like("L26195AXR"), like("L1111"), like("L-7")
    ('A61952XRL', 'M2222', 'M-8')
    """
    places = [[place for place, sign in enumerate(lot) if sort(sign)] for sort in (str.isdigit, str.isalpha)]
    signs = list(lot)
    for one in places:
        for place, after in zip(one, [*one[1:], *one[:1]], strict=True):
            signs[place] = lot[after]
    changed = "".join(signs)
    return changed if changed != lot else lot.translate(_NEXT)


def widest(lots: Sequence[str]) -> str:
    """The lot whose bars and letters take most room: the one to place, so that all others fit where it does.

    >>> widest(["L26195AXR", "L26195A22"])
    'L26195AXR'
    """
    advance, across = Memo(face("sans-Regular").advance), Memo(lambda pattern: code128(pattern).across)

    def room(lot: str) -> tuple[int, int]:
        # How many symbols a text takes hangs on where its figures stand, not on which they are.
        return across[lot.translate(_PATTERN)], sum([advance[sign] for sign in lot])

    return max(lots, key=room)
