"""The record of the season: append-only events behind a unit of work.

``open_record`` is the one way in. The database engine is loaded only when it is called.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.record.record import Record

__all__ = ["open_record"]


def open_record(where: str | Path, *, create: bool = False, to_read: bool = False) -> Record:
    """Open the record at a file name or a ``postgresql://`` address.

    ``create`` makes a new one where there is none; ``to_read`` also opens a record that cannot be written (a copy on
    a read-only disk). A record of an earlier labelkit is brought up to date, after a verified copy of it was made.
    Raises a :class:`~labelkit.errors.RecordRefused` that says what is wrong, and then has changed nothing.
    """
    from labelkit.record.opening import open_location

    return open_location(where, create=create, to_read=to_read)
