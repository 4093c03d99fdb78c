"""The PDF writer: marks drawn onto pages, to the dot of the printer."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from io import BytesIO
from typing import Any

from labelkit.barcodes.dots import on_grid
from labelkit.errors.labels import GlyphsMissing
from labelkit.paper.fonts import Box, Face, face
from labelkit.paper.marks import BarcodeMark, Clipped, Colour, Mark, MatrixMark, Picture, Shape, Text, rectangle
from labelkit.paper.pdf_fonts import FileFonts
from labelkit.paper.pdf_operators import (
    POINTS_PER_UM,
    arc_operators,
    cmyk_fill_of,
    cmyk_stroke_of,
    fill_of,
    number_of,
    outline_of,
    points,
    stroke_of,
    symbol_operators,
    text_operators,
)


class PdfWriter:
    """A PDF file being written. Lengths come in micrometres from the lower left corner."""

    _fill: Callable[[Colour], str] = staticmethod(fill_of)
    _stroke: Callable[[Colour], str] = staticmethod(stroke_of)

    def __init__(
        self,
        title: str,
        *,
        author: str = "",
        lang: str = "en",
        subject: str = "",
        dpi: int = 600,
        in_cmyk: bool = False,
    ) -> None:
        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        # Without ASCII85 the same drawing takes a fifth less; the setting is read while pages are written.
        rl_config.useA85 = 0
        self.dpi = dpi
        if in_cmyk:
            self._fill, self._stroke = cmyk_fill_of, cmyk_stroke_of
        self._fonts = FileFonts()
        plain = self._fonts.name(face("sans-Regular"))
        # The stubs have a number where the library takes a name.
        self._canvas = Canvas(BytesIO(), pageCompression=1, invariant=1, lang=lang, initialFontName=plain)  # type: ignore[arg-type]
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author or "labelkit")
        self._canvas.setSubject(subject or title)
        self._canvas.setCreator("labelkit")
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._open = False

    @classmethod
    def onto(cls, canvas, fonts: FileFonts, dpi: int = 600) -> PdfWriter:
        """A writer onto a page that another program lays out; only :meth:`marks` may be called."""
        writer = cls.__new__(cls)
        writer._canvas, writer._fonts, writer.dpi = canvas, fonts, dpi
        writer._fill, writer._stroke = fill_of, stroke_of
        return writer

    def page(self, wide: int, high: int) -> None:
        """Begin a page of that size; the one before it is finished."""
        if self._open:
            self._canvas.showPage()
        self._canvas.setPageSize((wide * POINTS_PER_UM, high * POINTS_PER_UM))
        self._open = True

    def trim(self, box: Box, bleed: int, condition: str | None = None) -> None:
        """Say where the page is cut and how far its colour runs over (ISO 32000-1, 14.11.2), and what its colours are meant
        for: sRGB, or with a ``condition`` that characterized printing condition; none where it is empty."""
        for kind, edge in (("trim", box), ("bleed", box.grown(bleed))):
            sides = (edge.left, edge.bottom, edge.right, edge.top)
            self._canvas.setCropBox(tuple(um * POINTS_PER_UM for um in sides), kind)
        if condition is None:
            _intend_srgb(self._canvas._doc)
        elif condition:
            _intend(self._canvas._doc, _printing(condition))

    def draw(self, marks: Iterable[Mark], x: int = 0, y: int = 0, within: Box | None = None) -> None:
        """Draw marks with their origin at (x, y), moved to the nearest printer dot so that bars stay whole; ``within`` is
        what of them is seen."""
        self._ops(f"q 1 0 0 1 {self._dot(x)} {self._dot(y)} cm{_clip(within)}")
        self.marks(marks)
        self._ops("Q")

    def define(self, name: str, marks: Iterable[Mark], wide: int, high: int) -> None:
        """Keep marks under a name as a form: written once, stamped as often as wished."""
        self._canvas.beginForm(name, -9, -9, wide * POINTS_PER_UM + 9, high * POINTS_PER_UM + 9)
        self.marks(marks)
        self._canvas.endForm()

    def stamp(self, name: str, x: int, y: int, within: Box | None = None) -> None:
        """Stamp a form with its origin at (x, y), moved to the nearest printer dot."""
        self._ops(f"q 1 0 0 1 {self._dot(x)} {self._dot(y)} cm{_clip(within)}")
        self._canvas.doForm(name)
        self._ops("Q")

    def raw(self, operators: str) -> None:
        """Ready-made page operators."""
        self._ops(operators)

    def in_dots(self, operators: Iterable[str]) -> None:
        """Ready-made page operators whose unit is one dot of the printer."""
        side = f"{72 / self.dpi:.9g}"
        self._ops(f"q {side} 0 0 {side} 0 0 cm")
        self._canvas._code.extend(operators)
        self._ops("Q")

    def define_stamps(self, name: str, stamped: str, stamps: Iterable[tuple[tuple[int, int], Box | None]]) -> None:
        """Keep a page of stamps under a name as a form: each its corner, counted in dots, and what of it is seen."""
        self._canvas.beginForm(name, 0, 0, *self._canvas._pagesize)
        form = self.form_name(stamped)
        for (x, y), within in stamps:
            corner = f"{number_of(x * 72 / self.dpi)} {number_of(y * 72 / self.dpi)}"
            self._ops(f"q 1 0 0 1 {corner} cm{_clip(within)} {form} Do Q")
        self._canvas.endForm()

    def form_name(self, name: str) -> str:
        """What operators call a form, which is noted as used on the page that is open."""
        self._canvas._formsinuse.append(name)
        return "/" + self._canvas._doc.getXObjectName(name)

    def glyph_code(self, which: Face, sign: str) -> tuple[str, str]:
        """One letter as this file writes it: the name of the font's part that holds it, and its escaped code."""
        font, document = self._fonts.font(which), self._canvas._doc
        ((subset, code),) = font.splitString(sign, document)
        return font.getSubsetInternalName(subset, document), self._canvas._escape(code)

    def picture_font(self, name: str, glyphs: Sequence[str], wide: Sequence[float], high: float) -> None:
        """A font whose letters, from code 0 on, are drawn by operators (PDF: Type 3), one unit to one of text space."""
        from reportlab.pdfbase.pdfdoc import BasicFonts, PDFArray, PDFDictionary, PDFName, PDFObjectReference, PDFStream

        document = self._canvas._doc
        procedures = {f"g{code}": document.Reference(PDFStream(content=glyph)) for code, glyph in enumerate(glyphs)}
        font = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("Type3"),
                "Name": PDFName(name),
                "FontBBox": PDFArray([0, 0, max(wide), high]),
                "FontMatrix": PDFArray([1, 0, 0, 1, 0, 0]),
                "CharProcs": PDFDictionary(procedures),
                "FirstChar": 0,
                "LastChar": len(glyphs) - 1,
                "Widths": PDFArray(list(wide)),
                "Resources": PDFDictionary({}),
                "Encoding": PDFDictionary(
                    {"Type": PDFName("Encoding"), "Differences": PDFArray([0, *map(PDFName, procedures)])}
                ),
                "ToUnicode": document.Reference(PDFStream(content=_wordless(len(glyphs)))),
            }
        )
        font.__RefOnly__ = 1
        document.idToObject[BasicFonts].dict[name] = PDFObjectReference(document.Reference(font).name)

    def finish(self) -> bytes:
        """The whole file."""
        self._canvas.showPage()
        pdf = self._canvas.getpdfdata()
        self._fonts.close()
        return pdf

    def _dot(self, um: int) -> str:
        return number_of(on_grid(um, self.dpi) * 72 / self.dpi)

    def _ops(self, operators: str) -> None:
        self._canvas._code.append(operators)

    def marks(self, marks: Iterable[Mark]) -> None:
        """Marks where they lie, on the page or form that is open."""
        draw: dict[type, Callable[[Any], None]] = {
            Text: self._text,
            Shape: self._shape,
            BarcodeMark: self._symbol,
            MatrixMark: self._symbol,
            Picture: self._picture,
            Clipped: self._clipped,
        }
        for mark in marks:
            draw[type(mark)](mark)

    def _text(self, mark: Text) -> None:
        """One line, kerned and tracked: the sum of both stands between the letters in thousandths of the size."""
        if not mark.face.covers(mark.text):
            raise GlyphsMissing(mark.text, mark.face.missing(mark.text))
        written = arc_operators if mark.arc else text_operators
        line = written(mark, lambda sign: self.glyph_code(mark.face, sign), self._fill(mark.colour))
        if mark.halo is not None:
            self._ops(f"q {self._stroke(mark.halo)} {points(mark.size // 4)} w 1 J 1 j 1 Tr {line} Q")
        self._ops(line)

    def _shape(self, mark: Shape) -> None:
        paint = {(True, False): "f", (False, True): "S", (True, True): "B"}[
            mark.fill is not None, mark.stroke is not None
        ]
        settings = [self._fill(mark.fill)] if mark.fill is not None else []
        if mark.stroke is not None:
            ends = "1 J 1 j" if mark.round_ends else "0 J 0 j"
            settings += [self._stroke(mark.stroke), f"{points(mark.width)} w {ends}"]
        drawn = f"{' '.join(settings)} {outline_of(mark.path)} {paint}"
        if mark.dash:
            drawn = f"[{' '.join(map(points, mark.dash))}] 0 d {drawn} [] 0 d"
        if mark.opacity == 100:
            self._ops(drawn)
            return
        self._canvas.saveState()
        self._canvas.setFillAlpha(mark.opacity / 100)
        self._ops(drawn)
        self._canvas.restoreState()

    def _clipped(self, mark: Clipped) -> None:
        self._ops(f"q {outline_of(mark.path)} W n")
        self.marks(mark.marks)
        self._ops("Q")

    def _symbol(self, mark: BarcodeMark | MatrixMark) -> None:
        self._ops(f"{self._fill(mark.colour)} {symbol_operators(mark)} f")

    def _picture(self, mark: Picture) -> None:
        from reportlab.lib.utils import ImageReader

        x, y, wide, high = (um * POINTS_PER_UM for um in (mark.x, mark.y, mark.wide, mark.high))
        self._canvas.drawImage(ImageReader(BytesIO(mark.data)), x, y, wide, high, mask="auto")


