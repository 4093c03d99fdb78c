"""Everything in the record as plain text: CSV any spreadsheet opens, TOML for what it is; and back again, hash for hash.

``events.csv`` is the record; from it alone the whole record is made again. The other tables are the same facts laid out
for reading.
"""

from __future__ import annotations

import csv
import json
import os
import tomllib
from collections.abc import Collection, Iterable, Iterator
from io import StringIO
from pathlib import Path
from typing import Any

from labelkit import __version__
from labelkit.errors.record import ImportRefused, RecordInTheWay
from labelkit.record import engine as adapter
from labelkit.record.chain import BEGINNING, digest, envelope, seal_of
from labelkit.record.leftovers import private_file, remove_unfinished, unfinished_name
from labelkit.record.location import check_writable, disk_errors, parse_location
from labelkit.record.people import OF_A_CUSTOMER, Kept, commitment, new_salt
from labelkit.record.progress import Progress, no_progress
from labelkit.record.record import Record
from labelkit.record.tables import COLUMNS, DERIVED, event
from labelkit.record.verify_people import people_faults
from labelkit.record.work import Stamped

sa = adapter.sa
FORM = 1  # of the export, written into about.toml
EVENTS = "events.csv"
ABOUT = "about.toml"
PEOPLE = "people.csv"  # may be left out: then numbers stand where names were
_EVENT = ("seq", "kind", "day", "recorded_at", "who", "key", "part", "body", "previous", "hash")
_TABLES = {
    "movement": "movements.csv",
    "link": "links.csv",
    "source": "sources.csv",
    "party": "parties.csv",
    "strike": "strikes.csv",
}
_PEOPLE = ("number", "text")  # the least; an early labelkit exported no more
_NO_KEY = "\\N"  # an empty key is not the same as none


def export(record: Record, *, people: bool = True) -> dict[str, str]:
    """The files of an export by name, all from one state of the record; without ``people`` only their numbers."""
    files: dict[str, str] = {}
    with record.reading() as state:
        connection = state.connection
        rows = connection.execute(sa.select(*(event.c[c] for c in _EVENT)).order_by(event.c.seq))
        files[EVENTS] = _csv(_EVENT, (_without_none(row) for row in rows))
        for name, table in DERIVED.items():
            columns = [table.c[c] for c in COLUMNS[name]]
            rows = connection.execute(sa.select(*columns).order_by(*columns))
            files[_TABLES[name]] = _csv(COLUMNS[name], rows)
        if people:
            files[PEOPLE] = _csv(Kept._fields, (_without_none(row) for row in state.people.all()))
        head = state.head()
        told = {name: value for name, value in state.settings().items() if not name.startswith(OF_A_CUSTOMER)}
        files[ABOUT] = _about(head.seq, head.hash, told)
    return files


def take_in(folder: Path, record: Record, progress: Progress = no_progress) -> int:
    """Replay an export into an empty record; the number of events. Nothing is kept unless every hash comes out equal.

    Raises :class:`~labelkit.errors.record.ImportRefused`.
    """
    try:
        about = tomllib.loads((folder / ABOUT).read_text(encoding="utf-8"))
        lines = (folder / EVENTS).read_bytes().decode("utf-8-sig")
        people = (folder / PEOPLE).read_bytes().decode("utf-8-sig") if (folder / PEOPLE).exists() else None
    except (OSError, ValueError) as unreadable:
        raise ImportRefused(str(folder), str(unreadable).rstrip(".")) from None
    if about.get("export_form") != FORM:
        raise ImportRefused(
            str(folder), f"it is an export of form {about.get('export_form')}, and this labelkit reads {FORM}"
        )
    total = about["events"] if isinstance(about.get("events"), int) else 0
    with record.replay() as work, progress("Taking in", total) as on_progress:
        for portion in _portions(_stamped(folder, lines)):
            work.replay(portion)
            on_progress(work.head_now.seq)
        if people is None:
            work.meet(work.given.left_out())
        else:
            kept = _people(folder, people)
            for _, wrong in people_faults(kept, work.given):
                raise ImportRefused(str(folder), f"in {PEOPLE}, {wrong}")
            work.meet(kept)
        if (work.head_now.seq, work.head_now.hash) != (about.get("events"), about.get("head")):
            raise ImportRefused(
                str(folder), f"it ends at event {work.head_now.seq}, and about.toml says {about.get('events')}"
            )
        work.commit()
    return work.head_now.seq


def import_whole(folder: Path, where: str, progress: Progress = no_progress) -> tuple[int, str]:
    """Make a new record from an export: whole, or nothing. The number of events and the head hash.

    A file is made under another name and put in place only once it is whole; on a server the one transaction does it.
    """
    from labelkit.record import open_record
    from labelkit.record.copies import copy_file

    location = parse_location(where)
    if location.path is None:
        with open_record(where, create=True) as record, record.reading() as empty:
            if empty.head().seq:
                raise RecordInTheWay(location.shown)
        with open_record(where) as record:
            take_in(folder, record, progress)
            with record.reading() as state:
                return state.head().seq, state.head().hash
    if location.path.exists():
        raise RecordInTheWay(str(location.path))
    check_writable(location.path)
    beside = unfinished_name(location.path, "import")
    with disk_errors(location.path):
        beside.mkdir(mode=0o700)
    try:
        making = beside / location.path.name
        with open_record(making, create=True) as record:
            take_in(folder, record, progress)
        head = copy_file(making, location.path, progress)
    finally:
        remove_unfinished(beside)
    return head.seq, head.hash


