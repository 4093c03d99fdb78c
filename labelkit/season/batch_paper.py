"""Batch sheets on paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.run.batch_sheet import BatchLine


def batch_sheet_pdf(
    day: date, lots: Sequence[str], lines: Sequence[BatchLine], paper: str, words: Wording, locale: str
) -> bytes:
    """The batch sheet of a day (``letter`` or ``a4``), with blanks for what is not entered."""
    from labelkit.measures.locales import show_day
    from labelkit.paper.document import Document
    from labelkit.run.batch_paper import draw_batch_sheet

    document = Document(paper, f"{words('Batch sheet')}, {show_day(day, locale)}", lang=words.lang)
    draw_batch_sheet(day, lots, lines, document, locale, words)
    return document.bytes()
