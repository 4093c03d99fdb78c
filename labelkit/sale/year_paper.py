"""The year on two pages: figures and pictures in front, lots, markets and debts behind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from labelkit.lots.movement import Account as Place
from labelkit.measures import Money, show_first, total
from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.sale.bars import Bar, Picture, picture, short
from labelkit.sale.paper_note import quality_note
from labelkit.sale.result import Sum
from labelkit.sale.year_report import Year, sell_through

if TYPE_CHECKING:
    from labelkit.paper.document import Document

ROOM = 149_000  # micrometres below the figures on the front page


def pictures(year: Year, words: Wording, locale: str) -> dict[str, Picture]:
    """Money by month, best sellers by market's sell-through, and where the honey went; by file name."""
    months = [
        Bar(_month(s.name, locale), s.money.minor, s.money.show(locale))
        for s in sorted(year.by("month"), key=lambda s: s.name)
    ]
    drawn = {"money-by-month": picture(words("Money in, by month"), months[-12:])}
    rows = sell_through(year.days)
    if rows:
        # Twelve months and three sizes fill the front page.
        sold = [
            Bar(r.name, r.sold, f"{r.sold} / {r.taken} · {r.percent} %", r.taken)
            for r in rows[: 3 if len(months) > 8 else 8]
        ]
        drawn["sell-through"] = picture(words("Sold of what was taken to market"), sold)
    went = [Bar(words(name), mass.mg // 1000, show_first(mass, locale)) for name, mass in _went(year).items() if mass]
    if went:
        drawn["where-it-went"] = picture(words("Where the honey is"), went)
    return drawn


def _month(name: str, locale: str) -> str:
    """A month as the reader's country writes it.

    >>> _month("2026-07", "de_DE")
    'Juli 2026'
    """
    return show_day(date.fromisoformat(f"{name}-01"), locale, form="LLLL y")


WITHOUT_JARS = ("cash difference", "stall fee")
_NAMES = {
    Place.BUCKET: "in buckets",
    Place.JARS: "in stock",
    Place.STALL: "at the stall",
    Place.HELD: "on hold",
    Place.SOLD: "sold",
    Place.GIVEN: "given away",
    Place.SAMPLE: "samples",
    Place.BROKEN: "broken",
    Place.DISCARDED: "discarded",
    Place.LOST: "lost",
    Place.UNEXPLAINED: "unexplained",
}


def _went(year: Year) -> Mapping:
    ends = year.ends or {}
    return {name: ends[place] for place, name in _NAMES.items() if place in ends}


def year_pdf(
    year: Year, words: Wording, locale: str, *, page: str = "letter", maker: Mapping[str, str] | None = None
) -> bytes:
    """Two pages, whatever the season held: long tables keep their largest rows and sum the rest."""
    paper = begin_year(year, words, page, maker or {})
    write_year(paper, year, words, locale)
    return paper.bytes()


def begin_year(year: Year, words: Wording, page: str, maker: Mapping[str, str]) -> Document:
    """A paper with the year as its title."""
    from labelkit.paper.document import Document

    title = words("The honey year {year}", year=year.name)
    paper = Document(page, title, lang=words.lang, author=maker.get("name", ""))
    paper.title(title)
    if maker.get("name"):
        paper.paragraph(maker["name"], "lead")
    return paper


def write_year(paper: Document, year: Year, words: Wording, locale: str) -> None:
    """The year's two pages."""
    paper.facts(_facts(year, words, locale), label_mm=72)
    drawn = pictures(year, words, locale)
    left = ROOM
    for one in drawn.values():
        if one.high + 4_000 <= left:
            paper.drawing(one.marks, one.wide, one.high)
            paper.space(4)
            left -= one.high + 4_000
    paper.page_break()
    for head, what in (("By size", "size"), ("By market and customer", "market"), ("By lot", "lot")):
        paper.heading(words(head))
        rows = year.foremost(what, words("all others"), 4 if what == "lot" else 5)
        body, shape = _sums(rows, year.whole, words, locale, paper.width_mm)
        paper.table(body, **shape)
    if year.accounts:
        paper.heading(words("Owed and paid"))
        balances = [
            [
                short(a.customer),
                a.delivered.show(locale),
                a.returned.show(locale),
                a.paid.show(locale),
                a.open.show(locale),
            ]
            for a in sorted(year.accounts, key=lambda a: -a.open.minor)[:4]
        ]
        heads = [words("Customer"), words("delivered"), words("brought back"), words("paid"), words("still owed")]
        paper.table(balances, head=heads, align="lrrrr")
    for text in (words("This is a list of what was booked. It is no tax advice."), quality_note(words)):
        if text:
            paper.paragraph(text, "small")


def _bought(year: Year, locale: str) -> str:
    return f"{show_first(total(each.net for each in year.bought), locale)} · {year.paid_for_honey.show(locale)}"


def _facts(year: Year, words: Wording, locale: str) -> Sequence[tuple[str, str]]:
    whole = year.whole

    def money(amount: Money | None) -> str:
        return "–" if amount is None else amount.show(locale)

    return [
        (words("Honey that came in"), show_first(year.came_in, locale)),
        *([(words("Of it bought in, and what was paid"), _bought(year, locale))] if year.bought else []),
        (words("Jars sold, given, lost"), f"{whole.sold} · {whole.given} · {whole.lost}"),
        (words("Money in"), money(year.money_in)),
        (words("Stall fees"), money(year.fees)),
        (words("Differences in the cash box"), money(year.differences)),
        (words("Tax in the money"), money(year.tax_in) if year.taxes.rates else words("not stated")),
        (words("What the jars cost to make"), money(whole.cost)),
        (words("Of it given away, broken, missing"), money(year.given_away_cost)),
        (words("Left"), money(year.left)),
        (words("A kilogram in jars cost"), money(year.cost_per_kg)),
        (words("Jars in stock count for"), money(year.stock_worth)),
    ]


def _sums(rows: Sequence[Sum], whole: Sum, words: Wording, locale: str, wide: float):
    body = [
        [
            words("Together") if s is whole else words(s.name) if s.name in WITHOUT_JARS else short(s.name),
            str(s.sold),
            str(s.given),
            show_first(s.sold_mass, locale),
            s.money.show(locale),
            s.cost.show(locale),
            s.left.show(locale),
        ]
        for s in (*rows, whole)
    ]
    head = ["", words("sold"), words("given"), words("Honey"), words("Money in"), words("Cost"), words("Left")]
    widths = [wide * part for part in (0.22, 0.085, 0.105, 0.12, 0.16, 0.15, 0.16)]
    return body, {"head": head, "align": "lrrrrrr", "widths_mm": widths, "total": True}
