"""Traces, notices and seals on paper, as PDF in the house style."""

from __future__ import annotations

from labelkit.measures.wording import ENGLISH, Wording
from labelkit.paper.document import Document
from labelkit.sale.paper_note import quality_note
from labelkit.trace.alarms import Limits
from labelkit.trace.follow import Trace
from labelkit.trace.notices import Notice
from labelkit.trace.picture import flow_marks
from labelkit.trace.sections import counted, headline, sections
from labelkit.trace.terms import asked

_MOST_HIGH = 140_000  # micrometres of a picture that still fits a landscape sheet under its title


def notice_paper(notice: Notice, page: str = "letter") -> bytes:
    """A recall notice as one sheet: dashes are a list; what hangs on a wall in large type."""
    large = notice.id in ("shop-notice", "stall-sign")
    paper = Document(page, notice.title, foot=notice.title)
    block: list[str] = []

    def flush() -> None:
        if block:
            paper.paragraph("\n".join(block), "heading" if large else "body")
            block.clear()

    for mark, line in notice.parts:
        if mark in ("#", "="):
            flush()
            paper.title(line)
        elif mark == "!":
            flush()
            paper.caution(line)
        elif line:
            block.append(line.replace("- ", "•  ", 1) if line.startswith("- ") else line)
        else:
            flush()
    flush()
    return paper.bytes()


def trace_paper(
    trace: Trace, page: str, *, locale: str, words: Wording = ENGLISH, limits: Limits | None = None
) -> bytes:
    """The whole trace as tables on landscape sheets (``letter`` or ``a4``)."""
    title = headline(trace, words)
    paper = Document(page, title, lang=words.lang, foot=title, landscape=True)
    paper.title(asked(trace, words))
    paper.paragraph(counted(trace, words), "lead")
    if note := quality_note(words):
        paper.paragraph(note, "small")
    marks, high = flow_marks(trace, wide := int(paper.width_mm * 1000), locale, words)
    if high < _MOST_HIGH:
        paper.drawing(marks, wide, high)
        paper.page_break()
    for section in sections(trace, locale, words, limits):
        since = paper.mark()
        paper.heading(section.title)
        align = "".join("r" if n in section.right else "l" for n in range(len(section.heads)))
        paper.table(section.rows, section.heads, align, _widths(section, paper.width_mm))
        if len(section.rows) < 12:
            paper.together(since)
    return paper.bytes()


def _widths(section, wide: float) -> list[float]:
    """Columns as wide as their longest text asks, shared over the page, none under a tenth of it."""
    longest = [
        max([len(head), *(min(len(row[n]), 46) for row in section.rows)]) + 3 for n, head in enumerate(section.heads)
    ]
    return [wide * each / sum(longest) for each in longest]


def seal_paper(record: str, events: int, head: str, seal: str, booked: str, page: str = "letter") -> bytes:
    """The seal as a sheet to sign and file."""
    paper = Document(page, f"Seal over {events} events", foot=f"Seal over {record}")
    paper.title("Seal of the record")
    paper.paragraph(
        "This line fits only the record as it stood when it was printed. If anything up to its last event is changed, "
        'taken out, put in or written anew, it fits no more. Check it with: labelkit record verify --seal "…"',
        "lead",
    )
    paper.facts(
        [
            ("Record", record),
            ("Events", str(events)),
            ("Last booked", booked or "–"),
            ("Seal", seal),
            ("Whole hash", head),
        ]
    )
    paper.space(18)
    paper.facts([("Printed on", "________________________"), ("Signed by", "________________________")])
    return paper.bytes()
