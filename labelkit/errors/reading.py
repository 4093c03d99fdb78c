"""Refusals about workbooks."""

from __future__ import annotations

from collections.abc import Sequence

from labelkit.errors import Refused


class WorkbookUnreadable(Refused):
    """A workbook that is locked, holds macros, is damaged, too large, or of another kind than its name says."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=f"{file} cannot be read as a workbook: {reason}.",
            why="labelkit reads only what it can read whole and safely. Nothing was saved.",
            do="Open it in your spreadsheet program, save it as a plain workbook (.xlsx) or as CSV, and try again.",
        )


class CellUnreadable(Refused):
    """A cell of a workbook that holds an error, a formula without a value, or more than a cell can."""

    def __init__(self, file: str, place: str, reason: str) -> None:
        super().__init__(
            what=f"{file}, {place}: {reason}.",
            why="A figure that is missing there could be a weight. Nothing was saved.",
            do="Correct that cell in your spreadsheet program, save the workbook, and try again.",
        )


class SheetNotChosen(Refused):
    """A workbook in which no sheet, or more than one, is the table that was asked for."""

    def __init__(self, file: str, wanted: str, sheets: Sequence[str]) -> None:
        named = ", ".join(f"“{name}”" for name in sheets) or "no sheet with anything in it"
        what = f"has no sheet called “{wanted}”" if wanted else "has no single sheet that is clearly the table"
        super().__init__(
            what=f"{file} {what}; it has {named}.",
            why="The wrong sheet could book last year's figures. Nothing was saved.",
            do=f'Say which sheet (--sheet "{sheets[0]}"), or leave only that sheet in the file.'
            if sheets
            else "Choose a workbook (.xlsx) with the table on one of its sheets.",
        )


class ScheduleUnclear(Refused):
    """A table of a show's classes whose columns, or one of whose rows, cannot be understood."""

    field = "schedule"

    def __init__(self, file: str, place: str, reason: str, columns: Sequence[str]) -> None:
        super().__init__(
            what=f"{file}, {place}: {reason}.",
            why="A limit that is read wrong puts a jar into a class it is turned away from.",
            do=f"Correct the table: one row for each class, columns {', '.join(columns)}. Leave empty what the schedule does not say.",
        )
