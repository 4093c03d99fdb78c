"""The book of the season: append-only events behind a unit of work.

``open_book`` is the one way in. The database engine is loaded only when it is called.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.record.book import Book

__all__ = ["open_book"]


def open_book(where: str | Path, *, create: bool = False, to_read: bool = False) -> Book:
    """Open the record at a file name or a ``postgresql://`` address.

    ``create`` makes a new one where there is none; ``to_read`` also opens a record that cannot be written (a copy on
    a read-only disk). A record of an earlier labelkit is brought up to date, after a verified copy of it was made.
    Raises a :class:`~labelkit.errors.RecordRefused` that says what is wrong, and then has changed nothing.
    """
    from labelkit.record.opening import open_place

    return open_place(where, create=create, to_read=to_read)
