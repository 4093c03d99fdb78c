"""``labelkit result``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import new_folder, write_whole
from labelkit.cli._options import paper_options, year_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.sale.year_report import Year
    from labelkit.season.close_year import ClosedSince
    from labelkit.season.settings import SeasonSettings


@click.command()
@year_option
@click.option("--csv", "sheet", metavar="FILE.csv", help="Every line for your tax adviser.")
@click.option("--ledger", metavar="FILE", help="Every amount by account, for a bookkeeper (.csv or .xlsx).")
@click.option("--pdf", metavar="FILE.pdf", help="The year on two pages.")
@click.option("--pictures", "folder", metavar="FOLDER", help="The pictures as SVG, into a new or empty folder.")
@paper_options
@answering
def command(
    context: CommandContext,
    period: Period | None,
    sheet: str | None,
    ledger: str | None,
    pdf: str | None,
    folder: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Show the season's income, costs and stock.

    Money in and out by lot, size and market, and what is still in stock.

    It lists what was booked; it is no tax advice.

    \b
    Example:  labelkit result
              labelkit result --year 2026 --pdf year-2026.pdf --csv year-2026.csv --pictures pictures
    """
    from labelkit.measures.locales import in_units
    from labelkit.paper.workbook import table_file
    from labelkit.sale.ledger import ledger as ledger_of
    from labelkit.sale.year_report import document
    from labelkit.season.close_year import closing_since
    from labelkit.season.result import result
    from labelkit.season.settings import settings_of
    from labelkit.season.workbook import ledger_sheet

    with context.reading() as state:
        season, found = settings_of(state), result(state, context.day, period)
        money = ledger_sheet(state, ledger_of(found))
        closed = closing_since(state, period) if period else None
    written = _written(context, found, season, sheet, pdf, folder, page, language)
    if ledger:
        written.append(str(write_whole(ledger, table_file(money, ledger, context.now), private=True)))
    text = _text(found, in_units(context.locale, season.units))
    text += _closed_text(closed) if closed else []
    text += [f"Written: {name}" for name in written]
    return Answer(document(found) | {"closed": closed and _closed(closed), "files": written}, "\n".join(text))


def _closed(closed: ClosedSince) -> dict[str, Any]:
    late = [{"event": each.seq + 1, "because": each.event.because} for each in closed.late]
    return {"event": closed.closing.seq, "day": closed.closing.day, "booked_since": late}


def _closed_text(closed: ClosedSince) -> list[str]:
    return [
        f"Closed on {closed.closing.day} (event {closed.closing.seq}).",
        *(f"Booked into it since (event {each.seq + 1}): {each.event.because}" for each in closed.late),
    ]


def _written(
    context: CommandContext,
    year: Year,
    season: SeasonSettings,
    sheet: str | None,
    pdf: str | None,
    folder: str | None,
    page: str | None,
    language: str | None,
) -> list[str]:
    from labelkit.sale.tax_sheet import tax_sheet

    written = []
    if sheet:
        written.append(str(write_whole(sheet, tax_sheet(year), private=True)))
    if pdf or folder:
        from labelkit.measures.locales import in_units
        from labelkit.sale.bars import bars_svg
        from labelkit.sale.year_paper import pictures, year_pdf
        from labelkit.season.papers import paper_size, paper_words

        words, language = paper_words(language, context.locale)
        locale = in_units(language, season.units)
        if pdf:
            size = paper_size(season, page)
            written.append(
                str(write_whole(pdf, year_pdf(year, words, locale, page=size, maker=season.maker), private=True))
            )
        if folder:
            into = new_folder(folder)
            for name, drawn in pictures(year, words, locale).items():
                written.append(str(write_whole(into / f"{name}.svg", bars_svg(drawn))))
    return written


def _carried(year: Year, locale: str) -> str:
    from labelkit.measures import show_first

    return f", {show_first(year.carried_in, locale)} was there before" if year.carried_in else ""


