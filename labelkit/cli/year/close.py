"""``labelkit year close``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import JAR_LIMIT, MASS, PERIOD, BySize, because_option, by_size, once_option, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.measures import Mass
    from labelkit.measures.period import Period
    from labelkit.season.close_year import JarsCounted, YearIsDone


@click.command()
@click.option("--year", "period", type=PERIOD, required=True, help="2026, 2026-04 or two days with “..”.")
@click.option(
    "--count", "counts", type=JAR_LIMIT, multiple=True, help="Jars counted on its last evening: 'LOT one pound=17'."
)
@click.option("--empty", "empties", type=JAR_LIMIT, multiple=True, help="Empty jars counted: 'one pound=37'.")
@click.option(
    "--bucket",
    "buckets",
    type=BySize(MASS, "B1=12 lb"),
    metavar="ID=WEIGHT",
    multiple=True,
    help="Honey weighed in a bucket.",
)
@click.option("--pdf", metavar="FILE.pdf", help="Its papers; year-2026.pdf in this folder unless given.")
@because_option
@paper_options
@once_option
@answering
def command(
    context: CommandContext,
    period: Period,
    counts: tuple[tuple[str, int], ...],
    empties: tuple[tuple[str, int], ...],
    buckets: tuple[tuple[str, Mass], ...],
    pdf: str | None,
    because: str,
    page: str | None,
    language: str | None,
    once: str | None,
) -> Answer:
    """Close a year: take stock and print its papers.

    What is still there is carried into the next year, in the same record. Later bookings into the closed year are asked
    about. A count that differs is booked on the year's last day; say --because.

    \b
    Example:  labelkit year close --year 2025 --pdf year-2025.pdf
              labelkit year close --year 2025 --count "L25201AXD one pound=4" --because "one is nowhere"
              labelkit year close --year 2025 --bucket "B1=12 lb" --empty "one pound=37" --because "counted"
    """
    from labelkit.season.close_year import YearToClose, close_year
    from labelkit.season.papers import paper_words
    from labelkit.season.year_papers import year_papers

    words, spoken = paper_words(language, context.locale)
    counted = tuple(_counted(name, found) for name, found in counts)
    weighed, empty = by_size(buckets, "--bucket"), by_size(empties, "--empty")
    with context.work(once) as work:
        done = close_year(work, YearToClose(period, counted, because, weighed, empty), context.day, context.locale)
        papers = year_papers(work, context.day, period, words, spoken, page)
    file = write_whole(pdf or f"year-{period}.pdf".replace("..", "-to-"), papers, private=True)
    text = f"{_text(done, context.reader)}\nWritten: {file}"
    return Answer(_document(done) | {"files": [str(file)]}, text)


def _counted(name: str, found: int) -> JarsCounted:
    from labelkit.season.close_year import JarsCounted

    lot, _, size = name.partition(" ")
    if not size.strip():
        raise UsageUnclear(
            f"“--count {name}={found}” does not name a lot and a size; write --count 'L25201AXD one pound=17'.",
            "labelkit year close --help",
        )
    return JarsCounted(lot, size.strip(), found)


def _document(done: YearIsDone) -> dict:
    event = done.event
    return {
        "year": str(event.period),
        "event": done.booked.seq,
        "closed": event.day,
        "because": event.because,
        "buckets": [{"id": part.bucket, "holds_g": part.mass.g} for part in event.buckets],
        "jars": [{"lot": jars.lot, "size": jars.size, "count": jars.count} for jars in event.jars],
        "empty": [{"size": empty.size, "jars": empty.jars, "lids": empty.lids} for empty in event.empties],
        "weighed": [
            {"bucket": each.step.bucket, "held_g": each.step.held.g, "net_g": each.step.net.g, "event": each.event}
            for each in done.weighed
            if each.step.net
        ],
        "counted": [
            {"lot": c.lot, "size": c.size, "had": c.had, "found": c.found, "event": c.event} for c in done.counts
        ],
    }


def _text(done: YearIsDone, locale: str) -> str:
    lines = [f"{done.event.period} is closed (event {done.booked.seq}). {done.event.describe(locale)}."]
    lines += [f"{c.lot or 'Empty'}, {c.size}: {c.found} counted, the record had {c.had}." for c in done.counts]
    lines += [each.step.describe(locale) for each in done.weighed]
    lines.append("A later booking into it needs --because, and the year shows it. To take the closing back:")
    return "\n".join([*lines, f'  labelkit record correct {done.booked.seq} --because "REASON"'])
