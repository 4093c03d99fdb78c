"""On what labels are printed and by which printer: sheets of the catalogue, of a file, or kept in the record."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from collections.abc import Sequence

    from labelkit.cli._labels import Choice
    from labelkit.labels.sheets import Printer, Sheet

PRINTERS, SHEETS = "printers", "sheets"
DPI = 600
#: The sheet taken where none is named, on letter and on A4. Any other of the catalogue does as well.
USUAL = {
    "front": ("letter-2x5-102x51", "a4-2x4-99x68"),
    "back": ("letter-2x5-102x51", "a4-2x4-99x68"),
    "wrap": ("letter-1x5-203x51", "a4-1x5-200x50"),
    "lid": ("letter-4x5-d51", "a4-3x4-d64"),
    "seal": ("letter-2x10-102x25", "a4-2x7-99x38"),
    "nutrition": ("letter-2x2-102x127", "a4-2x2-99x139"),
    "tag": ("letter-2x2-102x127", "a4-2x2-99x139"),
    "case": ("letter-2x2-102x127", "a4-2x2-99x139"),
    "card": ("letter-3x3-64x76", "a4-2x4-99x68"),
}


def usual_sheet(kind: str, markets: Sequence[str]) -> str:
    """The sheet for a kind of label where none is named: letter in North America, A4 elsewhere.

    >>> usual_sheet("front", ("us-va",)), usual_sheet("wrap", ("eu-de",))
    ('letter-2x5-102x51', 'a4-1x5-200x50')
    """
    letter = not markets or markets[0].split("-")[0] in ("us", "ca")
    return USUAL[kind][0 if letter else 1]


def paper_of(context: CommandContext, choice: Choice, markets: Sequence[str]) -> Sheet:
    """The chosen sheet. Raises :class:`~labelkit.errors.labels.SheetUnknown` where nobody knows it."""
    from labelkit.cli._files import read_text
    from labelkit.errors.labels import SheetUnknown
    from labelkit.labels.sheets import chosen, read_sheets, sheet

    name = choice.sheet or usual_sheet(choice.kind, markets)
    if choice.sheet_file:
        return chosen(name, read_text(choice.sheet_file), choice.sheet_file)
    try:
        return sheet(name)
    except SheetUnknown:
        mine = kept(context, SHEETS)
        if name not in mine:
            raise
        return read_sheets(mine[name], f"the sheet “{name}” in the record")[0]


def printer_of(context: CommandContext, choice: Choice) -> Printer:
    """The printer as kept under its name, or as its correction was typed."""
    from labelkit.errors.labels import PrinterUnknown
    from labelkit.labels.sheets import Printer, scale
    from labelkit.measures import Length

    if not choice.printer:
        return Printer(
            choice.dpi or DPI,
            Length.read_signed(choice.nudge_right, context.locale).um,
            Length.read_signed(choice.nudge_up, context.locale).um,
            scale(choice.scale_across),
            scale(choice.scale_up),
        )
    typed = (choice.nudge_right, choice.nudge_up, choice.scale_across, choice.scale_up)
    if typed != ("0 mm", "0 mm", "1", "1"):
        raise UsageUnclear(
            f"--printer {choice.printer} brings its own correction; a nudge or a stretch beside it would be a second one.",
            "labelkit ruler --help",
        )
    held = kept(context, PRINTERS)
    if choice.printer not in held:
        raise PrinterUnknown(choice.printer, sorted(held))
    one = held[choice.printer]
    return Printer(
        choice.dpi or one["dpi"],
        one["nudge_right_um"],
        one["nudge_up_um"],
        scale(one["scale_across"]),
        scale(one["scale_up"]),
    )


def kept(context: CommandContext, what: str) -> dict[str, Any]:
    """The printers or sheets in the record, by name; none where there is no record."""

    if not context.has_record():
        return {}
    with context.reading() as book:
        return dict(book.settings().get(what, {}))


def keep(context: CommandContext, what: str, name: str, value: Any) -> int:
    """Keep a printer or a sheet in the record under its name; the event's number."""
    from labelkit.record.settings import Setting

    with context.work() as work:
        held = dict(work.settings().get(what, {}))
        work.add(Setting(context.day, what, held | {name.strip(): value}))
        return work.commit()[0].seq


def must_be_free(name: str) -> None:
    """Refuse a name of the catalogue for a sheet of one's own: nobody would know which is meant."""
    from labelkit.errors.labels import SheetUnknown
    from labelkit.labels.sheets import sheet

    try:
        sheet(name.strip())
    except SheetUnknown:
        return
    raise UsageUnclear(f"{name} is a sheet of the catalogue; keep yours under another name.", "labelkit sheet --help")


def printer_words(printer: Printer) -> dict[str, Any]:
    """A printer's correction as the record keeps it: whole micrometres, exact stretches."""
    return {
        "dpi": printer.dpi,
        "nudge_right_um": printer.nudge_x,
        "nudge_up_um": printer.nudge_y,
        "scale_across": str(printer.scale_x),
        "scale_up": str(printer.scale_y),
    }
