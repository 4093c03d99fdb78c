"""Refusals about workbooks."""

from __future__ import annotations

from collections.abc import Sequence

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class WorkbookUnreadable(Refused):
    """A workbook that is locked, holds macros, is damaged, too large, or of another kind than its name says."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot read {file} as a workbook: {reason}.", file=file, reason=reason),
            why="labelkit reads a workbook only if it can read all of it safely. Nothing was saved.",
            do="Open it in your spreadsheet program, save it as a plain workbook (.xlsx) or as CSV, and try again.",
        )


class CellUnreadable(Refused):
    """A cell of a workbook that holds an error, a formula without a value, or more than a cell can."""

    def __init__(self, file: str, place: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{file}, {place}: {reason}.", file=file, place=place, reason=reason),
            why="The missing value could be a weight. Nothing was saved.",
            do="Correct that cell in your spreadsheet program, save the workbook, and try again.",
        )


class CardsUnreadable(Refused):
    """A file of address cards that is damaged, too large or without a name."""

    field = "file"

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{file} cannot be read as address cards: {reason}.", file=file, reason=reason),
            why="A recall calls these numbers. Nothing was saved.",
            do="Export the contacts again as vCard (.vcf, UTF-8), or note them one by one.",
        )


class SheetNotChosen(Refused):
    """A workbook in which no sheet, or more than one, is the table that was asked for."""

    def __init__(self, file: str, wanted: str, sheets: Sequence[str]) -> None:
        named = ", ".join(f"“{name}”" for name in sheets) or Sentence("no sheet with data")
        super().__init__(
            what=Sentence("{file} has no sheet “{wanted}”. It has: {named}.", file=file, wanted=wanted, named=named)
            if wanted
            else Sentence(
                "{file} has no single sheet that is clearly the table. It has: {named}.", file=file, named=named
            ),
            why="The wrong sheet could bring in last year's figures. Nothing was saved.",
            do=Sentence('Name the sheet (--sheet "{sheet}"), or leave only that sheet in the file.', sheet=sheets[0])
            if sheets
            else "Choose a workbook (.xlsx) with the table on one of its sheets.",
        )


class ScheduleUnclear(Refused):
    """A table of a show's classes whose columns, or one of whose rows, cannot be understood."""

    field = "schedule"

    def __init__(self, file: str, place: str, reason: str, columns: Sequence[str]) -> None:
        super().__init__(
            what=Sentence("{file}, {place}: {reason}.", file=file, place=place, reason=reason),
            why="A wrong limit enters a jar in a class that will reject it.",
            do=Sentence(
                "Correct the table: one row for each class, columns {columns}. Leave empty what the schedule does not say.",
                columns=", ".join(columns),
            ),
        )
