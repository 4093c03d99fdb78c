"""Years: side by side with what changed, and the end of one: its stock counted, its papers, its closing."""

from __future__ import annotations

from flask import Blueprint, Response

from labelkit.errors import LabelkitError
from labelkit.measures.period import Period
from labelkit.page import request_context, security
from labelkit.page.forms import booked, by_size, count, mass_left, paper, step_key, typed, value
from labelkit.page.language import later, say
from labelkit.page.view import href, page, weight_unit
from labelkit.page.views.sell import LONG
from labelkit.reading.period import read_period
from labelkit.sale.years import interleaved, picture, say_value
from labelkit.season.close_year import JarsCounted, YearIsDone, YearToClose, close_year, closing_since
from labelkit.season.papers import paper_words
from labelkit.season.stock import stock
from labelkit.season.year_papers import year_papers
from labelkit.season.years import compare, years_of

view = Blueprint("years", __name__)

#: What the groups of figures, and the figures that have no name of the season's own, are called.
WORDS = {
    "Honey": later("Honey"),
    "Yards": later("Yards"),
    "Hives": later("Hives"),
    "Jars filled": later("Jars filled"),
    "Jars sold": later("Jars sold"),
    "Price of a jar": later("Price of a jar"),
    "Money": later("Money"),
    "Losses": later("Losses"),
    "Giveaway": later("Giveaway"),
    "": later("no yard named"),
    "from the hives": later("from the hives"),
    "bought in": later("bought in"),
    "money in": later("money in"),
    "cost of the jars": later("cost of the jars"),
    "left": later("left over"),
    "honey": later("honey"),
    "jars": later("jars"),
    "honey above the labels": later("honey above the labels"),
}


@view.get("/years")
def form() -> str:
    """All years, and the form to close one."""
    return _years()


@view.post("/years")
def close():
    """Close a year."""
    return booked(_closed, _years, lambda _: "/years", _told)


@view.get("/years/picture.svg")
def drawn() -> Response:
    """A bar a year for the figures that say most."""
    from labelkit.sale.bars import bars_svg

    context = request_context.context()
    with context.reading() as state:
        found, language = compare(state, context.day), state.settings().get("language")
    words, _ = paper_words(language, context.locale)
    return Response(
        bars_svg(picture(found, words, context.locale)),
        mimetype="image/svg+xml",
        headers={"Content-Security-Policy": security.DRAWING_POLICY},
    )


@view.get("/years/<year>.pdf")
def papers(year: str) -> Response:
    """The papers of one year, closed or not."""
    context = request_context.context()
    with context.reading() as state:
        words, locale = paper_words(state.settings().get("language"), context.locale)
        made = year_papers(state, context.day, read_period(year, context.locale), words, locale)
    return paper(made, f"year-{year}.pdf")


def _closed() -> YearIsDone:
    context, year = request_context.context(), value("year", read_period)
    counted = tuple(_counted(name, found) for name, found in by_size("count", count).items())
    with context.work(step_key()) as work:
        asked = YearToClose(
            year or Period.of_year(context.day.year),
            counted,
            typed("because"),
            by_size("weighed", mass_left),
            by_size("empty", count),
        )
        return close_year(work, asked, context.day, context.locale)


def _counted(name: str, found: int) -> JarsCounted:
    lot, _, size = name.partition(" ")
    return JarsCounted(lot, size, found)


def _told(done: YearIsDone) -> str:
    return say("{year} is closed. What is still there is carried into the next year.", year=str(done.event.period))


def _years(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    chosen = typed("year")
    with context.reading() as state:
        years = years_of(state)
        rows = _rows(compare(state, context.day), context.locale) if years and state.head().seq <= LONG else []
        closed = {str(year): closing_since(state, year) for year in years}
        open_years = [str(year) for year in years if closed[str(year)] is None and year.last <= context.day]
        evening = stock(state, context.day, read_period(chosen, context.locale)) if chosen in open_years else None
    names = [str(year) for year in years]
    heads = interleaved(names, [""] * (len(names) - 1)) if names else []
    return page(
        "years.html",
        heads=heads,
        rows=rows,
        words=WORDS,
        closed=closed,
        open_years=open_years,
        chosen=chosen if evening else "",
        evening=evening,
        full=[bucket for bucket in evening.buckets if bucket.holds] if evening else [],
        unit=weight_unit(),
        refused=refused,
        link=href,
    )


def _rows(found, reader: str) -> list[tuple[str, str, bool, list[str]]]:
    rows, before = [], ""
    for figure in found.figures:
        values = [say_value(each, reader) for each in figure.values]
        changes = [say_value(each, reader, change=True) for each in figure.changes]
        group, before = figure.group if figure.group != before else "", figure.group
        own = figure.group in ("Yards", "Hives", "Jars filled", "Jars sold", "Price of a jar") and figure.name
        rows.append((group, figure.name, bool(own), interleaved(values, changes)))
    return rows