def _stamped(folder: Path, lines: str) -> Iterator[Stamped]:
    previous = BEGINNING
    reader = csv.DictReader(StringIO(lines, newline=""))
    if tuple(reader.fieldnames or ()) != _EVENT:
        raise ImportRefused(str(folder), f"the heading line of {EVENTS} is not {','.join(_EVENT)}")
    csv.field_size_limit(2**31 - 1)
    for seq, row in enumerate(reader, start=1):
        if None in row.values() or None in row or not (row["seq"].isdigit() and row["part"].isdigit()):
            raise ImportRefused(str(folder), f"line {reader.line_num} of {EVENTS} is not whole")
        key = None if row["key"] == _NO_KEY else row["key"]
        stamped = Stamped(
            int(row["seq"]),
            row["kind"],
            row["day"],
            row["recorded_at"],
            row["who"],
            key,
            int(row["part"]),
            row["body"],
            row["previous"],
            row["hash"],
        )
        text = envelope(
            seq, stamped.kind, stamped.day, stamped.recorded_at, stamped.who, key, stamped.part, stamped.body
        )
        if (stamped.seq, stamped.previous) != (seq, previous) or digest(previous, text) != stamped.hash:
            raise ImportRefused(str(folder), f"event {seq} in {EVENTS} is not as it was exported")
        previous = stamped.hash
        yield stamped


def _people(folder: Path, lines: str) -> list[Kept]:
    heading, *rows = list(csv.reader(StringIO(lines, newline=""))) or [[]]
    if not set(_PEOPLE) <= set(heading) <= set(Kept._fields):
        raise ImportRefused(str(folder), f"the heading line of {PEOPLE} is not {','.join(Kept._fields)}")
    if not all(len(row) == len(heading) and row[0].isdigit() for row in rows):
        raise ImportRefused(str(folder), f"{PEOPLE} is not a list of numbers and texts")
    return [_kept(dict(zip(heading, row, strict=True))) for row in rows]


def forget_in_export(folder: Path, commitments: Collection[str], texts: Collection[str]) -> int:
    """Take people out of an export that lies in a folder; how many. Nothing where it was made without people."""
    file = folder / PEOPLE
    if not file.exists():
        return 0
    kept = _people(folder, file.read_bytes().decode("utf-8-sig"))
    gone = {
        each.number for each in kept if each.text is not None and (each.commitment in commitments or each.text in texts)
    }
    if gone:
        left = [
            Kept(each.number, None, None, each.commitment, "forgotten after this export")
            if each.number in gone
            else each
            for each in kept
        ]
        making = unfinished_name(file, "part")
        try:
            private_file(making)
            making.write_text(_csv(Kept._fields, map(_without_none, left)), encoding="utf-8", newline="")
            os.replace(making, file)
        finally:
            remove_unfinished(making)
    return len(gone)


def _kept(row: dict[str, str]) -> Kept:
    """A row of the list; exports of an early labelkit hold no salts, so such a name gets one now."""
    values = {name: None if value == _NO_KEY else value for name, value in row.items()}
    number, text = int(row["number"]), values["text"]
    if "commitment" in values:
        return Kept(number, text, values["salt"], values["commitment"], values["gone"] or "")
    salt = None if text is None else new_salt()
    return Kept(number, text, salt, salt and commitment(salt, text or ""), "from an early export")


def _portions(stamped: Iterable[Stamped], size: int = 2000) -> Iterator[list[Stamped]]:
    portion: list[Stamped] = []
    for each in stamped:
        # A correction looks its event up in the record, so all before it must be there.
        if portion and (len(portion) == size or each.kind == "correct"):
            yield portion
            portion = []
        portion.append(each)
    if portion:
        yield portion


def _without_none(row: Any) -> list:
    return [_NO_KEY if value is None else value for value in row]


def _csv(heading: Iterable[str], rows: Iterable[Iterable[Any]]) -> str:
    out = StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heading)
    writer.writerows(rows)
    return out.getvalue()


def _about(events: int, head: str, settings: dict[str, Any]) -> str:
    # A JSON text is a TOML basic string as it stands, and both have whole numbers alike.
    lines = [
        "# An export of a labelkit record. events.csv holds everything; the other tables lay it out for reading.",
        f"export_form = {FORM}",
        f"labelkit = {json.dumps(__version__)}",
        f"events = {events}",
        f"head = {json.dumps(head)}",
        f"seal = {json.dumps(str(seal_of(events, head)))}",
        "",
        "[settings]  # as they were last set, each as JSON",
        *(f"{json.dumps(name)} = {json.dumps(json.dumps(value))}" for name, value in sorted(settings.items())),
    ]
    return "\n".join(lines) + "\n"
