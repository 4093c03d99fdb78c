"""Papers that run out: kept with their file, told in time, and printed as one folder."""

from __future__ import annotations

from datetime import date, timedelta
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader, PdfWriter

from labelkit.errors.labels import KeptFileTooLarge
from labelkit.errors.papers import PaperFileRefused, PaperRunOut
from labelkit.measures.wording import ENGLISH
from labelkit.season.ahead import ahead
from labelkit.season.due import due_today
from labelkit.season.kept_papers import PaperAsked, folder_pdf, keep_paper, papers_of

DAY, LAST = date(2026, 7, 25), date(2026, 12, 31)
PERMIT = PaperAsked("Hill market", "permit", "17", LAST)


def scan(pages: int = 1, password: str = "") -> bytes:
    writer, out = PdfWriter(), BytesIO()
    for _ in range(pages):
        writer.add_blank_page(595, 842)
    if password:
        writer.encrypt(password)
    writer.write(out)
    return out.getvalue()


def photo() -> bytes:
    out = BytesIO()
    Image.new("RGB", (300, 1200), "white").save(out, "JPEG")
    return out.getvalue()


def keep(season, *asked: PaperAsked):
    for each in asked:
        with season.work() as work:
            keep_paper(work, each, DAY)
    with season.reading() as state:
        return papers_of(state.settings())


def told(season, day: date) -> list[str]:
    with season.reading() as state:
        return [due.what for due in due_today(state, day, "en_US") if due.verb == "papers"]


def test_what_is_not_said_again_stays_and_the_older_number_stays_in_the_record(season):
    keep(season, PERMIT, PaperAsked("Hill market", file=("permit.pdf", scan())))
    (paper,) = keep(season, PaperAsked("Hill market", number="18", until=date(2027, 12, 31)))
    assert (paper.kind, paper.number, paper.until, paper.file[0]) == ("permit", "18", date(2027, 12, 31), "permit.pdf")
    with season.reading() as state:
        numbers = [each.event.value["number"] for each in state.events(("set",)) if each.event.name.startswith("paper")]
    assert numbers == ["17", "17", "18"]


def test_a_paper_is_told_a_month_before_its_last_day_and_urgently_after_it(season):
    keep(season, PERMIT)
    assert told(season, date(2026, 11, 30)) == []
    assert told(season, date(2026, 12, 1)) == ["Market permit Hill market (17) runs out on 2026-12-31."]
    assert told(season, date(2027, 1, 1)) == ["Market permit Hill market (17) ran out on 2026-12-31."]


def test_the_calendar_holds_its_last_day_and_the_day_to_begin_under_keys_that_stay(season):
    keep(season, PERMIT)

    def entries(day: date) -> dict[str, date]:
        with season.reading() as state:
            return {one.key: one.day for one in ahead(state, day, "en_US").entries if one.due.verb == "papers"}

    early, late = entries(DAY), entries(date(2026, 12, 10))
    assert sorted(early.values()) == [date(2026, 12, 1), LAST]
    assert set(late.values()) == {LAST} and set(late) < set(early)


def test_a_retired_paper_is_told_no_more(season):
    assert keep(season, PERMIT, PaperAsked("Hill market", retired=True)) == ()
    assert told(season, LAST + timedelta(days=5)) == []


def test_a_last_day_that_is_over_is_asked_about(season):
    late = PaperAsked("Hill market", "permit", "17", DAY - timedelta(days=1))
    with pytest.raises(PaperRunOut) as asked:
        keep(season, late)
    assert asked.value.asks and asked.value.field == "until"


@pytest.mark.parametrize(
    ("file", "refused"),
    [
        (("permit.pdf", scan(password="secret")), PaperFileRefused),
        (("permit.pdf", scan()[:200]), PaperFileRefused),
        (("permit.exe", b"MZ and so on"), PaperFileRefused),
        (("permit.png", photo()[:100]), PaperFileRefused),
        (("permit.pdf", b"%PDF" + bytes(1_000_001)), KeptFileTooLarge),
    ],
    ids=("locked", "cut short", "a program", "half a picture", "too large"),
)
def test_a_file_that_could_not_be_printed_later_is_refused_and_nothing_is_kept(season, file, refused):
    with pytest.raises(refused):
        keep(season, PaperAsked("Hill market", "permit", file=file))
    assert keep(season) == ()


def test_the_folder_is_a_list_and_then_every_page_of_every_file(season):
    papers = keep(
        season,
        PaperAsked("Hill market", "permit", "17", LAST, ("permit.pdf", scan(pages=3))),
        PaperAsked("Farm insurance", "insurance", "P-9", date(2026, 8, 1), ("policy.jpg", photo())),
        PaperAsked("State", "registration", "R-1"),
    )
    folder = PdfReader(
        BytesIO(folder_pdf(papers, {"name": "Pretend Hollow Honey"}, date(2026, 9, 1), "a4", ENGLISH, "en_US"))
    )
    assert len(folder.pages) == 1 + 1 + 3
    cover = folder.pages[0].extract_text()
    assert cover.index("State") < cover.index("Farm insurance") < cover.index("Hill market")
    assert "Not valid any more: Farm insurance." in cover and "check your local rules" in cover
