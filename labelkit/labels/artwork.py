"""Artwork for a print shop: one label of each lot as a file of its own, with its trim, its bleed and, if wished, crop marks.

PDF keeps letters as letters of an embedded font, SVG as outlines, PNG as dots. Colours are sRGB and the PDF says so in
its output intent (ISO 32000-1, 14.11.5); black and greys are DeviceGray, so that small black letters print with black
alone. On wish a PDF is in CMYK, by plain arithmetic and with the printing condition the shop named; pictures in it stay
as they are. No kept library here proves PDF/X or PDF/A, so no file claims to be one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from labelkit.barcodes.dots import on_grid
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import Placed
from labelkit.labels.outline import Outline
from labelkit.labels.printing import SheetPrint, as_proof, author_of
from labelkit.labels.sheets import Printer, Sheet
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, Text, line, rectangle
from labelkit.paper.outlines import outlined
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import preview_png
from labelkit.paper.svg import svg

SORTS = ("pdf", "svg", "png")
#: Common practice of print shops, no source: 3 mm over the edge, crop marks of 5 mm that begin 1 mm beyond it.
BLEED = 3_000
MOST_BLEED = 10_000
MARK_AWAY, MARK_LONG, MARK_WIDTH = 1_000, 5_000, 90


@dataclass(frozen=True, slots=True)
class Artwork:
    """How artwork is wanted: ``sort`` pdf, svg or png; how far its colour runs over the edge, micrometres; crop marks;
    of a PDF whether its colours are CMYK, and the registered printing condition they are meant for."""

    sort: str
    bleed: int = BLEED
    crop_marks: bool = False
    in_cmyk: bool = False
    condition: str = ""

    @property
    def margin(self) -> int:
        """From the edge of the file to the edge of the label, micrometres."""
        return self.bleed + (MARK_AWAY + MARK_LONG if self.crop_marks else 0)


def draw_artwork(
    content: LabelContent,
    lots: Sequence[str],
    sheet: Sheet,
    design: Design,
    wanted: Artwork,
    *,
    link_of: Callable[[str], str] | None = None,
    printer: Printer | None = None,
    proof: bool = False,
) -> SheetPrint:
    """One label for each lot, as large as the sheet's labels, each a file of its own."""
    dpi = (printer or Printer(dpi=600)).dpi
    outline = sheet.outline
    contents = [content.for_lot(lot, link_of) if len(lots) > 1 else content for lot in lots]
    reach = (max(wanted.bleed, 1),) * 2
    placed = [place(one, outline, design, dpi=dpi, bleed=reach) for one in contents]
    placed = [as_proof(one) for one in placed] if proof else placed
    files = tuple((lot, artwork(one, wanted, dpi)) for lot, one in zip(lots, placed, strict=True))
    return SheetPrint(files[0][1], len(files), len(files), tuple(placed), files=files)


def artwork(placed: Placed, wanted: Artwork, dpi: int) -> bytes:
    """One placed label as a file."""
    if wanted.sort == "svg":
        return _svg(placed, wanted)
    pdf = _pdf(placed, wanted, dpi)
    return pdf if wanted.sort == "pdf" else preview_png(pdf, 1, dpi)


def _pdf(placed: Placed, wanted: Artwork, dpi: int) -> bytes:
    content, outline = placed.content, placed.outline
    writer = PdfWriter(_title(placed), author=author_of(content), lang=content.lang, dpi=dpi, in_cmyk=wanted.in_cmyk)
    # The label's corner lies on a dot of the printer; the boxes are reckoned from there.
    edge = -(-on_grid(wanted.margin, dpi) * 25_400 // dpi)
    trim = Box(edge, edge, edge + outline.wide, edge + outline.high)
    writer.page(outline.wide + 2 * edge, outline.high + 2 * edge)
    writer.trim(trim, wanted.bleed, wanted.condition if wanted.in_cmyk else None)
    writer.draw(placed.marks, edge, edge, outline.box.grown(wanted.bleed))
    if wanted.crop_marks:
        writer.draw(_crop_marks(outline, wanted), edge, edge)
    return writer.finish()


def _svg(placed: Placed, wanted: Artwork) -> bytes:
    outline = placed.outline
    seen = outline.box.grown(wanted.bleed)
    drawn: list[Mark] = [outlined(mark) if isinstance(mark, Text) else mark for mark in placed.marks]
    # What runs further than the bleed is cut off by the picture's own edge, or covered where crop marks stand.
    if wanted.crop_marks:
        drawn += [*_paper_round(seen, wanted), *_crop_marks(outline, wanted)]
    size = f"{outline.wide / 1000:g} × {outline.high / 1000:g} mm"
    said = " ".join(mark.text for mark in placed.marks if isinstance(mark, Text))
    about = f"Trim {size}, {outline.shape}; bleed {wanted.bleed / 1000:g} mm. {said}"
    return svg(drawn, outline.wide, outline.high, _title(placed), about=about, over=wanted.margin).encode("utf-8")


def _paper_round(seen: Box, wanted: Artwork) -> list[Shape]:
    """Bare paper round the bleed, where the crop marks stand."""
    outer = seen.grown(wanted.margin - wanted.bleed)
    strips = (
        Box(outer.left, outer.bottom, outer.right, seen.bottom),
        Box(outer.left, seen.top, outer.right, outer.top),
        Box(outer.left, seen.bottom, seen.left, seen.top),
        Box(seen.right, seen.bottom, outer.right, seen.top),
    )
    return [Shape(rectangle(one), fill=(255, 255, 255), role="crop") for one in strips]


def _crop_marks(outline: Outline, wanted: Artwork) -> list[Shape]:
    """Two strokes at each corner, beyond the bleed, in line with the edges of the label."""
    near, far = wanted.bleed + MARK_AWAY, wanted.margin
    paths = []
    for x, right in ((0, -1), (outline.wide, 1)):
        for y, up in ((0, -1), (outline.high, 1)):
            paths += [line(x + right * near, y, x + right * far, y), line(x, y + up * near, x, y + up * far)]
    return [Shape(path, stroke=(0, 0, 0), width=MARK_WIDTH, role="crop") for path in paths]


def _title(placed: Placed) -> str:
    name = placed.content.of("name")
    return f"{name.text if name else placed.content.kind}, {placed.content.kind}"
