"""Forgetting all the way: out of the file and its log, out of the copies and exports labelkit made, and what remains.

What a program can reach ends at the files: blocks a disk has not used again, copies somebody moved, printed papers, and
a server's own logs and backups are beyond it, and are said.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from labelkit.errors import LabelkitError
from labelkit.record import engine as adapter
from labelkit.record.codec import canonical
from labelkit.record.copies import beside, earlier_copies
from labelkit.record.export import forget_in_export
from labelkit.record.leftovers import leftovers, sweep
from labelkit.record.location import disk_errors
from labelkit.record.record import Record
from labelkit.record.tables import elsewhere, event, person

sa = adapter.sa


@dataclass(frozen=True, slots=True)
class Cleared:
    """Where people were taken out, where they still stand and why, and the events that hold them for good."""

    cleaned: tuple[str, ...]
    remains: tuple[str, ...]
    events: tuple[int, ...]


def clear_everywhere(record: Record, texts: Collection[str]) -> Cleared:
    """Take out what was forgotten wherever labelkit put it; ``texts`` is what was forgotten just now."""
    with record.reading() as state:
        gone = sa.select(person.c.commitment).where(person.c.text.is_(None), person.c.commitment.is_not(None))
        commitments = frozenset(state.connection.execute(gone).scalars())
        places = state.connection.execute(
            sa.select(elsewhere.c.what, elsewhere.c.path).order_by(elsewhere.c.path)
        ).all()
        events = tuple(sorted({seq for text in texts for seq in _events_with(state.connection, text)}))
    cleaned: list[str] = []
    remains: list[str] = []
    _clear_record(record, cleaned, remains)
    found = _Places(record.path, [(what, Path(path)) for what, path in places])
    for file in found.copies:
        _clear(file, partial(_in_copy, file, commitments, texts), cleaned, remains)
    for folder in found.exports:
        _clear(folder, partial(forget_in_export, folder, commitments, texts), cleaned, remains)
    remains += [f"{file}: a workbook; delete it, or write it again" for file in found.workbooks]
    remains += [
        f"{folder}: not there now; what lies in it is cleared when it is back and somebody is forgotten again"
        for folder in found.missing
    ]
    swept = [*record.swept, *(each for folder in found.folders for each in sweep(folder))]
    cleaned += [f"{each} (left by a command that was stopped)" for each in swept]
    for folder in found.folders:
        remains += [f"{each}: left by a command that was stopped, and cannot be removed" for each in leftovers(folder)]
    return Cleared(tuple(cleaned), tuple(remains), events)


# How the record remembers a workbook in which people were named.
WORKBOOK = "workbook"
# How it remembers the folders of copies and exports.
COPIES, EXPORT = FOLDERS = ("copies", "export")


class _Places:
    """The files and folders labelkit knows of: beside the record, and wherever it was told to put something."""

    def __init__(self, path: Path | None, told: list[tuple[str, Path]]) -> None:
        self.workbooks = [file for what, file in told if what == WORKBOOK and file.is_file()]
        told = [(what, folder) for what, folder in told if what in FOLDERS]
        self.missing = [folder for _, folder in told if not folder.is_dir()]
        self.exports = [folder for what, folder in told if what == EXPORT and folder.is_dir()]
        self.folders = [folder for _, folder in told if folder.is_dir()]
        self.copies: list[Path] = []
        if path is not None:
            self.folders = sorted({path.absolute().parent, *self.folders})
            with disk_errors(path):
                self.copies = [
                    *beside(path),
                    *(copy for folder in self.folders for copy in earlier_copies(path, folder)),
                ]


def _clear_record(record: Record, cleaned: list[str], remains: list[str]) -> None:
    try:
        whole = record.compact()
    except LabelkitError as refused:
        remains.append(f"{record.where}: {refused.what}")
        return
    if record.path is None:
        cleaned += [record.where] if whole else []
        remains += [] if whole else [f"{record.where}: until its owner runs VACUUM FULL person"]
        remains.append(
            f"{record.where}: the server's own write-ahead log, backups and replicas, until it recycles them"
        )
    else:
        cleaned.append(record.where)
        if not whole:
            remains.append(f"{record.where}-wal: until the last station that has the record open closes it")


def _clear(place: Path, clear: Callable[[], int], cleaned: list[str], remains: list[str]) -> None:
    try:
        with disk_errors(place), adapter.database_errors(str(place)):
            if clear():
                cleaned.append(str(place))
    except (LabelkitError, OSError, ValueError) as refused:
        remains.append(f"{place}: {refused.what if isinstance(refused, LabelkitError) else refused}")


def _in_copy(file: Path, commitments: Collection[str], texts: Collection[str]) -> int:
    taken = adapter.forget_in_copy(file, commitments, texts)
    if taken:
        adapter.compact(file)
    return taken


def _events_with(connection: sa.Connection, text: str) -> list[int]:
    """Events that say a text in their own words, in their key or as who booked them: the chain holds these for good."""
    said = canonical(text)[1:-1]
    columns = ((event.c.body, said), (event.c.who, text), (event.c.key, text))
    anywhere = sa.or_(*(column.contains(words, autoescape=True) for column, words in columns))
    rows = connection.execute(sa.select(event.c.seq, event.c.body, event.c.who, event.c.key).where(anywhere))
    # As words of their own: a town named Ort is not meant by “filled short”.
    whole = re.compile(rf"(?<!\w){re.escape(text)}(?!\w)", re.IGNORECASE)
    return [
        seq for seq, body, *more in rows if any(whole.search(each or "") for each in (*_texts(json.loads(body)), *more))
    ]


def _texts(value: Any) -> Iterator[str]:
    """Every text of an event as it was written down, the names of its fields too."""
    if isinstance(value, dict):
        yield from value
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from _texts(each)
    elif isinstance(value, str):
        yield value
