"""Refusals about workbooks, each with its text."""

from labelkit.errors.reading import CardsUnreadable, CellUnreadable, ScheduleUnclear, SheetNotChosen, WorkbookUnreadable
from labelkit.reading.cards import read_cards
from labelkit.reading.open_table import table_in
from labelkit.reading.schedule import read_schedule
from labelkit.reading.tables import csv_table


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (CardsUnreadable, lambda: read_cards(b"", "x.vcf", ("en",)), "it holds no address card"),
    (
        WorkbookUnreadable,
        lambda: table_in(b"bucket,net\n", "x.xlsx", "en_US", "", bool),
        "labelkit cannot read x.xlsx as a workbook:",
    ),
    (CellUnreadable, say(CellUnreadable("x.xlsx", "Weigh-in!C7", "the cell shows the error #REF!")), "Weigh-in!C7"),
    (
        ScheduleUnclear,
        lambda: read_schedule(csv_table("class;jar;size\n1;pound;2\n", "x.csv"), "en_US"),
        "x.csv, heading: the columns are class, jar, size",
    ),
    (SheetNotChosen, say(SheetNotChosen("x.xlsx", "May", ["June"])), "x.xlsx has no sheet “May”."),
    (SheetNotChosen, lambda: table_in(b"bucket,net\n", "x.csv", "en_US", "May", bool), "no sheet with data."),
]