def _intend_srgb(document: Any) -> None:
    """Put the output intent into the file (ISO 32000-1, 14.11.5): sRGB, with Pillow's own profile of it."""
    from PIL.ImageCms import ImageCmsProfile, createProfile
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream, PDFString

    profile = bytearray(ImageCmsProfile(createProfile("sRGB")).tobytes())
    # The day it was made and the sum over it (ICC.1:2010, 7.2) would make every file another.
    profile[24:36], profile[84:100] = bytes(12), bytes(16)
    stream = PDFStream(PDFDictionary({"N": 3}), bytes(profile))
    intent = {
        "Type": PDFName("OutputIntent"),
        "S": PDFName("GTS_PDFA1"),
        "OutputConditionIdentifier": PDFString("sRGB IEC61966-2.1"),
        "DestOutputProfile": document.Reference(stream),
    }
    _intend(document, intent)


def _printing(condition: str) -> dict[str, Any]:
    """The output intent of a printing condition that is registered with the International Color Consortium, by its name there."""
    from reportlab.pdfbase.pdfdoc import PDFName, PDFString

    return {
        "Type": PDFName("OutputIntent"),
        "S": PDFName("GTS_PDFX"),
        "OutputConditionIdentifier": PDFString(condition),
        "RegistryName": PDFString("http://www.color.org"),
    }


def _intend(document: Any, intent: dict[str, Any]) -> None:
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary

    catalog = document.Catalog
    catalog.__NoDefault__ = [*catalog.__NoDefault__, "OutputIntents"]
    catalog.OutputIntents = PDFArray([PDFDictionary(intent)])


def _clip(within: Box | None) -> str:
    return "" if within is None else f" {outline_of(rectangle(within))} W n"


def _wordless(count: int) -> str:
    """A map to Unicode (ISO 32000-1, 9.10.3) for letters that say nothing: copied or searched, each is a blank."""
    return (
        "/CIDInit/ProcSet findresource begin 12 dict begin begincmap/CMapName/Blank def/CMapType 2 def\n"
        "1 begincodespacerange<00><FF>endcodespacerange\n"
        f"1 beginbfrange<00><{count - 1:02X}>[{'<0020>' * count}]endbfrange\n"
        "endcmap CMapName currentdict/CMap defineresource pop end end"
    )
