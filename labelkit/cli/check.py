"""``labelkit check``."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.rules.label import Label
    from labelkit.trace.heritage import Heritage


@click.command()
@click.argument("file", metavar="LABEL.toml")
@click.option(
    "--market",
    "-m",
    "markets",
    multiple=True,
    metavar="M",
    help="Check for this market instead of those the file names; as often as needed.",
)
@answering
def command(context: CommandContext, file: str, markets: tuple[str, ...]) -> Answer:
    """Check a whole label against the rules.

    Each market the jar is sold in is checked.

    The file says what the label says (name, weight, lines, maker …), on which jar, and in which situation it is sold.
    What labelkit prints beside it (a state's sentence, the caution on infants) is told as “labelkit adds this”.
    What must be fixed comes first, then what to ask, then what is good to know, and last what was not checked and whom
    to call about it. Exit code 1 when something must be fixed.

    A jar with labelled = 2026-05-20 in its file is checked by the rules of that day; what changed since is told.

    With --record the lot on the label is looked up, and what it says of moisture, grade and origin is held against the
    honey that is really in it.

    \b
    Example:  labelkit check my-label.toml
              labelkit check my-label.toml --market us-ca --json
              labelkit --record season.labelkit check my-label.toml
    """
    from labelkit.cli._files import read_text
    from labelkit.labels.case import cases_printed
    from labelkit.reading.label_file import read_label
    from labelkit.rules import market
    from labelkit.rules.checking import check_on
    from labelkit.rules.report import report
    from labelkit.rules.wording import gravest_first
    from labelkit.season.borne import home_of, unborne

    written = read_label(read_text(file), file, markets)
    label, found = _as_recorded(written, context)
    as_printed = partial(cases_printed, locale=context.locale)
    checked = check_on(label, context.day, as_printed)
    if found:
        cases = as_printed(label, [market(name, context.day) for name in label.markets])
        denied = unborne(cases, found, home_of(written))
        checked = replace(checked, findings=gravest_first((*denied, *checked.findings)))
    document = {"findings": list(checked.findings), "not_covered": list(checked.not_covered)}
    return Answer(document, report(checked.findings, checked.not_covered), 1 if checked.stopped else 0)


def _as_recorded(label: Label, context: CommandContext) -> tuple[Label, tuple[Heritage, ...]]:
    """The label with what the record knows of its lot: the moisture the file does not say, the origin; and its honey."""
    if not context.record or not label.lot:
        return label, ()

    from labelkit.errors.record import LotUnknown
    from labelkit.lots.code import read_lot_code
    from labelkit.season.borne import as_warmed, heritages, of_its_honey

    with context.reading() as book:
        codes = book.lot_codes_taken()
        code = read_lot_code(label.lot, near=codes).code
        if code not in codes:
            raise LotUnknown(f"lot {code}", "")
        runs = [booked.event for booked in book.events(("run",)) if booked.stands and booked.event.lot == code]
        buckets = [book.bucket(run.bucket) for run in runs]
        found = heritages(book, [code])
        label = as_warmed(book, of_its_honey(label, found, context.day), [code])
    measured = [b.moisture for b in buckets if b.moisture_is_whole and b.moisture is not None]
    if len(measured) < len(buckets) or "moisture" in label.situation:
        return label, found
    return replace(label, situation={**label.situation, "moisture": max(measured)}), found
