"""Tables out, as workbooks (.xlsx) or CSV: the only module that enters XlsxWriter.

Text is written as text, so no name is ever run as a formula; the only formulas are the totals made here, each with its
value, which readers that work nothing out (a telephone, openpyxl) show.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from labelkit.measures.columns import MOST_IN_A_CELL, harmless, letters
from labelkit.measures.rounding import plain

# What XML 1.0 has no place for (section 2.2, Char), and halves of characters.
_NO_CHARACTER = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
NARROWEST, WIDEST = 8, 60  # of a column, in characters
MEASURED = 500  # rows a column's width is taken from
TEXT, COUNT, FIGURE, MONEY, DAY = "text", "count", "figure", "money", "day"
_FORMS = {COUNT: "#,##0", FIGURE: "#,##0.000###", MONEY: "#,##0.00", DAY: "yyyy-mm-dd"}

Value = str | int | Decimal | date | None


@dataclass(frozen=True, slots=True)
class Column:
    """A column by its heading, what its cells are, and whether its total stands under it; ``digits`` of its money."""

    heading: str
    kind: str = TEXT
    total: bool = False
    digits: int = 2

    @property
    def form(self) -> str:
        """The number format of its cells."""
        if self.kind == MONEY and self.digits != 2:
            return "#,##0" + ("." + "0" * self.digits if self.digits else "")
        return _FORMS.get(self.kind, "@")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its columns and its rows."""

    name: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Value]]


def workbook(sheets: Iterable[Sheet], made: datetime) -> bytes:
    """The sheets as one workbook: heads frozen, columns as wide as what they hold, totals as formulas with their value."""
    from xlsxwriter import Workbook

    out = io.BytesIO()
    book = Workbook(out, {"in_memory": True})
    book.set_properties({"author": "labelkit", "created": made.replace(tzinfo=None)})
    forms = _Forms(book)
    for sheet in sheets:
        _write(book.add_worksheet(sheet.name), sheet, forms)
    book.close()
    return out.getvalue()


def table_file(sheet: Sheet, name: str, made: datetime) -> bytes:
    """One sheet as the file of this name: a workbook where it ends in .xlsx, otherwise CSV (RFC 4180) without totals.

    >>> table_file(Sheet("s", [Column("who"), Column("g", FIGURE)], [("=A1", Decimal("1.50"))]), "x.csv", datetime.min)
    b"who,g\\r\\n'=A1,1.5\\r\\n"
    """
    if name.casefold().endswith(".xlsx"):
        return workbook([sheet], made)
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(column.heading for column in sheet.columns)
    rows.writerows(map(_as_text, row, sheet.columns) for row in sheet.rows)
    return out.getvalue().encode("utf-8")


def _as_text(value: Value, column: Column) -> str:
    if isinstance(value, str):
        return harmless(value)
    if isinstance(value, Decimal):
        return f"{value:.{column.digits}f}" if column.kind == MONEY else plain(value)
    return "" if value is None else str(value)


class _Forms:
    """The formats of a workbook, each made once."""

    def __init__(self, book: Any) -> None:
        self._book, self._made = book, dict[tuple[str, bool], Any]()

    def of(self, form: str, bold: bool = False) -> Any:
        if (form, bold) not in self._made:
            self._made[form, bold] = self._book.add_format({"num_format": form, "bold": bold})
        return self._made[form, bold]


def _write(to: Any, sheet: Sheet, forms: _Forms) -> None:
    to.freeze_panes(1, 0)
    last = len(sheet.rows)
    if last:
        to.autofilter(0, 0, last, len(sheet.columns) - 1)
    for at, column in enumerate(sheet.columns):
        values = [row[at] for row in sheet.rows]
        to.set_column(at, at, _width(column, values[:MEASURED]))
        _cell(to, 0, at, column.heading, forms.of("@", bold=True))
        for n, value in enumerate(values, 1):
            _cell(to, n, at, value, forms.of(column.form))
        if column.total and last:
            name = letters(at)
            whole = sum((value for value in values if isinstance(value, int | Decimal)), Decimal(0))
            to.write_formula(last + 1, at, f"=SUM({name}2:{name}{last + 1})", forms.of(column.form, bold=True), whole)
    if last and any(column.total for column in sheet.columns):
        _cell(to, last + 1, 0, "Total", forms.of("@", bold=True))


def _cell(to: Any, row: int, at: int, value: Value, form: Any) -> None:
    if value is None:
        return
    if isinstance(value, str):
        to.write_string(row, at, _NO_CHARACTER.sub("\ufffd", value)[:MOST_IN_A_CELL], form)
    elif isinstance(value, date):
        to.write_datetime(row, at, value, form)
    else:
        to.write_number(row, at, value, form)


def _width(column: Column, values: Sequence[Value]) -> int:
    longest = max((len(str(value)) for value in (column.heading, *values) if value is not None), default=0)
    return min(max(longest + 2, NARROWEST), WIDEST)
