"""``labelkit ruler``."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option

if TYPE_CHECKING:
    from labelkit.labels.sheets import Printer


@click.command()
@click.option("--page", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="The paper.")
@click.option("--out", metavar="FILE", default="ruler.pdf", show_default=True, help="The page to print.")
@click.option(
    "--measured", metavar="LENGTHS", help="The four lengths read off the printed page, like “150.2, 199.8, 33.4, 39.9”."
)
@click.option("--keep", metavar="NAME", help="With --measured: keep it in the record, for labels --printer NAME.")
@click.option(
    "--dpi", type=click.IntRange(150, 2400), default=600, show_default=True, help="Dots per inch of that printer."
)
@click.option("--list", "show_list", is_flag=True, help="Show the printers kept in the record.")
@late_option
@answering
def command(
    context: CommandContext, page: str, out: str, measured: str | None, keep: str | None, dpi: int, show_list: bool
) -> Answer:
    """Calibrate a printer for label sheets.

    Print the page, measure it, and keep what you measured for that printer.

    \b
    Example:  labelkit ruler --page a4 --out ruler.pdf
              labelkit ruler --page a4 --measured "150.2, 199.8, 30.4, 48.3"
              labelkit ruler --page a4 --measured "150.2, 199.8, 30.4, 48.3" --keep office
    """
    if show_list:
        return _kept(context)
    if measured is None:
        if keep:
            from labelkit.errors.cli import UsageUnclear

            raise UsageUnclear(
                f"There is nothing to keep for {keep} yet: print the page, measure, and give --measured.",
                "labelkit ruler --help",
            )
        from labelkit.cli._files import write_whole
        from labelkit.labels.calibration import ruler_page

        write_whole(out, ruler_page(page))
        return Answer(
            {"file": out}, f"{out}: print it at 100 %, measure, and type:  labelkit ruler --page {page} --measured “…”"
        )
    return _correction(context, page, measured, dpi, (keep or "").strip())


def _correction(context: CommandContext, page: str, measured: str, dpi: int, keep: str) -> Answer:
    from labelkit.errors.cli import UsageUnclear
    from labelkit.labels.calibration import corrected
    from labelkit.measures import Length
    from labelkit.measures.locales import DEFAULT_LOCALE
    from labelkit.measures.numerals import read_number
    from labelkit.season import label_paper

    parts = [
        part.replace("mm", "").strip() for part in measured.replace(";", ", ").split(", " if ", " in measured else ",")
    ]
    if len(parts) != 4:
        raise UsageUnclear(
            "Four lengths are needed: A to B, A to C, left edge to A, lower edge to A.", "labelkit ruler --help"
        )
    across, up, left, foot = (Length.of_mm(read_number(part, context.locale, text=part)) for part in parts)
    printer = corrected(page, across, up, left, foot, dpi=dpi)
    document = {
        **label_paper.printer_words(printer),
        "options": _options(printer, DEFAULT_LOCALE),
        "kept": keep or None,
    }
    if not keep:
        options = _options(printer, context.locale)
        return Answer(document, f"Add to your labels command:  {options}\nOr keep it once, with --keep NAME.")
    with context.work() as work:
        label_paper.keep(work, label_paper.PRINTERS, keep, label_paper.printer_words(printer), context.day)
    return Answer(document, f"Kept. From now on:  labelkit labels … --printer “{keep}”")


def _options(printer: Printer, locale: str) -> str:
    """The options of a print that put a printer right, as they are typed in a locale."""
    from labelkit.measures import Length
    from labelkit.measures.locales import show_number

    right, up = (Length(nudge).show(locale) for nudge in (printer.nudge_x, printer.nudge_y))
    across, high = (show_number(Decimal(scale), locale) for scale in (printer.scale_x, printer.scale_y))
    return f'--nudge-right "{right}" --nudge-up "{up}" --scale-across {across} --scale-up {high}'


def _kept(context: CommandContext) -> Answer:
    """The printers in the record."""
    from labelkit.cli._labels import record_of
    from labelkit.cli._show import table
    from labelkit.measures import Length
    from labelkit.measures.locales import show_number
    from labelkit.season import label_paper

    with record_of(context) as state:
        held = label_paper.kept(state, label_paper.PRINTERS)
    rows = [
        (
            name,
            str(one["dpi"]),
            *(Length(one[f"nudge_{way}_um"]).show(context.locale) for way in ("right", "up")),
            *(show_number(Decimal(one[f"scale_{way}"]), context.locale) for way in ("across", "up")),
        )
        for name, one in held.items()
    ]
    heads = ("printer", "dpi", "right", "up", "across", "upwards")
    return Answer({"printers": held}, table(heads, rows, right=range(1, 6)) if held else "No printer is kept yet.")
