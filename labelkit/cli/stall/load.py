"""``labelkit stall load``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from labelkit.cli._files import commit_with, write_whole
from labelkit.cli._options import AMOUNT, JAR_COUNT, because_option, by_size, once_option, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table

if TYPE_CHECKING:
    from labelkit.measures import Money
    from labelkit.season.settings import SeasonSettings
    from labelkit.season.stall import LoadPlan


@click.command()
@click.option("--place", metavar="NAME", help="The market.")
@click.option(
    "--jar", "jars", type=JAR_COUNT, multiple=True, help="Take so many of this size instead of what is suggested."
)
@click.option("--lot", metavar="CODE", help="Only jars of this lot; otherwise the oldest go first.")
@click.option("--crates", type=click.IntRange(1), metavar="N", help="How many crates fit.")
@click.option(
    "--crate",
    "holds",
    type=JAR_COUNT,
    multiple=True,
    help="How many jars of this size a crate holds (12 unless said).",
)
@click.option("--change", type=AMOUNT, help="The cash float; a suggestion is shown unless given.")
@click.option("--book", is_flag=True, help="They are loaded: book it.")
@click.option("--more", is_flag=True, help="These jars go to the same market day besides those loaded before.")
@because_option
@once_option
@click.option("--pdf", metavar="FILE.pdf", help="Print the load list.")
@paper_options
@answering
def command(
    context: CommandContext,
    place: str | None,
    jars: tuple[tuple[str, int], ...],
    lot: str | None,
    crates: int | None,
    holds: tuple[tuple[str, int], ...],
    change: Money | None,
    book: bool,
    more: bool,
    because: str,
    once: str | None,
    pdf: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Plan and record what you take.

    By what sold there, what is in stock, and what fits the crates.

    \b
    Example:  labelkit stall load --place "Mill square market" --crates 6 --crate "half pound=24"
              labelkit stall load --place "Mill square market" --jar "one pound=24" --change 80 --book
    """
    from labelkit.sale.load_list import load_list_pdf
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import settings_of
    from labelkit.season.stall import Loading, load, plan_load

    asked = Loading(place or "", by_size(jars, "--jar"), lot, crates, by_size(holds, "--crate"), change, more, because)

    def listed(plan: LoadPlan, season: SeasonSettings) -> list[Path]:
        if not pdf:
            return []
        words, locale = paper_words(language, context.locale)
        size = paper_size(season, page)
        return [write_whole(pdf, load_list_pdf(plan.load, dict(asked.per_crate), words, locale, page=size))]

    if not book:
        with context.reading() as state:
            plan = plan_load(state, asked, context.day)
            written = listed(plan, settings_of(state))
        return _answer(plan, written, context.locale)
    with context.work(once) as work:
        plan = load(work, asked, context.day)
        written = [] if work.booked_before else listed(plan, settings_of(work))
        commit_with(work, *written)
    return _answer(plan, written, context.locale)


def _answer(plan: LoadPlan, written: list[Path], locale: str) -> Answer:
    event = plan.load
    rows = [
        (line.size, line.lot, str(line.count), line.price.show(locale), plan.because.get(line.size, ""))
        for line in event.jars
        if line.price
    ]
    change = event.change.show(locale) if event.change else "none"
    text = [
        f"{event.place}, {event.day}",
        "",
        table(("size", "lot", "take", "price", "because"), rows, right=[2, 3]),
        "",
        f"Worth {plan.worth.show(locale)} at these prices. Cash float {change}.",
        *(f"! {each.what} {each.why}" for each in plan.unmet),
        "Booked as loaded." if plan.booked else "Nothing is booked yet; say --book once the jars are in the car.",
        *(f"Written: {name}" for name in written),
    ]
    document = {
        "key": event.key,
        "place": event.place,
        "day": event.day,
        "booked": plan.booked,
        "files": [str(name) for name in written],
        "jars": [
            {"lot": x.lot, "size": x.size, "count": x.count, "price": str(x.price.amount)}
            for x in event.jars
            if x.price
        ],
        "change": str(event.change.amount) if event.change else None,
        "because": plan.because,
        "unmet": [each.what for each in plan.unmet],
    }
    return Answer(document, "\n".join(text))
