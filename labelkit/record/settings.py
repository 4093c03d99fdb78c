"""Settings of a season, kept as events like all else."""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from labelkit.errors.labels import KeptFileTooLarge
from labelkit.errors.sentence import Figure
from labelkit.lots.event import Event
from labelkit.measures.locales import show_number

# What the usual settings are about; any other is called by its own name.
SUBJECTS = {
    "label": "the labels say",
    "situation": "how you work",
    "maker": "the name on the jars",
    "market": "sold in",
    "units": "weights shown first",
    "scale": "jars filled on a scale of",
    "numbers": "numbers like",
    "language": "papers in",
    "looks": "looks of labels",
}
#: How a file among the values begins (RFC 2397).
FILE = "data:;base64,"
#: The record is copied and sealed whole; a logo, a font or a scanned paper in it stays small.
MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Setting(Event):
    """From now on this name has this value: texts, whole numbers, yes/no, and lists and tables of them."""

    kind: ClassVar[str] = "set"
    title: ClassVar[str] = "setting"
    day: date
    name: str
    value: Any

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.subject}: {self.in_words}"

    @property
    def subject(self) -> str:
        """What it is about, in words."""
        return SUBJECTS.get(self.name, self.name)

    @property
    def in_words(self) -> str:
        """The value as a person reads it."""
        return _flat(self.value)


def file_value(name: str, data: bytes) -> dict[str, str]:
    """A file as a setting holds it. Raises :class:`~labelkit.errors.labels.KeptFileTooLarge`.

    >>> file_of(file_value("bee.png", b"a bee"))
    ('bee.png', b'a bee')
    """
    if len(data) > MOST_BYTES:
        raise KeptFileTooLarge(name, Figure(show_number, len(data)), Figure(show_number, MOST_BYTES))
    return {"name": name, "file": FILE + b64encode(data).decode("ascii")}


def is_file(value: Any) -> bool:
    """Whether a value is a file."""
    return isinstance(value, dict) and str(value.get("file", "")).startswith(FILE)


def file_of(value: Mapping[str, str]) -> tuple[str, bytes]:
    """The name and the bytes of a file that was kept."""
    return value["name"], b64decode(value["file"].removeprefix(FILE))


def _flat(value: Any) -> str:
    """A setting's value in words.

    >>> _flat({"name": "Clover Honey", "lines": ["Raw"], "jars": {"pound": {"diameter": "3 in"}}, "cold": True})
    'Clover Honey, Raw, pound 3 in, cold yes'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return ", ".join(map(_flat, value))
    if isinstance(value, dict):
        return ", ".join(_flat(v) if isinstance(v, str | list) else _named(k, v) for k, v in value.items())
    return "(a file)" if isinstance(value, str) and value.startswith(FILE) else str(value)


def _named(name: str, value: Any) -> str:
    if isinstance(value, dict) and value and all(isinstance(each, dict) for each in value.values()):
        return ", ".join(f"{key} {_flat(each)}" for key, each in value.items())
    return f"{name.replace('_', ' ')} {_flat(value)}"
