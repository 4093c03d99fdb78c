"""Papers: titles, paragraphs and tables that flow over pages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO

from labelkit.paper.document_style import HAIR, INK, MARGIN_MM, PAGES, STYLES
from labelkit.paper.fonts import face, face_for
from labelkit.paper.marks import Colour, Mark
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.pdf_fonts import FileFonts
from labelkit.paper.pdf_operators import (
    POINTS_PER_UM,
)


class Document:
    """A plain document of text and tables on letter or A4, in the house style of :mod:`labelkit.paper.document_style`.

    Everything handed in is plain text; what looks like markup is printed as it stands. Use::

        paper = Document("letter", "Price list, summer 2026", lang="en")
        paper.title("Price list")
        paper.table([["Clover, 1 lb", "12.00"]], head=["Jar", "Price"], align="lr")
        pdf = paper.bytes()
    """

    def __init__(
        self, page: str, title: str, lang: str = "en", *, author: str = "", foot: str = "", landscape: bool = False
    ) -> None:
        wide, high = PAGES[page]
        self._page = (high, wide) if landscape else (wide, high)
        self._title, self._lang, self._author, self._foot = title, lang, author, foot or title
        self._story: list = []
        self._fonts = FileFonts()

    @property
    def width_mm(self) -> float:
        """The width of the text column."""
        return self._page[0] / 1000 - MARGIN_MM[0] - MARGIN_MM[2]

    def title(self, text: str) -> None:
        self.paragraph(text, "title")

    def heading(self, text: str, level: int = 1) -> None:
        self.paragraph(text, "heading" if level == 1 else "subheading")

    def paragraph(self, text: str, style: str = "body", align: str = "l") -> None:
        """One paragraph; ``style`` is a name of :data:`labelkit.paper.document_style.STYLES`, ``align`` l, r or c."""
        self._story.append(self._words(text, style, align, heading=style in ("title", "heading", "subheading")))

    def caution(self, text: str) -> None:
        """A caution the reader must not miss."""
        self.paragraph(text, "caution")

    def facts(self, pairs: Iterable[tuple[str, str]], label_mm: float = 42) -> None:
        """Labels on the left, what they stand for on the right."""
        rows = [[self._words(label, "head"), self._words(value, "cell")] for label, value in pairs]
        self._story.append(self._laid(rows, [label_mm, self.width_mm - label_mm], []))

    def table(
        self,
        rows: Sequence[Sequence[str]],
        head: Sequence[str] = (),
        align: str = "",
        widths_mm: Sequence[float] | None = None,
        total: bool = False,
    ) -> None:
        """A table; ``align`` has one of l, r, c a column; ``total`` sets the last row apart. Heads repeat on each page."""
        columns = len(head or rows[0])
        align = align or "l" * columns
        widths = widths_mm or [self.width_mm / columns] * columns
        body = [
            [
                self._words(str(cell), "strong" if total and row is rows[-1] else "cell", align[i])
                for i, cell in enumerate(row)
            ]
            for row in rows
        ]
        heads = [[self._words(str(cell), "head", align[i]) for i, cell in enumerate(head)]] if head else []
        hair = _tint(HAIR)
        lines = [("LINEBELOW", (0, 0), (-1, -1), 0.35, hair)]
        if head:
            lines.append(("LINEBELOW", (0, 0), (-1, 0), 0.8, _tint(INK)))
        if total:
            lines.append(("LINEABOVE", (0, -1), (-1, -1), 0.8, _tint(INK)))
        self._story.append(self._laid(heads + body, widths, lines, repeat=len(heads)))

    def picture(self, png: bytes, width_mm: float, most_high_mm: float = 0) -> None:
        """A raster picture at that width, its proportions kept; narrower where it would be higher than it may."""
        from reportlab.lib.utils import ImageReader
        from reportlab.platypus import Image

        wide, high = ImageReader(BytesIO(png)).getSize()
        points = (min(width_mm, most_high_mm * wide / high) if most_high_mm else width_mm) * 1000 * POINTS_PER_UM
        self._story.append(Image(BytesIO(png), points, points * high / wide, hAlign="LEFT"))

    def drawing(self, marks: Sequence[Mark], wide: int, high: int) -> None:
        """Marks as they stand on labels (bars, a small diagram), in a box of so many micrometres."""
        from reportlab.platypus import Flowable

        fonts = self._fonts

        class Drawn(Flowable):
            def __init__(flowable) -> None:
                super().__init__()
                flowable.width, flowable.height = wide * POINTS_PER_UM, high * POINTS_PER_UM

            def draw(flowable) -> None:
                PdfWriter.onto(flowable.canv, fonts).marks(marks)

        self._story.append(Drawn())

    def rule(self) -> None:
        """A hair line across the column."""
        from reportlab.platypus import HRFlowable

        self._story.append(HRFlowable("100%", 0.5, spaceBefore=4, spaceAfter=6, color=_tint(HAIR)))

    def space(self, mm: float) -> None:
        from reportlab.platypus import Spacer

        self._story.append(Spacer(1, mm * 1000 * POINTS_PER_UM))

    def page_break(self) -> None:
        from reportlab.platypus import PageBreak

        self._story.append(PageBreak())

    def together(self, since: int) -> None:
        """Keep everything added since the mark (see :meth:`mark`) on one page."""
        from reportlab.platypus import KeepTogether

        self._story[since:] = [KeepTogether(self._story[since:])]

    def mark(self) -> int:
        """Where the document stands now, for :meth:`together`."""
        return len(self._story)

    def bytes(self) -> bytes:
        """The whole file."""
        from reportlab import rl_config
        from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

        rl_config.useA85 = 0
        out = BytesIO()
        wide, high = (um * POINTS_PER_UM for um in self._page)
        left, top, right, bottom = (mm * 1000 * POINTS_PER_UM for mm in MARGIN_MM)
        template = BaseDocTemplate(
            out,
            pagesize=(wide, high),
            title=self._title,
            author=self._author or "labelkit",
            creator="labelkit",
            subject=self._title,
            lang=self._lang,
            invariant=1,
            pageCompression=1,
            initialFontName=self._fonts.name(face("sans-Regular")),
        )
        column = Frame(left, bottom, wide - left - right, high - top - bottom, 0, 0, 0, 0)
        template.addPageTemplates(PageTemplate("page", [column], onPage=self._footing))
        template.build(self._story)
        self._fonts.close()
        return out.getvalue()

    def _footing(self, canvas, template) -> None:
        style = STYLES["small"]
        left, _, right, _ = (mm * 1000 * POINTS_PER_UM for mm in MARGIN_MM)
        font = self._fonts.name(face_for(style.face, self._foot))
        canvas.setFont(font, style.size)
        canvas.setFillColor(_tint(style.colour))
        canvas.drawString(left, 9 * 1000 * POINTS_PER_UM, self._foot)
        canvas.drawRightString(self._page[0] * POINTS_PER_UM - right, 9 * 1000 * POINTS_PER_UM, str(template.page))

    def _words(self, text: str, style: str, align: str = "l", heading: bool = False):
        from html import escape

        from reportlab.lib.styles import ParagraphStyle
        from reportlab.platypus import Paragraph

        held = STYLES[style]
        shape = ParagraphStyle(
            f"{style}-{align}",
            fontName=self._fonts.name(face_for(held.face, text.replace("\n", " "))),
            fontSize=held.size,
            leading=held.leading,
            spaceBefore=held.before,
            spaceAfter=held.after,
            textColor=_tint(held.colour),
            alignment=0 if align == "l" else 1 if align == "c" else 2,
            keepWithNext=int(heading),
            splitLongWords=1,
        )
        return Paragraph(escape(text).replace("\n", "<br/>"), shape)

    def _laid(self, cells, widths_mm, lines, repeat: int = 0):
        from reportlab.platypus import Table

        style = [
            # Every cell names a font to reportlab, even one that holds paragraphs; its own default is not embedded.
            ("FONTNAME", (0, 0), (-1, -1), self._fonts.name(face("sans-Regular"))),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (0, -1), 0),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
            ("LEFTPADDING", (1, 0), (-1, -1), 5),
            ("RIGHTPADDING", (0, 0), (-2, -1), 5),
            ("TOPPADDING", (0, 0), (-1, -1), 3.2),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3.6),
        ]
        widths = [mm * 1000 * POINTS_PER_UM for mm in widths_mm]
        return Table(cells, widths, style=style + lines, repeatRows=repeat, hAlign="LEFT", spaceBefore=2, spaceAfter=8)


def _tint(colour: Colour):
    from reportlab.lib.colors import Color

    return Color(*(part / 255 for part in colour))
