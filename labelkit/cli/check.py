"""``labelkit check``."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.rules.label import Label


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
    """Hold a whole label against the law of each market it is sold in.

    The file says what the label says (name, weight, lines, maker …), on which jar, and in which situation it is sold.
    What labelkit prints beside it (a state's sentence, the caution on infants) is told as “labelkit adds this”.
    What must be fixed comes first, then what to ask, then what is good to know, and last what was not checked and whom
    to call about it. Exit code 1 when something must be fixed.

    A jar with labelled = 2026-05-20 in its file is checked by the rules of that day; what changed since is told.

    With --record the lot on the label is looked up, and what it says of moisture and grade is held against the honey
    that is really in it.

    \b
    Example:  labelkit check my-label.toml
              labelkit check my-label.toml --market us-ca --json
              labelkit --record season.labelkit check my-label.toml
    """
    from labelkit.cli._files import read_text
    from labelkit.labels.case import cases_printed
    from labelkit.reading.label_file import read_label
    from labelkit.rules.checking import check_on
    from labelkit.rules.report import report

    label = _as_recorded(read_label(read_text(file), file, markets), context)
    checked = check_on(label, context.day, cases_printed)
    document = {"findings": list(checked.findings), "not_covered": list(checked.not_covered)}
    return Answer(document, report(checked.findings, checked.not_covered), 1 if checked.stopped else 0)


def _as_recorded(label: Label, context: CommandContext) -> Label:
    """The label with the moisture of its own lot, where the record knows it and the file does not say it."""
    if not context.record or not label.lot:
        return label

    from labelkit.errors.record import LotUnknown
    from labelkit.lots.code import read_lot_code

    with context.reading() as book:
        codes = book.lot_codes_taken()
        code = read_lot_code(label.lot, near=codes).code
        if code not in codes:
            raise LotUnknown(f"lot {code}", "")
        runs = [booked.event for booked in book.events(("run",)) if booked.stands and booked.event.lot == code]
        buckets = [book.bucket(run.bucket) for run in runs]
    measured = [b.moisture for b in buckets if b.moisture_is_whole and b.moisture is not None]
    if len(measured) < len(buckets) or "moisture" in label.situation:
        return label
    return replace(label, situation={**label.situation, "moisture": max(measured)})
