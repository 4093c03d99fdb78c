"""The classes of a show schedule, out of a table as people keep it: one row for each class."""

from __future__ import annotations

from collections.abc import Sequence

from labelkit.errors import Refused
from labelkit.errors.reading import ScheduleUnclear
from labelkit.measures import Length
from labelkit.measures.numerals import read_count, read_percent
from labelkit.reading.tables import Table
from labelkit.sale.honey_show import ShowClass

COLUMNS = ("class", "name", "jar", "jars", "moisture", "label")
NEEDED = ("class", "jar")


def names_classes(heading: Sequence[str]) -> bool:
    """Whether a heading is that of a schedule.

    >>> names_classes(["Class", "Name", "Jar"]), names_classes(["bucket", "net"])
    (True, False)
    """
    return {*NEEDED} <= {cell.strip().casefold() for cell in heading}


def read_schedule(table: Table, locale: str) -> tuple[ShowClass, ...]:
    """The classes of a table with the columns ``class``, ``jar``, and as far as the schedule says name, jars, moisture, label.

    Raises :class:`~labelkit.errors.reading.ScheduleUnclear`.

    >>> from labelkit.reading.tables import csv_table
    >>> text = "class;name;jar;jars;moisture;label\\n7;Light honey;one pound;2;18,0;12 mm\\n8;;one pound;;;\\n"
    >>> [(one.number, one.moisture_at_most, one.label_above) for one in read_schedule(csv_table(text, "x.csv"), "de_DE")]
    [('7', Decimal('18.0'), Length(um=12000)), ('8', None, None)]
    """
    columns = {cell.strip().casefold(): at for at, cell in enumerate(table.heading) if cell.strip()}
    if not names_classes(table.heading) or not columns.keys() <= {*COLUMNS}:
        raise ScheduleUnclear(table.file, "heading", f"the columns are {', '.join(columns) or 'missing'}", COLUMNS)
    found: dict[str, ShowClass] = {}
    for row in table.rows():
        cells = {name: row.cells[at].strip() if at < len(row.cells) else "" for name, at in columns.items()}
        if not any(cells.values()) or row.cells == table.heading:
            continue
        try:
            read = _class(cells, locale)
        except Refused as refusal:
            raise ScheduleUnclear(table.file, row.place(), refusal.what.rstrip("."), COLUMNS) from refusal
        missing = [name for name in NEEDED if not cells[name]]
        if missing or read.number in found:
            reason = f"there is no {missing[0]} in it" if missing else f"class {read.number} stands twice in the file"
            raise ScheduleUnclear(table.file, row.place(), reason, COLUMNS)
        found[read.number] = read
    return tuple(found.values())


def _class(cells: dict[str, str], locale: str) -> ShowClass:
    def said(name: str) -> str:
        return cells.get(name, "")

    return ShowClass(
        said("class"),
        said("name"),
        said("jar"),
        read_count(said("jars"), locale, least=1) if said("jars") else None,
        read_percent(said("moisture"), locale) if said("moisture") else None,
        Length.read(said("label"), locale) if said("label") else None,
    )
