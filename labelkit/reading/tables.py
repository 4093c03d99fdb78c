"""Tables as people keep them: a CSV file as a spreadsheet saves it, or a sheet of a workbook; one form behind both.

A cell is text as the reader would have typed it: a number or a day of a workbook is written in the reader's ``locale``,
so that whoever reads the table reads every cell one way. A row knows how a message names it and each of its cells.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from labelkit.errors.cli import FileUnreadable
from labelkit.errors.lots import FileColumnsUnclear
from labelkit.measures.columns import letters

MOST_LINES = 1_000_000
PACKED, COMPOUND = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # how a workbook begins, and an old or locked one


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number from 1, its cells, and the sheet it is on (empty for a file of lines)."""

    number: int
    cells: list[str]
    sheet: str = ""

    def place(self, column: int | None = None) -> str:
        """The row, or the cell of a sheet, as a message names it; ``column`` counts from 0.

        >>> Row(7, ["B1"]).place(2), Row(7, ["B1"], "Weigh-in").place(2), Row(7, ["B1"], "Weigh-in").place()
        ('line 7', 'Weigh-in!C7', 'Weigh-in!7')
        """
        if not self.sheet:
            return f"line {self.number}"
        return f"{self.sheet}!{'' if column is None else letters(column)}{self.number}"


def place_of(file: str, number: int, sheet: str = "", column: int | None = None) -> str:
    """A line of a file, or a cell of a workbook's sheet, as a message names it.

    >>> place_of("jars.txt", 7), place_of("jars.xlsx", 7, "Jars", 2)
    ('jars.txt, line 7', 'jars.xlsx, Jars!C7')
    """
    return f"{file}, {Row(number, [], sheet).place(column)}"


@dataclass(frozen=True)
class Table:
    """A table: the file it is in, how to go through its rows, and the sheet it is on (empty for a file of lines)."""

    file: str
    rows: Callable[[], Iterator[Row]]
    sheet: str = ""
    delimiter: str = ""
    hidden: bool = False

    @cached_property
    def heading(self) -> Sequence[str]:
        """The first row that says anything; none in an empty table."""
        return next((row.cells for row in self.rows() if any(cell.strip() for cell in row.cells)), ())


def text_of(content: bytes, file: str) -> str:
    """The text of a file that should be text, as UTF-8. Raises :class:`~labelkit.errors.cli.FileUnreadable`."""
    if content.startswith(PACKED):
        raise FileUnreadable(file, "it is a workbook, or packed; a workbook's name ends in .xlsx")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileUnreadable(file, f"byte {error.start} is not UTF-8 text") from None


def csv_table(text: str, file: str) -> Table:
    """The table in a text of separated values; commas, semicolons or tabs, whichever its first line has most of.

    >>> [row.cells for row in csv_table("bucket;net\\nB1;27,3 kg\\n", "x.csv").rows()]
    [['bucket', 'net'], ['B1', '27,3 kg']]
    """
    text = text.removeprefix("\ufeff")
    if (lines := text.count("\n")) > MOST_LINES:
        raise FileColumnsUnclear(file, "what it may be", f"it has {lines:,} lines, and a season at most {MOST_LINES:,}")
    first = next((line for line in text.splitlines() if line.strip(" ;,\t")), "")
    delimiter = max(";\t,", key=first.count)
    delimiter = delimiter if delimiter in first else ","
    return Table(file, lambda: _rows(text, delimiter), delimiter=delimiter)


def _rows(text: str, delimiter: str) -> Iterator[Row]:
    """The rows with the line each begins on; a quoted cell may hold line ends, so rows are not lines."""
    reader = csv.reader(io.StringIO(text), delimiter=delimiter, skipinitialspace=True)
    begin = 1
    for row in reader:
        yield Row(begin, row)
        begin = reader.line_num + 1