def _bought(year: Year, locale: str) -> list[str]:
    from labelkit.measures import show_first, total

    if not year.bought:
        return []
    unpriced = [each.bucket for each in year.bought if each.paid is None]
    known = f"; no price is given for {', '.join(unpriced)}" if unpriced else ""
    mass = show_first(total(each.net for each in year.bought), locale)
    return [
        f"Paid for bought-in honey {year.paid_for_honey.show(locale)} for {mass}{known} (not in “Left” by itself; find-prices puts it into what a jar costs)"
    ]


def _by_tax(year: Year, locale: str) -> list[str]:
    """What was sold under each tax, where there is more than one or a tax office is to be asked."""
    from labelkit.sale.cash_basis import ADVANCE_ASKS

    sums = year.by_tax
    asks = [f"Ask: {one.rate.asks}" for one in sums if one.rate and one.rate.asks]
    if year.in_advance.minor and year.taxes.rates:
        asks.append(f"Ask: {ADVANCE_ASKS}")
    if len(sums) < 2 and not asks:
        return asks
    rows = [
        (one.rate.words if one.rate else "not said", *(m.show(locale) for m in (one.money, one.net, one.tax)))
        for one in sums
    ]
    return ["", table(("by tax", "money in", "without tax", "tax"), rows, right=range(1, 4)), *asks]


def _text(year: Year, locale: str) -> list[str]:
    from labelkit.cli.run_result import asked_about
    from labelkit.measures import show_first

    whole = year.whole
    text = [
        f"Honey year {year.name}: {show_first(year.came_in, locale)} came in{_carried(year, locale)}; {whole.sold} jars sold, {whole.given} given, {whole.lost} lost.",
        "",
        f"Money in                 {year.money_in.show(locale)}",
        f"Paid in this time        {year.received.show(locale)}",
        f"Stall fees               {year.fees.show(locale)}",
        f"Cash differences         {year.differences.show(locale)}",
        *([f"Jars brought back        {year.returned.show(locale)}"] if year.returned.minor else []),
        *([f"Refunds to customers     {year.refunded.show(locale)}"] if year.refunded.minor else []),
        f"Tax in the money         {year.tax_in.show(locale) if year.taxes.rates else 'nobody has said how tax stands to the prices; none is set aside'}",
        *([f"Tax in what was paid     {year.tax_received.show(locale)}"] if year.taxes.rates else []),
        *([f"Paid in advance          {year.in_advance.show(locale)}"] if year.in_advance.minor else []),
        f"The jars cost            {whole.cost.show(locale)}",
        f"Left                     {year.left.show(locale)}",
        f"A kilogram in jars cost  {year.cost_per_kg.show(locale) if year.cost_per_kg else '–'}",
        f"Given away, broken …     {year.given_away_cost.show(locale)} of what the jars cost",
        *_bought(year, locale),
        f"In stock                 {year.stock_worth.show(locale)}",
    ]
    for what in ("size", "market", "lot"):
        rows = [
            (
                s.name,
                str(s.sold),
                str(s.given),
                str(s.lost),
                s.money.show(locale),
                s.cost.show(locale),
                s.left.show(locale),
            )
            for s in year.by(what)
        ]
        text += [
            "",
            table((f"by {what}", "sold", "given", "lost", "money in", "cost", "left"), rows, right=range(1, 7)),
        ]
    text += _by_tax(year, locale)
    owed = [a for a in year.accounts if a.open.minor]
    if owed:
        balances = [(a.customer, a.delivered.show(locale), a.paid.show(locale), a.open.show(locale)) for a in owed]
        text += ["", table(("owed by", "delivered", "paid", "open"), balances, right=range(1, 4))]
    text += ["", *marked] if (marked := asked_about(year.asked_about, locale)) else []
    return [*text, "", "This lists what was booked. It is no tax advice."]
