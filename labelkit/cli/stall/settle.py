"""``labelkit stall settle``."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import read_bytes, read_text
from labelkit.cli._options import TALLIED, by_size, tally_options
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import DayFileUnclear

if TYPE_CHECKING:
    from labelkit.sale.stall_events import StallDay

HELP = "labelkit stall settle --help"
PICTURES = (".png", ".jpg", ".jpeg", ".webp")


@click.command()
@click.argument("file", required=False, metavar="[DAY.json]")
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@tally_options
@late_option
@answering
def command(context: CommandContext, file: str | None, place: str | None, **said: Any) -> Answer:
    """Close a stall day.

    Every jar is somewhere, and the money fits or the difference is shown.

    Reads the file the market page gave back, a photograph of its code, its text pasted in (-), or what you ticked on
    the tally sheet. The same day read twice changes nothing.

    \b
    Example:  labelkit stall settle stall-2026-07-25-mill-square-market.json
              labelkit stall settle photo-of-the-code.jpg
              labelkit stall settle --sold "one pound=18" --tasted "half pound=1" --back "one pound=6" --cash 296
    """
    from labelkit.reading.day_file import read_day_file
    from labelkit.sale.settlement import Till
    from labelkit.season.stall import loaded_day, settle_counted, settle_file

    if file and any(said.values()):
        raise UsageUnclear("A day's file says everything itself; leave the counts and amounts out.", HELP)
    with context.work() as work:
        if file:
            settled = settle_file(work, read_day_file(_text_of(file), file), context.day)
        else:
            load = loaded_day(work, context.day, place)
            counts = {way: by_size(said[way], f"--{way}") for way in TALLIED}
            till = Till(said["cash"], said["cards"], said["off"], None, said["fee"])
            settled = settle_counted(work, load, counts, till)
    return _answer(settled.day, settled.before, context.locale)


def _text_of(file: str) -> str:
    """The day's text: pasted in, of a text file, or of the code on a photograph."""
    if file == "-":
        # Bad bytes become signs the check figure does not fit.
        return sys.stdin.buffer.read().decode("utf-8", "replace")
    if not file.lower().endswith(PICTURES):
        return read_text(file)
    from labelkit.barcodes.matrix import read_codes

    codes = read_codes(read_bytes(file))
    if len(codes) != 1:
        raise DayFileUnclear(file, f"{len(codes) or 'no'} codes can be read on the picture, and it takes one")
    return codes[0]


def _answer(event: StallDay, before: int | None, locale: str) -> Answer:
    from labelkit.sale.settlement import balance_of

    ways = (*TALLIED, "missing")
    rows = [(size, lot, *(str(found[way]) for way in ways)) for (lot, size), found in event.counted().items()]
    money = balance_of(event)
    text = [f"{event.place}, {event.day}", "", table(("size", "lot", *ways), rows, right=range(2, 8)), ""]
    text.append(
        f"Expected {money.expected.show(locale)}: {money.list_price.show(locale)} by the price cards"
        + (f", {money.rebates.show(locale)} let off" if money.rebates.minor else "")
        + (f", {money.rounding.show(locale)} from rounding cash" if money.rounding.minor else "")
        + "."
    )
    if money.found is None or money.difference is None:
        text.append("The cash was not counted, so nothing says whether the money fits.")
    else:
        verdict = "It fits." if not money.difference.minor else f"Difference: {money.difference.show(locale)}."
        text.append(f"Found    {money.found.show(locale)}, the float set aside. {verdict}")
    missing = sum(line.count for line in event.missing)
    text.append(
        f"{missing} jars are missing; they stand under unexplained." if missing else "Every jar is accounted for."
    )
    text.append(f"This day was settled before (event {before}); nothing was changed." if before else "Booked.")
    document = {
        "key": event.key,
        "booked": before is None,
        "settled_before": before,
        "jars": [{"size": size, "lot": lot, **found} for (lot, size), found in event.counted().items()],
        "expected": money.expected.amount,
        "found": money.found and money.found.amount,
        "difference": money.difference and money.difference.amount,
        "missing_jars": missing,
    }
    return Answer(document, "\n".join(text))
