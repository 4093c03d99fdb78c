"""On what labels are printed and by which printer: sheets of the catalogue or kept in the record, printers that were measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from labelkit.errors.labels import PrinterUnknown, SheetUnknown
from labelkit.labels.label_set import around
from labelkit.labels.sheets import Printer, Sheet, read_sheets, scale, sheet, sheets
from labelkit.measures import Length
from labelkit.record.settings import Setting

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

PRINTERS, SHEETS = "printers", "sheets"
#: A front goes so far round a jar at most where no sheet is named, in hundredths. Our own eye, no source.
FRONT_SHARE = 60
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


def usual_sheet(kind: str, markets: Sequence[str], jar: Mapping[str, Length] = MappingProxyType({})) -> str:
    """The sheet for a kind of label where none is named: letter in North America, A4 elsewhere.

    Where the usual one does not go onto the ``jar`` (diameter or width, and height of its straight side), it is the
    largest that does.

    >>> usual_sheet("front", ("us-va",)), usual_sheet("wrap", ("eu-de",))
    ('letter-2x5-102x51', 'a4-1x5-200x50')
    >>> usual_sheet("front", ("eu-de",), {"diameter": Length.of_mm(60), "height": Length.of_mm(45)})
    'a4-2x7-99x38'
    """
    letter = not markets or markets[0].split("-")[0] in ("us", "ca")
    usual = sheet(USUAL[kind][0 if letter else 1])
    if kind not in ("front", "back", "nutrition") or not jar:
        return usual.name
    wide = jar["width"].um if "width" in jar else around(jar["diameter"]).um * FRONT_SHARE // 100
    high = jar["height"].um if "height" in jar else usual.high
    fitting = [one for one in (usual, *sheets().values()) if one.wide <= wide and one.high <= high]
    alike = [one for one in fitting if (one.page, one.shape, one.hole) == (usual.page, usual.shape, 0)]
    return usual.name if usual in fitting else max(alike, key=lambda one: one.wide * one.high, default=usual).name


def kept(state: Reading | None, what: str) -> dict[str, Any]:
    """The printers or sheets in the record, by name; none where there is no record."""
    return dict(state.settings().get(what, {})) if state else {}


def keep(work: Work, what: str, name: str, value: Any, day: date) -> int:
    """Keep a printer or a sheet under its name; the event's number."""
    return work.add(Setting(day, what, kept(work, what) | {name.strip(): value})).seq


def sheet_named(state: Reading | None, name: str) -> Sheet:
    """A sheet of the catalogue, a roll, or one that was kept. Raises :class:`~labelkit.errors.labels.SheetUnknown`."""
    try:
        return sheet(name)
    except SheetUnknown:
        mine = kept(state, SHEETS)
        if name not in mine:
            raise
        return read_sheets(mine[name], f"the sheet “{name}” in the record")[0]


def printer_named(state: Reading | None, name: str, dpi: int | None = None) -> Printer:
    """A printer as it was measured. Raises :class:`~labelkit.errors.labels.PrinterUnknown`."""
    held = kept(state, PRINTERS)
    if name not in held:
        raise PrinterUnknown(name, sorted(held))
    one = held[name]
    return Printer(
        dpi or one["dpi"],
        one["nudge_right_um"],
        one["nudge_up_um"],
        scale(one["scale_across"]),
        scale(one["scale_up"]),
    )


def printer_words(printer: Printer) -> dict[str, Any]:
    """A printer's correction as the record keeps it: whole micrometres, exact stretches."""
    return {
        "dpi": printer.dpi,
        "nudge_right_um": printer.nudge_x,
        "nudge_up_um": printer.nudge_y,
        "scale_across": str(printer.scale_x),
        "scale_up": str(printer.scale_y),
    }
