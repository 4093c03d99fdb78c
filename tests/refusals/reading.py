"""Refusals about workbooks, each with its text."""

from labelkit.errors.reading import CellUnreadable, SheetNotChosen, WorkbookUnreadable
from labelkit.reading.open_table import table_in


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (
        WorkbookUnreadable,
        lambda: table_in(b"bucket,net\n", "x.xlsx", "en_US", "", bool),
        "x.xlsx cannot be read as a workbook: it is no workbook",
    ),
    (CellUnreadable, say(CellUnreadable("x.xlsx", "Weigh-in!C7", "the cell shows the error #REF!")), "Weigh-in!C7"),
    (SheetNotChosen, say(SheetNotChosen("x.xlsx", "May", ["June"])), "no sheet called “May”; it has “June”"),
    (SheetNotChosen, lambda: table_in(b"bucket,net\n", "x.csv", "en_US", "May", bool), "no sheet with anything in it"),
]
