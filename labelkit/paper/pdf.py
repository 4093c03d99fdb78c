"""Labels: marks drawn onto pages, to the dot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO

from labelkit.barcodes.dots import on_grid
from labelkit.paper.fonts import Face, face
from labelkit.paper.marks import BarsMark, Clipped, Mark, Picture, Shape, SquaresMark, Text
from labelkit.paper.pdf_fonts import FileFonts
from labelkit.paper.pdf_objects import packed_file, stream
from labelkit.paper.pdf_operators import (
    POINTS_PER_UM,
    bar_operators,
    fill_of,
    number_of,
    outline_of,
    points,
    square_operators,
    stroke_of,
    text_operators,
)


class Ink:
    """A PDF being drawn. Lengths come in micrometres from the lower left corner."""

    def __init__(self, title: str, *, author: str = "", lang: str = "en", subject: str = "", dpi: int = 600) -> None:
        from reportlab import rl_config
        from reportlab.pdfbase.pdfdoc import BasicFonts, PDFDictionary, PDFObjectReference
        from reportlab.pdfgen.canvas import Canvas

        # Without ASCII85 the same drawing takes a fifth less; the setting is read while pages are written.
        rl_config.useA85 = 0
        self.dpi = dpi
        self._fonts = FileFonts()
        plain = self._fonts.name(face("sans-Regular"))
        self._canvas = Canvas(BytesIO(), pageCompression=1, invariant=1, lang=lang, initialFontName=plain)
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author or "labelkit")
        self._canvas.setSubject(subject or title)
        self._canvas.setCreator("labelkit")
        self._canvas.setViewerPreference("PrintScaling", "None")
        # What pages draw from is the same for all; the forms are known when the last page is.
        self._forms = PDFDictionary()
        self._resources = PDFDictionary({"Font": PDFObjectReference(BasicFonts), "XObject": self._forms})
        self._open, self._last = False, (None, 0)

    @classmethod
    def onto(cls, canvas, fonts: FileFonts, dpi: int = 600) -> Ink:
        """Ink on a page that somebody else lays out; only :meth:`marks` may be asked of it."""
        ink = cls.__new__(cls)
        ink._canvas, ink._fonts, ink.dpi = canvas, fonts, dpi
        return ink

    def page(self, wide: int, high: int) -> None:
        """Begin a page of that size; the one before it is finished."""
        if self._open:
            self._close()
        self._canvas.setPageSize((wide * POINTS_PER_UM, high * POINTS_PER_UM))
        self._open = True

    def draw(self, marks: Iterable[Mark], x: int = 0, y: int = 0) -> None:
        """Draw marks with their origin at (x, y), moved to the nearest printer dot so that bars stay whole."""
        self._ops(f"q 1 0 0 1 {self._dot(x)} {self._dot(y)} cm")
        self.marks(marks)
        self._ops("Q")

    def define(self, name: str, marks: Iterable[Mark], wide: int, high: int) -> None:
        """Keep marks under a name as a form: written once, stamped as often as wished."""
        self._canvas.beginForm(name, -9, -9, wide * POINTS_PER_UM + 9, high * POINTS_PER_UM + 9)
        self.marks(marks)
        self._canvas.endForm()

    def stamp(self, name: str, x: int, y: int) -> None:
        """Stamp a form with its origin at (x, y), moved to the nearest printer dot."""
        self._ops(f"q 1 0 0 1 {self._dot(x)} {self._dot(y)} cm")
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

    def define_stamps(self, name: str, stamped: str, corners: Iterable[tuple[int, int]]) -> None:
        """Keep a page of stamps under a name as a form; corners are counted in dots."""
        self._canvas.beginForm(name, 0, 0, *self._canvas._pagesize)
        form = self.form_name(stamped)
        for x, y in corners:
            self._ops(f"q 1 0 0 1 {number_of(x * 72 / self.dpi)} {number_of(y * 72 / self.dpi)} cm {form} Do Q")
        self._canvas.endForm()

    def define_squares(self, wide: int, high: int, modules: bytes) -> str:
        """Keep a picture of one bit a module, 1 where dark; what operators call it on any page."""
        from reportlab.pdfbase.pdfdoc import xObjectName

        kept = xObjectName(f"S{len(self._forms.dict)}")
        entries = f"/Type/XObject/Subtype/Image/Width {wide}/Height {high}/ImageMask true/Decode[1 0]"
        self._forms.dict[kept] = self._canvas._doc.Reference(stream(modules, entries.encode()), kept)
        return "/" + kept

    def form_name(self, name: str) -> str:
        """What operators call a form, which is noted as used on the page that is open."""
        self._canvas._formsinuse.append(name)
        return "/" + self._canvas._doc.getXObjectName(name)

    def sign(self, which: Face, sign: str) -> tuple[str, str]:
        """One letter as this file writes it: the name of the font's part that holds it, and its escaped code."""
        font, document = self._fonts.font(which), self._canvas._doc
        ((subset, code),) = font.splitString(sign, document)
        return font.getSubsetInternalName(subset, document), self._canvas._escape(code)

    def picture_font(
        self, name: str, glyphs: Sequence[str], wide: Sequence[float], high: float, first: int = 0
    ) -> None:
        """A font whose letters, from that code on, are drawn by operators (PDF: Type 3), one unit to one of text space."""
        from reportlab.pdfbase.pdfdoc import BasicFonts, PDFArray, PDFDictionary, PDFName, PDFObjectReference, PDFStream

        document = self._canvas._doc
        procedures = {f"g{code}": document.Reference(PDFStream(content=glyph)) for code, glyph in enumerate(glyphs)}
        names = PDFArray([first, *(PDFName(f"g{code}") for code in range(len(glyphs)))])
        font = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("Type3"),
                "Name": PDFName(name),
                "FontBBox": PDFArray([0, 0, max(wide), high]),
                "FontMatrix": PDFArray([1, 0, 0, 1, 0, 0]),
                "CharProcs": PDFDictionary(procedures),
                "FirstChar": first,
                "LastChar": first + len(glyphs) - 1,
                "Widths": PDFArray(list(wide)),
                "Resources": PDFDictionary({}),
                "Encoding": PDFDictionary({"Type": PDFName("Encoding"), "Differences": names}),
                "ToUnicode": document.Reference(PDFStream(content=_wordless(first, len(glyphs)))),
            }
        )
        font.__RefOnly__ = 1
        document.idToObject[BasicFonts].dict[name] = PDFObjectReference(document.Reference(font).name)

    def finish(self) -> bytes:
        """The whole file."""
        self._close()
        self._canvas._doc.format = self._format
        pdf = self._canvas.getpdfdata()
        self._fonts.close()
        return pdf

    def _format(self) -> bytes:
        """Every object as reportlab writes it, in a file of our own; more of them turn up while they are written."""
        from reportlab.pdfbase.pdfdoc import format as written

        document, bodies = self._canvas._doc, []
        document.encrypt.prepare(document)
        root, info = self._number(document.Catalog), self._number(document.info)
        while (number := len(bodies) + 1) in document.numberToId:
            bodies.append(written(document.idToObject[document.numberToId[number]], document, toplevel=1))
        return packed_file(bodies, root, info)

    def _close(self) -> None:
        """Finish the page. Its operators may hold the bytes of small pictures, one character a byte."""
        canvas = self._canvas
        operators = "\n".join(canvas._code).encode("latin-1")
        if operators != self._last[0]:
            self._last = operators, self._number(stream(operators))
        self._forms.dict.update(canvas._doc.xobjDict(canvas._formsinuse).dict)
        wide, high = (number_of(side) for side in canvas._pagesize)
        page = (
            f"<</Type/Page/Parent {self._number(canvas._doc.Pages)} 0 R/MediaBox[0 0 {wide} {high}]"
            f"/Resources {self._number(self._resources)} 0 R/Contents {self._last[1]} 0 R>>"
        )
        canvas._doc.Pages.addPage(self._reference(page.encode()))
        canvas._startPage()

    def _reference(self, thing):
        """A reference to an object of the file, which may be ready-made bytes."""
        document = self._canvas._doc
        name = getattr(thing, "__InternalName__", None) or f"object{document.objectcounter}"
        return document.Reference(thing, name)

    def _number(self, thing) -> int:
        return self._canvas._doc.idToObjectNumberAndVersion[self._reference(thing).name][0]

    def _dot(self, um: int) -> str:
        return number_of(on_grid(um, self.dpi) * 72 / self.dpi)

    def _ops(self, operators: str) -> None:
        self._canvas._code.append(operators)

    def marks(self, marks: Iterable[Mark]) -> None:
        """Marks where they lie, on the page or form that is open."""
        draw = {
            Text: self._text,
            Shape: self._shape,
            BarsMark: self._bars,
            SquaresMark: self._squares,
            Picture: self._picture,
            Clipped: self._clipped,
        }
        for mark in marks:
            draw[type(mark)](mark)

    def _text(self, mark: Text) -> None:
        """One line, kerned and tracked: the sum of both stands between the letters in thousandths of the size."""
        self._ops(text_operators(mark, lambda sign: self.sign(mark.face, sign)))

    def _shape(self, mark: Shape) -> None:
        paint = {(True, False): "f", (False, True): "S", (True, True): "B"}[
            mark.fill is not None, mark.stroke is not None
        ]
        settings = [fill_of(mark.fill)] if mark.fill is not None else []
        if mark.stroke is not None:
            ends = "1 J 1 j" if mark.round_ends else "0 J 0 j"
            settings += [stroke_of(mark.stroke), f"{points(mark.width)} w {ends}"]
        self._ops(f"{' '.join(settings)} {outline_of(mark.path)} {paint}")

    def _clipped(self, mark: Clipped) -> None:
        self._ops(f"q {outline_of(mark.path)} W n")
        self.marks(mark.marks)
        self._ops("Q")

    def _bars(self, mark: BarsMark) -> None:
        self._ops(f"{fill_of(mark.colour)} {bar_operators(mark)} f")

    def _squares(self, mark: SquaresMark) -> None:
        self._ops(f"{fill_of(mark.colour)} {square_operators(mark)} f")

    def _picture(self, mark: Picture) -> None:
        from reportlab.lib.utils import ImageReader

        x, y, wide, high = (um * POINTS_PER_UM for um in (mark.x, mark.y, mark.wide, mark.high))
        self._canvas.drawImage(ImageReader(BytesIO(mark.data)), x, y, wide, high, mask="auto")


def _wordless(first: int, count: int) -> str:
    """A map to Unicode (ISO 32000-1, 9.10.3) for letters that say nothing: copied or searched, each is a blank."""
    return (
        "/CIDInit/ProcSet findresource begin 12 dict begin begincmap/CMapName/Blank def/CMapType 2 def\n"
        "1 begincodespacerange<00><FF>endcodespacerange\n"
        f"1 beginbfrange<{first:02X}><{first + count - 1:02X}>[{'<0020>' * count}]endbfrange\n"
        "endcmap CMapName currentdict/CMap defineresource pop end end"
    )
