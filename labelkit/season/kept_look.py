"""A look of one's own: design, colours, logo, font, artwork, sheets, printer and codes, kept in the record under a name."""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.labels import KeptFileTooLarge, LookUnknown
from labelkit.record.settings import FILE
from labelkit.season.label_paper import keep, kept

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

LOOKS = "looks"
#: The record is copied and sealed whole; a logo or a font in it stays small.
MOST_BYTES = 1_000_000


def keep_look(work: Work, name: str, look: Mapping[str, Any], day: date) -> int:
    """Keep a look under its name, in place of one that had it; the event's number.

    ``look`` holds texts, yes or no, tables of them, and files as a pair of name and bytes; what is empty is left out.
    Raises :class:`~labelkit.errors.labels.KeptFileTooLarge`.
    """
    return keep(work, LOOKS, name, {key: _kept(value) for key, value in look.items() if value}, day)


def look_named(state: Reading | None, name: str) -> dict[str, Any]:
    """A look as it was kept, its files as pairs of name and bytes. Raises :class:`~labelkit.errors.labels.LookUnknown`."""
    held = kept(state, LOOKS)
    if name not in held:
        raise LookUnknown(name, sorted(held))
    return {key: _read(value) for key, value in held[name].items()}


def _kept(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _kept(one) for key, one in value.items()}
    if isinstance(value, tuple):
        name, data = value
        if len(data) > MOST_BYTES:
            raise KeptFileTooLarge(name, len(data), MOST_BYTES)
        return {"name": name, "file": FILE + b64encode(data).decode("ascii")}
    return value


def _read(value: Any) -> Any:
    if isinstance(value, dict) and str(value.get("file", "")).startswith(FILE):
        return value["name"], b64decode(value["file"].removeprefix(FILE))
    if isinstance(value, dict):
        return {key: _read(one) for key, one in value.items()}
    return value
