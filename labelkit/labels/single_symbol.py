"""A symbol by itself, quiet zones included, on a page of just its size: for a print shop, or for artwork of one's own."""

from __future__ import annotations

from dataclasses import dataclass

from labelkit.barcodes.dots import Module, snapped
from labelkit.barcodes.linear import GUARD, TILL_TEXT, Barcode, must_fit_jar
from labelkit.barcodes.matrix import LEAST_MODULE, USUAL_MODULE, MatrixCode
from labelkit.errors.labels import TooWideForJar
from labelkit.labels.layout.codes import FIGURE, FIGURE_GAP, till_figures
from labelkit.measures import Length
from labelkit.paper.fonts import face_for
from labelkit.paper.marks import BLACK, BarcodeMark, Mark, MatrixMark, Text

CAPTION, GAP, AIR = 2600, 900, 300
SMALLEST = 1500


@dataclass(frozen=True)
class SingleSymbol:
    """The marks of one symbol with the size of its page in micrometres."""

    marks: tuple[Mark, ...]
    wide: int
    high: int


def module_for(
    symbol: Barcode | MatrixCode, dpi: int, wanted: Length | None = None, diameter: Length | None = None
) -> Module:
    """The module of a symbol: as wished or as usual, in whole dots, and for a round jar as much narrower as it must be.

    Raises :class:`~labelkit.errors.labels.ModuleOutOfRange` where no whole number of dots is lawful, and
    :class:`~labelkit.errors.labels.TooWideForJar` where even the narrowest bars bend too far.

    An EAN-13 of 95 modules on a jar of 55 mm: a sixth of the way round is 28.7 mm, so 0.3032 mm at most; at 600 dpi seven
    dots are 0.2963 mm.

    >>> from labelkit.barcodes.linear import ean13
    >>> module_for(ean13("9521234543213"), 600, diameter=Length.of_mm(55)).dots
    7
    """
    if isinstance(symbol, MatrixCode):
        return snapped(wanted or USUAL_MODULE, dpi, LEAST_MODULE, what=f"The {symbol.kind}")
    kind = symbol.kind
    module = snapped(wanted or kind.usual_x, dpi, kind.least_x, kind.most_x, what=f"The {kind.name}")
    if diameter is None:
        return module
    narrowest = snapped(kind.least_x, dpi, kind.least_x, kind.most_x, what=f"The {kind.name}")
    for dots in range(module.dots, narrowest.dots - 1, -1):
        try:
            must_fit_jar(symbol, Module(dots, dpi), diameter)
        except TooWideForJar:
            if wanted or dots == narrowest.dots:
                raise
        else:
            return Module(dots, dpi)
    return module


def draw_symbol(
    symbol: Barcode | MatrixCode, module: Module, bar_high: Length | None = None, caption: bool = True
) -> SingleSymbol:
    """The symbol with its text for people below, on a page that ends where its quiet zones do."""
    if isinstance(symbol, Barcode):
        wide = module.um(symbol.across)
        high = (bar_high or symbol.kind.usual_height).um
    else:
        wide = module.um(symbol.wide + 2 * symbol.quiet)
        high = module.um(symbol.high + 2 * symbol.quiet)
    if caption and isinstance(symbol, Barcode) and symbol.kind.name in TILL_TEXT:
        below = -(-(FIGURE + FIGURE_GAP + AIR) * module.dpi // 25_400) * 25_400 // module.dpi
        bars = BarcodeMark(symbol, module, 0, below, high, guard=module.um(GUARD))
        return SingleSymbol((bars, *till_figures(bars, BLACK)), wide, below + high)
    line = _line(symbol.text, wide) if caption else None
    # The page begins on a whole dot below the symbol, so that bars and squares keep their dots.
    foot = -(-((line.box.height + GAP + AIR) if line else 0) * module.dpi // 25_400)
    y = foot * 25_400 // module.dpi
    mark: Mark = (
        BarcodeMark(symbol, module, 0, y, high) if isinstance(symbol, Barcode) else MatrixMark(symbol, module, 0, foot)
    )
    if line is None:
        return SingleSymbol((mark,), wide, y + high)
    box = line.box
    # Under the bars themselves: the quiet zones of an EAN-13 are not alike.
    aside = module.um(symbol.quiet[0]) - module.um(symbol.quiet[1]) if isinstance(symbol, Barcode) else 0
    moved = Text(line.face, line.size, line.text, (wide + aside - box.width) // 2 - box.left, AIR - box.bottom)
    return SingleSymbol((mark, moved), wide, y + high)


def _line(text: str, wide: int) -> Text | None:
    """The text in one line as wide as the symbol at most; none where it would be too small to read."""
    face, size = face_for("sans-Regular", text), CAPTION
    while size > SMALLEST and face.width(text, size) > wide:
        size -= 100
    return Text(face, size, text, 0, 0) if face.width(text, size) <= wide else None


def pdf_of(alone: SingleSymbol, title: str, dpi: int) -> bytes:
    """The page as PDF: vector, with its text embedded."""
    from labelkit.paper.pdf import PdfWriter

    writer = PdfWriter(title, dpi=dpi)
    writer.page(alone.wide, alone.high)
    writer.draw(alone.marks)
    return writer.finish()
