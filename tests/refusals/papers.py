"""Cases of the papers that run out."""

from datetime import date, timedelta

from labelkit.errors import papers as no
from labelkit.measures.wording import ENGLISH
from labelkit.season.kept_papers import PaperAsked, folder_pdf, keep_paper, paper_named, pdf_of
from tests.record.season import AT
from tests.refusals.record import in_season

DAY = date(2026, 7, 14)


def on_work(cause):
    """Run a cause on a step of a whole season."""

    def step(book):
        with book.work(who="Ada", at=AT + timedelta(days=1)) as work:
            cause(work)

    return in_season(step)


def keeping(asked: PaperAsked):
    return on_work(lambda work: keep_paper(work, asked, DAY))


CASES = [
    (no.NoPapers, lambda: folder_pdf([], {}, DAY, "a4", ENGLISH, "en_US"), "there is no folder to print"),
    (no.PaperUnknown, on_work(lambda work: paper_named(work, "Hill market")), "The record has no paper"),
    (no.PaperNeedsKind, keeping(PaperAsked("Hill market")), "“Hill market” is a new paper"),
    (no.PaperRunOut, keeping(PaperAsked("Hill market", "permit", until=date(2025, 12, 31))), "ran out on 2025-12-31"),
    (no.PaperFileRefused, lambda: pdf_of("permit.pdf", b"%PDF-1.7 and no more"), "damaged, empty or locked"),
    (no.PaperFileRefused, lambda: pdf_of("permit.docx", b"PK"), "neither PDF nor PNG nor JPEG"),
    (no.PaperFileRefused, lambda: pdf_of("permit.png", b"\x89PNG\r\n\x1a\n"), "damaged or cut off"),
]
