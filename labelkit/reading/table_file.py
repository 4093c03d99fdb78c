"""Weigh-ins from a CSV file as a spreadsheet saves it.

Spreadsheets differ by country: a byte-order mark or none, commas or semicolons or tabs, decimal points or commas,
blank lines, a total row at the foot. All of that is understood; a line that is not understood is refused by its
number and nothing of the file is taken in.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal

from labelkit.errors import Refused
from labelkit.errors.lots import FileColumnsUnclear, FileRowRefused
from labelkit.lots.bucket import WeighIn
from labelkit.lots.intake import weigh_in
from labelkit.measures import Mass, total
from labelkit.reading.entry import Entry, read_intake

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
    "plant": ("plant", "plant source", "flora", "tracht", "floral source"),
}
MOST_LINES = 1_000_000
TOTALS = ("total", "sum", "totals", "summe", "gesamt", "somme", "suma", "totale", "razem", "всього", "разом")
_WEIGHTS = ("net", "gross", "tare")
_UNIT = re.compile(r"[(\[ ,]\s*(kg|g|lb|lbs|oz)\s*[)\]]?\s*$", re.IGNORECASE)
# Three digits after a comma may be a thousands group; any other number of them makes the comma a decimal mark.
_COMMA_NUMBER = re.compile(r"[+-]?\d+,(?:\d{1,2}|\d{4,})\s*(?:[a-z]+|%)?", re.IGNORECASE)


def read_table(
    text: str, file: str, day: date, locale: str, on_progress: Callable[[int], object] = int
) -> tuple[WeighIn, ...]:
    """Read the weigh-ins of a CSV file; ``file`` is only for messages, ``day`` for rows that name none.

    ``on_progress`` is told the line it is at, now and then.

    Raises :class:`~labelkit.errors.lots.FileColumnsUnclear` or :class:`~labelkit.errors.lots.FileRowRefused`.

    >>> rows = read_table("bucket;gross (kg);tare (kg)\\nB1;28,4;1,1\\n;;\\nTotal;28,4;1,1\\n", "x.csv", date(2026, 7, 14), "en_US")
    >>> [(row.bucket, row.net.kg) for row in rows]
    [('B1', Decimal('27.3'))]
    """
    text = text.removeprefix("\ufeff")
    if (lines := text.count("\n")) > MOST_LINES:
        raise FileColumnsUnclear(file, "what it may be", f"it has {lines:,} lines, and a season at most {MOST_LINES:,}")
    delimiter = _delimiter(text)
    rows = _numbered(text, delimiter)
    columns, units = _heading(rows, file)
    comma = delimiter != "," and any(
        _COMMA_NUMBER.fullmatch(cell.strip()) for _, row in _numbered(text, delimiter) for cell in row
    )
    found: dict[str, WeighIn] = {}
    for number, row in rows:
        if number % 1000 == 0:
            on_progress(number)
        cells = {field: row[at].strip() for field, at in columns.items() if at < len(row)}
        if not any(cells.values()):
            continue
        if cells["bucket"].casefold() in TOTALS:
            _check_total(cells, found, units, comma, file, number, locale)
            continue
        if not cells["bucket"]:
            raise FileRowRefused(file, number, "there are figures but no bucket name; call a sum row “Total”")
        if cells["bucket"] in found:
            raise FileRowRefused(file, number, f"bucket {cells['bucket']} stands twice in the file")
        try:
            found[cells["bucket"]] = weigh_in(read_intake(_entry(cells, units, comma), locale), day, locale)
        except Refused as refusal:
            raise FileRowRefused(file, number, f"{refusal.what.rstrip('.')} ({refusal.do.rstrip('.')})") from refusal
    return tuple(found.values())


def _delimiter(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip(" ;,\t")), "")
    return max(";\t,", key=first.count) if any(c in first for c in ";\t,") else ","


def _numbered(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """The rows with the line each begins on; a quoted cell may hold line ends, so rows are not lines."""
    reader = csv.reader(io.StringIO(text), delimiter=delimiter, skipinitialspace=True)
    begin = 1
    for row in reader:
        yield begin, row
        begin = reader.line_num + 1


def _heading(rows: Iterator[tuple[int, list[str]]], file: str) -> tuple[dict[str, int], dict[str, str]]:
    """The columns and their units by the first row that says anything; the rows after it are left."""
    heading = next((row for _, row in rows if any(cell.strip() for cell in row)), None)
    if heading is None:
        raise FileColumnsUnclear(file, "nothing", "the file is empty")
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    for column, cell in enumerate(heading):
        unit = _UNIT.search(cell)
        name = _UNIT.sub("", cell).strip().casefold() if unit else cell.strip().casefold()
        name = unicodedata.normalize("NFC", name)
        field = next((f for f, names in HEADINGS.items() if name in names), None)
        if field and field not in columns:
            columns[field] = column
            if unit and field in _WEIGHTS:
                units[field] = unit[1]
    named = ", ".join(f"“{cell.strip()}”" for cell in heading if cell.strip())
    if "bucket" not in columns:
        raise FileColumnsUnclear(file, named, "none of them is the bucket")
    if "net" not in columns and not {"gross", "tare"} <= set(columns):
        raise FileColumnsUnclear(file, named, "there is neither a net column nor both gross and tare")
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
        sources=(f"{yard}: {cells.get('hives', '')}",) if yard else (),
        plant=cells.get("plant", ""),
    )


def _point(cell: str, comma: bool) -> str:
    """A file that separates cells by semicolons or tabs and writes 28,4 means 28.4: its comma is the decimal mark."""
    return re.sub(r"(\d),(\d)", r"\1.\2", cell) if comma else cell


def _check_total(
    cells: dict[str, str],
    found: dict[str, WeighIn],
    units: dict[str, str],
    comma: bool,
    file: str,
    number: int,
    locale: str,
) -> None:
    """A total row that does not add up means a row was lost or misread somewhere above it."""
    for field in ("net", "gross"):
        if not cells.get(field):
            continue
        try:
            stated = Mass.read(getattr(_entry(cells, units, comma), field), locale)
        except Refused as refusal:
            raise FileRowRefused(file, number, f"the total cannot be read: {refusal.what.rstrip('.')}") from refusal
        masses = [w.net for w in found.values()]
        if field != "net":
            masses = [w.weighing.gross for w in found.values() if w.weighing]
        difference = abs((total(masses) - stated).g)
        if difference > Decimal(len(masses)):  # a gram a row, for totals that were rounded for show
            raise FileRowRefused(
                file,
                number,
                f"the {field} total {stated.kg} kg is not the sum of the rows above, {total(masses).kg} kg",
            )
