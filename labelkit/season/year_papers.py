"""The year's papers in one file: its result, what is carried forward to be counted by, and the years side by side."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from labelkit.measures import show_both, total
from labelkit.measures.locales import in_units, show_day
from labelkit.measures.wording import Wording
from labelkit.paper.document import Document
from labelkit.sale.year_paper import begin_year, write_year
from labelkit.sale.years import picture
from labelkit.season.papers import paper_size
from labelkit.season.result import result
from labelkit.season.settings import settings_of
from labelkit.season.stock import stock
from labelkit.season.years import compare, years_of

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.season.stock import Stock


def year_papers(
    state: Reading, day: date, period: Period, words: Wording, locale: str, page: str | None = None
) -> bytes:
    """The papers of a year, closed or not, as one PDF."""
    season = settings_of(state)
    locale = in_units(locale, season.units)
    year = result(state, day, period)
    paper = begin_year(year, words, paper_size(season, page), season.maker)
    write_year(paper, year, words, locale)
    paper.page_break()
    _carried(paper, stock(state, day, period), words, locale)
    paper.page_break()
    before = {each for each in years_of(state, period.first.month) if each.last < period.last}
    drawn = picture(compare(state, day, [*before, period]), words, locale)
    paper.drawing(drawn.marks, drawn.wide, drawn.high)
    return paper.bytes()


def _carried(paper: Document, evening: Stock, words: Wording, locale: str) -> None:
    """Buckets and jars of the last evening, with room for what is counted."""
    paper.heading(words("Carried into the next year"))
    paper.paragraph(words("As the record has it on the evening of {day}.", day=show_day(evening.day, locale)))
    full = [bucket for bucket in evening.buckets if bucket.holds]
    buckets = [[b.id, show_both(b.holds, locale), ""] for b in full if b.state != "emptied"]
    whole = total(b.holds for b in full)
    if buckets:
        buckets.append([words("Together"), show_both(whole, locale), ""])
        paper.table(buckets, head=[words("Bucket"), words("Honey"), words("counted")], align="lrr", total=True)
    jars: Mapping[tuple[str, str], int] = {(f.lot, f.size): f.in_stock + f.on_hold + f.at_stall for f in evening.filled}
    rows = [[lot, size, str(count), ""] for (lot, size), count in jars.items() if count]
    if rows:
        rows.append([words("Together"), "", str(sum(jars.values())), ""])
        paper.table(rows, head=[words("Lot"), words("Jar"), words("Jars"), words("counted")], align="llrr", total=True)
