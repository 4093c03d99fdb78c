"""Weigh-ins from a table as a spreadsheet keeps it.

Spreadsheets differ by country: decimal points or commas, units in the heading or beside the figure, blank lines, a
total row at the foot. All of that is understood; what is not understood is refused by its line or cell, and nothing of
the file is taken in.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from labelkit.errors import Refused
from labelkit.errors.lots import FileColumnsUnclear, FileRowRefused
from labelkit.lots.bucket import WeighIn
from labelkit.lots.intake import weigh_in
from labelkit.measures import Mass, total
from labelkit.reading.entry import Entry, read_intake
from labelkit.reading.tables import Row, Table

# Headings as people of the trade write them, by the field they fill.
HEADINGS = {
    "bucket": ("bucket", "id", "pail", "bucket id", "eimer", "seau", "cubo", "secchio", "wiadro", "відро"),
    "net": ("net", "net weight", "netto", "poids net", "neto", "peso neto", "peso netto", "нетто"),
    "gross": ("gross", "gross weight", "brutto", "brut", "bruto", "peso bruto", "peso lordo", "lordo", "брутто"),
    "tare": ("tare", "empty", "tara", "тара"),
    "container": ("container", "size of bucket", "behälter", "contenant", "recipiente"),
    "moisture": (
        "moisture",
        "water",
        "moisture %",
        "wasser",
        "wassergehalt",
        "humidité",
        "humedad",
        "umidità",
        "wilgotność",
    ),
    "weighed": ("weighed", "date", "day", "datum", "fecha", "data", "дата"),
    "harvested": ("harvested", "harvest", "harvest day", "ernte", "récolte", "cosecha", "raccolta", "zbiór"),
    "yard": ("yard", "apiary", "site", "stand", "rucher", "colmenar", "apiario", "pasieka", "пасіка"),
    "hives": ("hives", "hive", "colonies", "völker", "ruches", "colmenas", "arnie", "ule", "вулики"),
    "more": ("more yards",),
    "plant": ("plant", "plant source", "flora", "tracht", "floral source"),
}
TOTALS = ("total", "sum", "totals", "summe", "gesamt", "somme", "suma", "totale", "razem", "всього", "разом")
_WEIGHTS = ("net", "gross", "tare")
_UNIT = re.compile(r"[(\[ ,]\s*(kg|g|lb|lbs|oz)\s*[)\]]?\s*$", re.IGNORECASE)
# What a spreadsheet program makes of a name like 1-2.
_A_DAY = re.compile(r"\d{4}-\d\d-\d\d")
# Three digits after a comma may be a thousands group; any other number of them makes the comma a decimal mark.
_COMMA_NUMBER = re.compile(r"[+-]?\d+,(?:\d{1,2}|\d{4,})\s*(?:[a-z]+|%)?", re.IGNORECASE)


def read_table(table: Table, day: date, locale: str, on_progress: Callable[[int], object] = int) -> tuple[WeighIn, ...]:
    """Read the weigh-ins of a table; ``day`` for rows that name none.

    ``on_progress`` is told the row it is at, now and then.

    Raises :class:`~labelkit.errors.lots.FileColumnsUnclear` or :class:`~labelkit.errors.lots.FileRowRefused`.

    >>> from labelkit.reading.tables import csv_table
    >>> table = csv_table("bucket;gross (kg);tare (kg)\\nB1;28,4;1,1\\n;;\\nTotal;28,4;1,1\\n", "x.csv")
    >>> [(row.bucket, row.net.kg) for row in read_table(table, date(2026, 7, 14), "en_US")]
    [('B1', Decimal('27.3'))]
    """
    rows = table.rows()
    columns, units = _heading(next((row.cells for row in rows if any(map(str.strip, row.cells))), ()), table.file)
    comma = table.delimiter in (";", "\t") and any(
        _COMMA_NUMBER.fullmatch(cell.strip()) for row in table.rows() for cell in row.cells
    )
    found: dict[str, WeighIn] = {}

    def refused(row: Row, reason: str, field: str = "") -> FileRowRefused:
        return FileRowRefused(table.file, row.place(columns.get(field)), reason.rstrip("."))

    for row in rows:
        if row.number % 1000 == 0:
            on_progress(row.number)
        cells = {field: row.cells[at].strip() for field, at in columns.items() if at < len(row.cells)}
        if not any(cells.values()):
            continue
        bucket = cells["bucket"]
        if bucket.casefold() in TOTALS:
            if wrong := _wrong_total(cells, found, units, comma, locale):
                raise refused(row, *wrong)
        elif not bucket:
            raise refused(row, "there are figures but no bucket name; call a sum row “Total”", "bucket")
        elif bucket in found:
            raise refused(row, f"bucket {bucket} stands twice in the file", "bucket")
        elif table.sheet and _A_DAY.fullmatch(bucket):
            raise refused(row, f"the bucket's name is a date, {bucket}; type the name as text ('1-2)", "bucket")
        else:
            try:
                found[bucket] = weigh_in(read_intake(_entry(cells, units, comma), locale), day, locale)
            except Refused as refusal:
                said = f"{refusal.what.rstrip('.')} ({refusal.do.rstrip('.')})"
                raise refused(row, said, refusal.field or "bucket") from refusal
    return tuple(found.values())


def names_buckets(heading: Sequence[str]) -> bool:
    """Whether a heading is that of a table of weigh-ins.

    >>> names_buckets(["Eimer", "Netto (kg)"]), names_buckets(["customer", "owes"])
    (True, False)
    """
    columns, _ = _columns(heading)
    return "bucket" in columns and ("net" in columns or {"gross", "tare"} <= set(columns))


def _heading(heading: Sequence[str], file: str) -> tuple[dict[str, int], dict[str, str]]:
    """The columns and their units by the first row that says anything."""
    named = ", ".join(f"“{cell.strip()}”" for cell in heading if cell.strip())
    if not named:
        raise FileColumnsUnclear(file, "nothing", "the file is empty")
    columns, units = _columns(heading)
    if "bucket" not in columns:
        raise FileColumnsUnclear(file, named, "none of them is the bucket")
    if not names_buckets(heading):
        raise FileColumnsUnclear(file, named, "there is neither a net column nor both gross and tare")
    return columns, units


def _columns(heading: Sequence[str]) -> tuple[dict[str, int], dict[str, str]]:
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for column, cell in enumerate(heading):
        unit = _UNIT.search(cell)
        name = unicodedata.normalize("NFC", _UNIT.sub("", cell).strip().casefold())
        field = next((f for f, names in HEADINGS.items() if name in names), None)
        if field and field not in columns:
            columns[field] = column
            if unit and field in _WEIGHTS:
                units[field] = unit[1]
    return columns, units


def _entry(cells: dict[str, str], units: dict[str, str], comma: bool) -> Entry:
    def weight(field: str) -> str:
        cell = _point(cells.get(field, ""), comma)
        return f"{cell} {units[field]}" if cell and field in units and cell[-1:].isdigit() else cell

    yard = cells.get("yard", "")
    return Entry(
        bucket=cells["bucket"],
        net=weight("net"),
        gross=weight("gross"),
        tare=weight("tare"),
        container=_point(cells.get("container", ""), comma),
        moisture=_point(cells.get("moisture", ""), comma),
        weighed=cells.get("weighed", ""),
        harvested=cells.get("harvested", ""),
        sources=((f"{yard}: {cells.get('hives', '')}",) if yard else ()) + tuple(cells.get("more", "").split("|")),
        plant=cells.get("plant", ""),
    )


def _point(cell: str, comma: bool) -> str:
    """A file that separates cells by semicolons or tabs and writes 28,4 means 28.4: its comma is the decimal mark."""
    return re.sub(r"(\d),(\d)", r"\1.\2", cell) if comma else cell


def _wrong_total(
    cells: dict[str, str], found: dict[str, WeighIn], units: dict[str, str], comma: bool, locale: str
) -> tuple[str, str] | None:
    """What is wrong with a total row, and in which column: a row above it was lost or misread."""
    for field in ("net", "gross"):
        if not cells.get(field):
            continue
        try:
            stated = Mass.read(getattr(_entry(cells, units, comma), field), locale)
        except Refused as refusal:
            return f"the total cannot be read: {refusal.what}", field
        masses = [w.net for w in found.values()]
        if field != "net":
            masses = [w.weighing.gross for w in found.values() if w.weighing]
        difference = abs((total(masses) - stated).g)
        if difference > Decimal(len(masses)):  # a gram a row, for totals that were rounded for show
            return f"the {field} total {stated.kg} kg is not the sum of the rows above, {total(masses).kg} kg", field
    return None
