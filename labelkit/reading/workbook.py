"""Workbooks (.xlsx) in: the only module that reads them with openpyxl.

A workbook is a packed folder of XML. Before openpyxl opens one, its parts are counted in a stream, so that a small file
which unpacks to something huge is refused in bounded time and memory, and so is everything no spreadsheet program
writes. openpyxl names no errors for damage, so whatever it raises means: damaged.
"""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from itertools import count
from typing import TYPE_CHECKING, Any

from labelkit.errors import LabelkitError
from labelkit.errors.reading import CellUnreadable, WorkbookUnreadable
from labelkit.measures.columns import MOST_IN_A_CELL
from labelkit.measures.locales import decimal_marks
from labelkit.measures.rounding import plain
from labelkit.reading.tables import COMPOUND, PACKED, Row, Table

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

MOST_ROWS = 100_000
MOST_COLUMNS = 64
MOST_PACKED = 25_000_000  # bytes of the file
MOST_UNPACKED = 100_000_000  # bytes of all its parts
MOST_TAGS = 6_000_000  # marks of its XML, some four a cell
MOST_TAGS_BESIDE = 400_000  # in a part that is neither a sheet nor its texts
MOST_TAGS_IN_A_ROW = 100_000
_BLOCK = 1 << 20
_ROW_ENDS = re.compile(rb"</(?:\w+:)?row>")
_LOCKED = "EncryptedPackage".encode("utf-16-le")


def sheets_of(content: bytes, file: str, locale: str) -> list[Table]:
    """The sheets of a workbook as tables; numbers and days of its cells are written as in ``locale``.

    Raises :class:`~labelkit.errors.reading.WorkbookUnreadable` and, while rows are read,
    :class:`~labelkit.errors.reading.CellUnreadable`.
    """
    _check_kind(content, file)
    with _damage(file):
        _check_parts(content, file)
        values, formulas = _opened(content, data_only=True), cache(lambda: _opened(content, data_only=False))
        return [_table(sheet, formulas, file, locale) for sheet in values.worksheets]


def _check_kind(content: bytes, file: str) -> None:
    if content.startswith(COMPOUND):
        locked = _LOCKED in content
        raise WorkbookUnreadable(file, "it is protected by a password" if locked else "it is of an old kind (.xls)")
    if not content.startswith(PACKED):
        raise WorkbookUnreadable(file, "it is no workbook, whatever its name says")
    if len(content) > MOST_PACKED:
        raise WorkbookUnreadable(file, f"it has {len(content):,} bytes; the most is {MOST_PACKED:,}")


def _check_parts(content: bytes, file: str) -> None:
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        parts = packed.infolist()
        names = {part.filename.casefold() for part in parts}
        if any(name.endswith("vbaproject.bin") for name in names):
            raise WorkbookUnreadable(file, "it holds macros, which are programs")
        if "mimetype" in names:
            raise WorkbookUnreadable(file, "it is a workbook of another kind (.ods)")
        if any(part.flag_bits & 1 for part in parts):
            raise WorkbookUnreadable(file, "it is protected by a password")
        size = sum(part.file_size for part in parts)
        if size > MOST_UNPACKED or len(parts) > 10_000:
            raise WorkbookUnreadable(file, f"unpacked it has {size:,} bytes; the most is {MOST_UNPACKED:,}")
        tags = 0
        for part in parts:
            tags += _tags_of(packed, part, file)
            if tags > MOST_TAGS:
                raise WorkbookUnreadable(file, f"it has too many cells; the most is {MOST_ROWS:,} rows")


