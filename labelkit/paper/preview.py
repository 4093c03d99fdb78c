"""Pictures of the pages of a PDF, by PDFium."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from threading import Lock
from typing import TYPE_CHECKING

from labelkit.paper.pdf_operators import POINTS_PER_UM

if TYPE_CHECKING:
    from PIL.Image import Image

RENDERING = Lock()  # PDFium works for one thread at a time


def preview_png(
    pdf: bytes,
    page: int = 1,
    dpi: int = 150,
    paper: tuple[int, int, int] = (255, 255, 255),
    *,
    crop: tuple[int, int, int, int] = (0, 0, 0, 0),
) -> bytes:
    """A picture of one page (counted from 1) as PNG, on paper of that colour.

    ``crop`` is what is left out at the left, bottom, right and top, in micrometres.
    """
    out = BytesIO()
    page_picture(pdf, page, dpi, paper, crop=crop).save(out, "PNG", dpi=(dpi, dpi))
    return out.getvalue()


def page_picture(
    pdf: bytes,
    page: int,
    dpi: float,
    paper: tuple[int, int, int] = (255, 255, 255),
    *,
    crop: tuple[int, int, int, int] = (0, 0, 0, 0),
) -> Image:
    """The same, still in dots."""
    import pypdfium2

    edges = tuple(um * POINTS_PER_UM for um in crop)
    with RENDERING, pypdfium2.PdfDocument(pdf) as document:
        return document[page - 1].render(scale=dpi / 72, crop=edges, fill_color=(*paper, 255)).to_pil()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has; none where it is damaged or locked with a password."""
    import pypdfium2

    try:
        with RENDERING, pypdfium2.PdfDocument(pdf) as document:
            return len(document)
    except pypdfium2.PdfiumError:
        return 0


def joined(pdfs: Sequence[bytes]) -> bytes:
    """Several files as one, page after page."""
    import pypdfium2

    if len(pdfs) == 1:
        return pdfs[0]
    out = BytesIO()
    with RENDERING, pypdfium2.PdfDocument.new() as whole:
        for pdf in pdfs:
            with pypdfium2.PdfDocument(pdf) as part:
                whole.import_pages(part)
        whole.save(out)
    return out.getvalue()
