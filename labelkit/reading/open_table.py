"""Which table a file holds: lines of text, or one sheet of a workbook."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from labelkit.errors.reading import SheetNotChosen, WorkbookUnreadable
from labelkit.reading.tables import COMPOUND, PACKED, Table, csv_table, text_of

CSV, WORKBOOK = (".csv", ".tsv", ".txt"), (".xlsx",)
# Of .ods: the light reader that comes as a wheel (python-calamine 0.9.1, tried) gives a share shown as 17.6 % as 0.176 and
# does not say that it is one, so that a moisture would be read wrong; odfpy is not built for installing.
NOT_READ = (".xls", ".xlsm", ".xlsb", ".xltx", ".xltm", ".ods", ".fods", ".numbers")


def table_in(content: bytes, file: str, locale: str, sheet: str, fits: Callable[[Sequence[str]], bool]) -> Table:
    """The table of a file: the sheet that was named, or the one sheet whose heading ``fits``.

    Raises :class:`~labelkit.errors.reading.WorkbookUnreadable`, :class:`~labelkit.errors.reading.SheetNotChosen` and
    :class:`~labelkit.errors.cli.FileUnreadable`.
    """
    ending = Path(file).suffix.casefold()
    if ending in NOT_READ:
        raise WorkbookUnreadable(file, f"labelkit does not read {ending} files")
    packed = content.startswith((PACKED, COMPOUND))
    if not (ending in WORKBOOK or (packed and ending not in CSV)):
        if sheet:
            raise SheetNotChosen(file, sheet, ())
        return csv_table(text_of(content, file), file)
    from labelkit.reading.workbook import sheets_of

    tables = sheets_of(content, file, locale)
    if sheet:
        found = [table for table in tables if table.sheet.casefold() == sheet.strip().casefold()]
    else:
        shown = [table for table in tables if not table.hidden and table.heading]
        found = shown if len(shown) == 1 else [table for table in shown if fits(table.heading)]
    if len(found) != 1:
        raise SheetNotChosen(file, sheet, [table.sheet for table in tables if table.heading])
    return found[0]


class Lines(NamedTuple):
    """A text of lines, the file it is of, and the sheet they were rows of (empty for a text)."""

    text: str
    file: str
    sheet: str = ""


def lines_in(content: bytes, file: str, locale: str) -> Lines:
    """A text of lines as it is; a workbook's one sheet as such a text, cells parted by semicolons, a line for each row.

    Raises what :func:`table_in` and :func:`~labelkit.reading.tables.text_of` raise.
    """
    if Path(file).suffix.casefold() not in (*WORKBOOK, *NOT_READ):
        return Lines(text_of(content, file), file)
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";", lineterminator="\n")
    table = table_in(content, file, locale, "", lambda _: True)
    for row in table.rows():
        cells = list(row.cells)
        while cells and not cells[-1].strip():
            cells.pop()
        writer.writerow([" ".join(cell.split()) for cell in cells])
    return Lines(out.getvalue(), file, table.sheet)