def _tags_of(packed: zipfile.ZipFile, part: zipfile.ZipInfo, file: str) -> int:
    """How many marks a part has, counted while it is unpacked; pictures have none that matter.

    A declaration (``<!``) can make XML unpack to anything, and hide where rows end; no spreadsheet program writes one.
    """
    total = in_row = 0
    with packed.open(part) as stream:
        before = b""
        for block in iter(lambda: stream.read(_BLOCK), b""):
            if not before and not block.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
                if b"<" in block[:4] or block.startswith((b"\xff\xfe", b"\xfe\xff")):
                    raise WorkbookUnreadable(file, f"its part {part.filename} is in another encoding than UTF-8")
                return 0  # no XML: a picture
            seen = before[-32:] + block
            if b"<!" in seen or b"\x00" in block:
                raise WorkbookUnreadable(file, f"its part {part.filename} holds what no spreadsheet program writes")
            ends = [end.end() for end in _ROW_ENDS.finditer(seen)]
            tags = block.count(b"<")
            total += tags
            in_row = seen.count(b"<", ends[-1]) if ends else in_row + tags
            beside = not part.filename.casefold().startswith(("xl/worksheets/", "xl/sharedstrings"))
            texts = part.filename.casefold().startswith("xl/sharedstrings")
            if total > MOST_TAGS or (beside and total > MOST_TAGS_BESIDE):
                raise WorkbookUnreadable(file, f"its part {part.filename} is too large")
            if not texts and not beside and in_row > MOST_TAGS_IN_A_ROW:
                raise WorkbookUnreadable(file, f"a row of {part.filename} has too many cells")
            before = block
    return total


@contextmanager
def _damage(file: str) -> Iterator[None]:
    """Whatever goes wrong inside means a damaged workbook; openpyxl's warnings are about looks and are not shown."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except LabelkitError:
        raise
    except Exception as trouble:
        raise WorkbookUnreadable(file, f"it is damaged ({type(trouble).__name__})") from trouble


def _opened(content: bytes, *, data_only: bool) -> Any:
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(content), read_only=True, data_only=data_only, keep_links=False)


def _table(sheet: Worksheet, formulas: Callable[[], Any], file: str, locale: str) -> Table:
    sheet.reset_dimensions()  # what it says of its own size may be wrong
    mark = decimal_marks(locale)[0]

    def rows() -> Iterator[Row]:
        unworked: set[tuple[int, int]] | None = None
        with _damage(file):
            for number, cells in zip(count(1), sheet.iter_rows(max_col=MOST_COLUMNS), strict=False):
                if number > MOST_ROWS:
                    raise WorkbookUnreadable(file, f"sheet {sheet.title} has more than {MOST_ROWS:,} rows")
                if unworked is None and any(cell.value is None and hasattr(cell, "row") for cell in cells):
                    unworked = _formulas_of(formulas()[sheet.title])
                row = Row(number, [], sheet.title)
                for at, cell in enumerate(cells):
                    try:
                        row.cells.append(_text(cell, unworked or (), mark))
                    except _Odd as odd:
                        raise CellUnreadable(file, row.place(at), str(odd)) from None
                yield row

    return Table(file, rows, sheet.title, hidden=sheet.sheet_state != "visible")


def _formulas_of(sheet: Worksheet) -> set[tuple[int, int]]:
    sheet.reset_dimensions()
    return {
        (cell.row, cell.column)
        for row in sheet.iter_rows(max_col=MOST_COLUMNS, max_row=MOST_ROWS)
        for cell in row
        if cell.data_type == "f"
    }


class _Odd(Exception):
    """What is wrong with a cell."""


def _text(cell: Any, unworked: Collection[tuple[int, int]], mark: str) -> str:
    """What a cell holds, as somebody would type it whose decimal mark is ``mark``."""
    value = cell.value
    if value is None:
        if unworked and (getattr(cell, "row", 0), getattr(cell, "column", 0)) in unworked:
            raise _Odd("the formula has no value; the program that wrote it did not work it out")
        return ""
    if cell.data_type == "e":
        raise _Odd(f"the cell shows the error {value}")
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        return _number(value, cell.number_format or "", mark)
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time | timedelta):
        raise _Odd(f"the cell holds a time of day or a span ({value}), not a figure or a date")
    if len(value) > MOST_IN_A_CELL:
        raise _Odd(f"the text has {len(value):,} characters; the most is {MOST_IN_A_CELL:,}")
    return str(value)


def _number(value: int | float, form: str, mark: str) -> str:
    """A number with the fifteen digits spreadsheet programs work with; a share shown in percent is read in percent."""
    exact = Decimal(value) if isinstance(value, int) else Decimal(format(value, ".15g"))
    if not exact.is_finite() or abs(exact) >= 10**15:
        raise _Odd(f"{value} is not a figure of a season")
    percent = "%" in form
    return plain(exact * 100 if percent else exact).replace(".", mark) + (" %" if percent else "")
